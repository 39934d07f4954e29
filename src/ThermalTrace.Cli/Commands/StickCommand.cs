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
    private const double MostForwardMm = 50, ThinnestMm = 0.1, ThickestMm = 200; // beyond these a unit was mistaken
    private const int LongestName = 60;

    public static Command Create(Terminal terminal)
    {
        Option<double?> ballast = new("--ballast")
        {
            HelpName = "G",
            Description = "The mass to build, such as 45 (grams) or 1.5oz.",
            Required = true,
            CustomParser = result => Quantity(result, "--ballast", UnitFamily.Mass, 0.1, 50_000),
        };
        Option<double?> forward = new("--cg-forward")
        {
            HelpName = "D",
            Description = "By how much the centre of gravity is to move forward, such as 0.7mm or 0.03in; left out, it stays where it is.",
            CustomParser = result => Millimetres(result, "--cg-forward", -MostForwardMm, MostForwardMm),
        };
        Option<Material[]> materials = new("--material")
        {
            HelpName = "M",
            Description = "Only this: lead, brass, steel, tungsten, \"tungsten alloy 17.5\", or one of your own with its density, \"NAME=9.8g/cm3\" (or a range, 9.6..9.9g/cm3). May be given more than once.",
            AllowMultipleArgumentsPerToken = false,
            CustomParser = Asked,
        };
        Option<double?> diameter = new("--diameter")
        {
            HelpName = "D",
            Description = "Of the rod that you have, such as 8mm.",
            CustomParser = result => Millimetres(result, "--diameter", ThinnestMm, ThickestMm),
        };
        Option<(double, double)?> speed = new("--throw-speed")
        {
            HelpName = "V",
            Description = "Speed at which a discus launch is let go, such as 30m/s or 25..35m/s (which is taken if not given).",
            CustomParser = result => Range(result, "--throw-speed", UnitFamily.Speed, 2, 80),
        };
        Option<(double, double)?> radius = new("--throw-radius")
        {
            HelpName = "R",
            Description = "From your own axis to the fuselage then, such as 1.45m; half the span and an arm if not given.",
            CustomParser = result => Range(result, "--throw-radius", UnitFamily.Length, 0.3, 10),
        };
        Option<string?> page = new("--out") { HelpName = "FILE.html", Description = "Writes a page to print at full size; only such a page is ever replaced." };
        Option<string?> picture = new("--svg") { HelpName = "FILE.svg", Description = "Writes the drawing of the best stick alone, at full size; only such a drawing is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        Command command = new("stick", "Tells which ballast stick to build for the tube: of what, how thick and long, where it lies, what it costs.");
        SeasonOptions season = new(command);
        foreach (Option option in (Option[])[ballast, forward, materials, diameter, speed, radius, page, picture, json])
        {
            command.Options.Add(option);
        }
        command.SetWork(terminal, (parsed, cancel) =>
        {
            string? sheet = parsed.GetValue(page), drawing = parsed.GetValue(picture);
            StickAsked asked = new()
            {
                BallastG = parsed.GetValue(ballast)!.Value,
                CgForwardMm = parsed.GetValue(forward) ?? 0,
                Materials = parsed.GetValue(materials) is { Length: > 0 } named ? named : Materials.Usual,
                DiameterMm = parsed.GetValue(diameter),
                ThrowSpeedMps = parsed.GetValue(speed),
                ThrowRadiusM = parsed.GetValue(radius),
            };
            StickDocument document = BallastStick.Run(season.Season(terminal, parsed, season.Airframe(parsed), whole: false, cancel).Season, asked);
            if (drawing is not null && !document.Options.Any(o => o.Fits))
            {
                throw new UnusableInputException($"--svg {drawing}: no stick of that mass fits the tube, so there is nothing to draw; without --svg the answer says what would fit");
            }
            if (sheet is not null)
            {
                Place(sheet, "--out", UsualName, "page of sticks", StickPage.IsPage, writer => StickPage.Write(writer, document), cancel);
            }
            if (drawing is not null)
            {
                Place(drawing, "--svg", UsualDrawing, "drawing of a stick", StickPage.IsDrawing, writer => StickPage.WriteDrawing(writer, document), cancel);
            }
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
        return command;
    }

    private static void Place(string file, string option, string usualName, string kind, Func<string, bool> isOne, Action<TextWriter> write, CancellationToken cancel)
    {
        PageFile.Require(file, usualName, kind, isOne, option);
        using OutputFiles files = new(Path.GetDirectoryName(Path.GetFullPath(file))!, option);
        files.AddText(Path.GetFileName(file), write);
        files.MoveIntoPlace(overwrite: true, cancel);
    }

    private static Material[] Asked(ArgumentResult result)
    {
        List<Material> asked = [];
        foreach (string text in result.Tokens.Select(t => t.Value))
        {
            int at = text.LastIndexOf('=');
            string name = (at < 0 ? text : text[..at]).Trim();
            if (at < 0)
            {
                if (Materials.Find(text) is not { } known)
                {
                    result.AddError($"--material \"{text}\" is not known; expected {string.Join(", ", Materials.All.Select(m => m.Name))}, or a name and its density, such as \"bismuth=9.8g/cm3\"");
                    return [];
                }
                asked.Add(known);
            }
            else if (name.Length is 0 or > LongestName)
            {
                result.AddError($"--material \"{text}\" has {(name.Length == 0 ? "no name" : "a very long name")}; expected a name and its density, such as \"bismuth=9.8g/cm3\"");
                return [];
            }
            else if (!QuantityText.TryParseRange(text[(at + 1)..], UnitFamily.Density, out double low, out double high, out string complaint))
            {
                result.AddError($"--material {complaint}");
                return [];
            }
            else if (!(low >= Materials.LeastGCm3 && high <= Materials.MostGCm3))
            {
                result.AddError($"--material {text} is outside {Materials.LeastGCm3:0.#} to {Materials.MostGCm3:0.#} g/cm3");
                return [];
            }
            else
            {
                asked.Add(Material.Of(name, low, high));
            }
        }
        return [.. asked.Distinct()];
    }

    private static double? Quantity(ArgumentResult result, string name, UnitFamily family, double least, double most)
    {
        string text = result.Tokens[0].Value;
        if (!QuantityText.TryParse(text, family, out double value, out string complaint))
        {
            result.AddError($"{name} {complaint}");
            return null;
        }
        return InRange(result, name, text, family, value, value, least, most) ? value : null;
    }

    /// <summary>A bare number is in m here as everywhere, which is never meant; so it is said.</summary>
    private static double? Millimetres(ArgumentResult result, string name, double least, double most)
    {
        string text = result.Tokens[0].Value;
        if (!QuantityText.TryParse(text, UnitFamily.Length, out double metres, out string complaint))
        {
            result.AddError($"{name} {complaint}");
            return null;
        }
        double value = metres * 1000;
        if (value >= least && value <= most)
        {
            return value;
        }
        string missing = double.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, out _) ? $"; a bare number is in metres: is {text.Trim()}mm meant?" : "";
        result.AddError(FormattableString.Invariant($"{name} {text} is outside {least:0.###} to {most:0.###} mm{missing}"));
        return null;
    }

    private static (double, double)? Range(ArgumentResult result, string name, UnitFamily family, double least, double most)
    {
        string text = result.Tokens[0].Value;
        if (!QuantityText.TryParseRange(text, family, out double low, out double high, out string complaint))
        {
            result.AddError($"{name} {complaint}");
            return null;
        }
        return InRange(result, name, text, family, low, high, least, most) ? (low, high) : null;
    }

    private static bool InRange(ArgumentResult result, string name, string text, UnitFamily family, double low, double high, double least, double most)
    {
        if (low >= least && high <= most)
        {
            return true;
        }
        result.AddError(FormattableString.Invariant($"{name} {text} is outside {least:0.###} to {most:0.###} {family.Units[0].Symbol}"));
        return false;
    }
}
