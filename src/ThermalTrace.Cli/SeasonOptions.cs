using System.CommandLine;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli;

/// <summary>The options by which advice is told what to rest on: <c>--airframe</c>, <c>--results</c>, <c>--logbook</c>.</summary>
internal sealed class SeasonOptions
{
    private readonly Option<string> _airframe = new("--airframe") { HelpName = "AIRFRAME", Description = "An airframe.json, or a folder that holds one.", Required = true };
    private readonly Option<string[]> _results = new("--results")
    {
        HelpName = "FILE",
        Description = "Finished debriefs (results.json) to rest on, in place of the logbook.",
        AllowMultipleArgumentsPerToken = true,
        DefaultValueFactory = _ => [],
    };
    private readonly Option<string?> _logbook = LogbookOption.Create();

    /// <summary>Adds them to a command.</summary>
    public SeasonOptions(Command command)
    {
        command.Options.Add(_airframe);
        command.Options.Add(_results);
        command.Options.Add(_logbook);
    }

    /// <summary>The airframe named.</summary>
    /// <exception cref="Units.UnusableInputException">It cannot be read.</exception>
    public Airframe Airframe(ParseResult parsed) => SessionFolder.ReadAirframe(parsed.GetRequiredValue(_airframe));

    /// <summary>What is known of it.</summary>
    /// <exception cref="Units.UnusableInputException">What is named cannot be used.</exception>
    public SeasonSource Season(Terminal terminal, ParseResult parsed, Airframe airframe, bool whole, CancellationToken cancel) =>
        SeasonSource.For(airframe, parsed.GetValue(_results) ?? [], parsed.GetValue(_logbook), whole, (stage, work) => ProgressBar.While(terminal, stage, _ => work()), cancel);
}
