using System.CommandLine;

namespace ThermalTrace.Cli;

/// <summary>A line to type and what comes of it.</summary>
internal sealed record Example(string Line, string Does);

/// <summary>
/// What the manual says of one command, and how its options are made. Making them is left until the command is asked for:
/// all of them together take longer than a whole short command.
/// </summary>
/// <param name="Name">What is typed.</param>
/// <param name="Purpose">One sentence.</param>
/// <param name="Fill">Gives the command its options and its work.</param>
internal sealed record CommandPage(string Name, string Purpose, Action<Command, Terminal> Fill)
{
    /// <summary>Lines to try, shown by --help.</summary>
    public IReadOnlyList<Example> Examples { get; init; } = [];

    /// <summary>What it reads, writes and rests on, a line each; null where there is nothing beyond its arguments.</summary>
    public string? Notes { get; init; }

    /// <summary>The command; without options where it is only to be named.</summary>
    public Command Create(Terminal terminal, bool whole)
    {
        Command command = new(Name, Purpose);
        if (whole)
        {
            Fill(command, terminal);
        }
        return command;
    }
}
