using System.CommandLine;
using ThermalTrace.Reports.Balance;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>balance</c>: mass, centre of gravity and pitch inertia from what was measured on the bench.</summary>
internal static class BalanceCommand
{
    public static Command Create(Terminal terminal)
    {
        Command command = new("balance", "Finds centre of gravity and pitch inertia from weighed supports, a balance, a swing on two strings. Errors given hold 9 times in 10. A bare number is grams, metres or seconds.");
        Option<string> airframe = new("--airframe") { HelpName = "AIRFRAME", Description = "An airframe.json, or a folder that holds one.", Required = true };
        command.Options.Add(airframe);
        BalanceQuestion question = new(command);
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        command.Options.Add(json);
        command.SetWork(terminal, (parsed, _) =>
        {
            Ballast.BalanceAsked asked = question.Of(parsed);
            BalanceDocument document = ModelBalance.Run(SessionFolder.ReadAirframe(parsed.GetRequiredValue(airframe)), asked);
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : BalanceSummary.Write(document, terminal.Width));
            return ExitCode.Done;
        });
        return command;
    }
}
