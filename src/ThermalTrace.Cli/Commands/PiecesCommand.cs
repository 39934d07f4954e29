using System.CommandLine;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>pieces</c>: which pieces of the stock to fit, and where.</summary>
internal static class PiecesCommand
{
    private const string UsualName = "pieces.html";

    public static void Fill(Command command, Terminal terminal)
    {
        Option<double?> ballast = QuantityOptions.Single(AskedText.Ballast, "G", "The mass to fit, such as 45 (grams) or 1.5oz; left out, every step from empty to the limit.");
        Option<double?> forward = QuantityOptions.Single(AskedText.CgForward, "D",
            "By how much the ballast is to move the centre of gravity forward, such as 0.7mm or 0.03in; left out, it stays where it is. Usual are 0.5 to 1 mm on a discus-launched model, 1 to 1.5 mm on one of 4 m.");
        Option<double?> step = QuantityOptions.Single(AskedText.Step, "G", "Between the steps; left out, a round mass that gives about a dozen.");
        Option<string?> page = new("--out") { HelpName = "FILE.html", Description = "Writes a page to print: the tube at full size, and all steps as a card for the lid; only such a page is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        SeasonOptions season = new(command);
        command.Add(ballast);
        command.Add(forward);
        command.Add(step);
        command.Add(page);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
        {
            string? sheet = parsed.GetValue(page);
            // Before the work, so that a place that cannot be written to is found out at once.
            using OutputFiles? files = sheet is null ? null : PageFile.Prepare(sheet, UsualName, "page of pieces", PiecesPage.IsPage);
            Season known = season.Season(terminal, parsed, season.Airframe(parsed), whole: false, cancel).Season;
            PiecesAsked asked = new()
            {
                BallastG = parsed.GetValue(ballast),
                CgForwardMm = (parsed.GetValue(forward) ?? 0) * 1000,
                AllSteps = sheet is not null || parsed.GetValue(step) is not null,
                StepG = parsed.GetValue(step),
            };
            PiecesDocument document = BallastPieces.Run(known, asked, cancel);
            files?.AddText(Path.GetFileName(sheet!), writer => PiecesPage.Write(writer, document));
            files?.MoveIntoPlace(overwrite: true, cancel);
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : PiecesSummary.Write(document, terminal.Width));
            if (sheet is not null)
            {
                terminal.Say($"Page: {sheet}");
            }
            return ExitCode.Done;
        });
    }
}
