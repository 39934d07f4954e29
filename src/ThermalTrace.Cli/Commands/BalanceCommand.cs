using System.CommandLine;
using ThermalTrace.Reports.Balance;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>balance</c>: mass, centre of gravity and pitch inertia from what was measured on the bench.</summary>
internal static class BalanceCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Option<string> airframe = new("--airframe") { HelpName = "AIRFRAME", Description = "An airframe.json, or a folder that holds one.", Required = true };
        command.Add(airframe);
        BalanceQuestion question = new(command);
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        command.Add(json);
        command.SetWork(terminal, (parsed, _) =>
        {
            Ballast.BalanceAsked asked = question.Of(parsed);
            BalanceDocument document = ModelBalance.Run(SessionFolder.ReadAirframe(parsed.GetRequiredValue(airframe)), asked);
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : BalanceSummary.Write(document, terminal.Width));
            return ExitCode.Done;
        });
    }
}
