using System.CommandLine;
using System.CommandLine.Parsing;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Stick;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>stick</c>: what to build for the ballast tube.</summary>
internal static class StickCommand
{
    private const string UsualName = "stick.html", UsualDrawing = "stick.svg";

    public static void Fill(Command command, Terminal terminal)
    {
        Option<double?> ballast = QuantityOptions.Single(AskedText.StickBallast, "G", "The mass to build, such as 45 (grams) or 1.5oz.");
        ballast.Required = true;
        Option<double?> forward = QuantityOptions.Single(AskedText.CgForward, "D",
            "By how much the centre of gravity is to move forward, such as 0.7mm or 0.03in; left out, it stays where it is.");
        Option<Material[]> materials = new("--material")
        {
            HelpName = "M",
            Description = "Only this: lead, brass, steel, tungsten, \"tungsten alloy 17.5\", or one of your own with its density, \"NAME=9.8g/cm3\" (or a range, 9.6..9.9g/cm3). May be given more than once.",
            AllowMultipleArgumentsPerToken = false,
            CustomParser = Asked,
        };
        Option<double?> diameter = QuantityOptions.Single(AskedText.Diameter, "D", "Of the rod that you have, such as 8mm.");
        Option<(double, double)?> speed = QuantityOptions.Range(AskedText.ThrowSpeed, "V",
            "Speed at which a discus launch is let go, such as 30m/s or 25..35m/s (which is taken if not given).");
        Option<(double, double)?> radius = QuantityOptions.Range(AskedText.ThrowRadius, "R",
            "From your own axis to the fuselage then, such as 1.45m; half the span and an arm if not given.");
        Option<string?> page = new("--out") { HelpName = "FILE.html", Description = "Writes a page to print at full size; only such a page is ever replaced." };
        Option<string?> picture = new("--svg") { HelpName = "FILE.svg", Description = "Writes the drawing of the best stick alone, at full size; only such a drawing is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        SeasonOptions season = new(command);
        command.Add(ballast);
        command.Add(forward);
        command.Add(materials);
        command.Add(diameter);
        command.Add(speed);
        command.Add(radius);
        command.Add(page);
        command.Add(picture);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
        {
            string? sheet = parsed.GetValue(page), drawing = parsed.GetValue(picture);
            StickAsked asked = new()
            {
                BallastG = parsed.GetValue(ballast)!.Value,
                CgForwardMm = (parsed.GetValue(forward) ?? 0) * 1000,
                Materials = parsed.GetValue(materials) is { Length: > 0 } named ? named : Materials.Usual,
                DiameterMm = parsed.GetValue(diameter) * 1000,
                ThrowSpeedMps = parsed.GetValue(speed),
                ThrowRadiusM = parsed.GetValue(radius),
            };
            // Before the work, and both before either is written: a place that cannot be written to leaves nothing behind.
            using OutputFiles? pageFiles = FilesFor(sheet, "--out", UsualName, "page of sticks", StickPage.IsPage);
            using OutputFiles? drawingFiles = FilesFor(drawing, "--svg", UsualDrawing, "drawing of a stick", StickPage.IsDrawing);
            if (sheet is not null && drawing is not null && Path.GetFullPath(sheet) == Path.GetFullPath(drawing))
            {
                throw new WrongUsageException($"--out and --svg are one file, {sheet}; expected two names, such as {UsualName} and {UsualDrawing}");
            }
            StickDocument document = BallastStick.Run(season.Season(terminal, parsed, season.Airframe(parsed), whole: false, cancel).Season, asked);
            if (drawing is not null && !StickPage.CanDraw(document))
            {
                throw new UnusableInputException($"--svg {drawing}: no stick of that mass {(document.Options.Any(o => o.Fits) ? "may be flown" : "fits the tube")}, so there is nothing to draw; without --svg the answer says why");
            }
            pageFiles?.AddText(Path.GetFileName(sheet!), writer => StickPage.Write(writer, document));
            drawingFiles?.AddText(Path.GetFileName(drawing!), writer => StickPage.WriteDrawing(writer, document));
            pageFiles?.MoveIntoPlace(overwrite: true, cancel);
            drawingFiles?.MoveIntoPlace(overwrite: true, cancel);
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : StickSummary.Write(document, terminal.Width));
            if (sheet is not null)
            {
                terminal.Say($"Page: {sheet}");
            }
            if (drawing is not null)
            {
                terminal.Say($"Drawing: {drawing}");
            }
            return ExitCode.Done;
        });
    }

    private static OutputFiles? FilesFor(string? file, string option, string usualName, string kind, Func<string, bool> isOne) =>
        file is null ? null : PageFile.Prepare(file, usualName, kind, isOne, option);

    private static Material[] Asked(ArgumentResult result)
    {
        List<Material> asked = [];
        foreach (string text in result.Tokens.Select(t => t.Value))
        {
            if (!AskedText.TryReadMaterial(text, out Material? material, out string complaint))
            {
                result.AddError(complaint);
                return [];
            }
            asked.Add(material!);
        }
        return [.. asked.Distinct()];
    }
}
