using System.CommandLine;

namespace ThermalTrace.Cli.Commands;

internal static class SimulateCommand
{
    public static Command Create(Terminal terminal)
    {
        Command command = new("simulate", "Makes a session with known truth.");
        command.SetWork(terminal, (_, _) => ExitCode.Done);
        return command;
    }
}
