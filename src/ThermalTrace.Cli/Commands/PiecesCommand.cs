using System.CommandLine;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>pieces</c>: which pieces to fit, and where.</summary>
internal static class PiecesCommand
{
    public static Command Create(Terminal terminal)
    {
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        Option<string?> ballast = new("--ballast");
        Option<string?> forward = new("--cg-forward");
        Command command = new("pieces", "Says which pieces of ballast to fit and where they lie, for one mass or for every step.");
        SeasonOptions season = new(command);
        foreach (Option option in (Option[])[ballast, forward, json])
        {
            command.Options.Add(option);
        }
        command.SetWork(terminal, (parsed, cancel) =>
        {
            double? grams = null; double forwardMm = 0;
            if (parsed.GetValue(ballast) is { } g) { QuantityText.TryParse(g, UnitFamily.Mass, out double v, out _); grams = v; }
            if (parsed.GetValue(forward) is { } f) { QuantityText.TryParse(f, UnitFamily.Length, out double v, out _); forwardMm = v * 1000; }
            Season known = season.Season(terminal, parsed, season.Airframe(parsed), whole: false, cancel).Season;
            PiecesDocument document = BallastPieces.Run(known, new PiecesAsked { BallastG = grams, CgForwardMm = forwardMm }, cancel);
            terminal.Output.Write(JsonText.Of(document));
            return ExitCode.Done;
        });
        return command;
    }
}
