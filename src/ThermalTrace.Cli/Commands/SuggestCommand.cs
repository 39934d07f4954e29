using System.CommandLine;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>suggest</c>: which ballast for the day's wind, lift and turbulence.</summary>
internal static class SuggestCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        SeasonOptions season = new(command);
        SuggestQuestion question = new(command);
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
        {
            Advice.AskedConditions asked = question.Of(parsed);
            SeasonSource source = season.Season(terminal, parsed, season.Airframe(parsed), whole: false, cancel);
            SuggestionDocument document = Suggestion.Run(source.Season, asked, new SuggestionOptions { Readings = source.Readings });
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : SuggestionSummary.Write(document, terminal.Width));
            return ExitCode.Done;
        });
    }
}
