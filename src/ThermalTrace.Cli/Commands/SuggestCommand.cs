using System.CommandLine;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>suggest</c>: which ballast for the day's wind, lift and turbulence.</summary>
internal static class SuggestCommand
{
    public static Command Create(Terminal terminal)
    {
        Option<string> airframe = new("--airframe") { HelpName = "AIRFRAME", Description = "An airframe.json, or a folder that holds one.", Required = true };
        Command command = new("suggest", "Suggests the ballast for a day's wind, lift and turbulence.") { airframe };
        SuggestQuestion question = new(command);
        Option<string[]> results = new("--results")
        {
            HelpName = "FILE",
            Description = "Finished debriefs (results.json) to rest on, in place of the logbook.",
            AllowMultipleArgumentsPerToken = true,
            DefaultValueFactory = _ => [],
        };
        Option<string?> logbook = new("--logbook") { HelpName = "FILE", Description = "The logbook to rest on, where it is not in its usual place." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        command.Options.Add(results);
        command.Options.Add(logbook);
        command.Options.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
        {
            Advice.AskedConditions asked = question.Of(parsed);
            Airframe model = SessionFolder.ReadAirframe(parsed.GetRequiredValue(airframe));
            SeasonSource season = SeasonSource.For(model, parsed.GetValue(results) ?? [], parsed.GetValue(logbook));
            SuggestionDocument document = Suggestion.Run(model, season.Sessions, asked, new SuggestionOptions { Readings = season.Readings }, cancel);
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : SuggestionSummary.Write(document, terminal.Width));
            return ExitCode.Done;
        });
        return command;
    }
}
