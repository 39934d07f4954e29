using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;
using System.CommandLine.Parsing;

namespace ThermalTrace.Cli;

/// <summary>--help: usage and options as the parser knows them, then examples, notes and exit codes from the manual.</summary>
internal sealed class ManualHelp(Terminal terminal, HelpAction usage) : SynchronousCommandLineAction
{
    private const string Indent = "  ";
    private const int NameWidth = 12;

    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        CommandResult asked = parseResult.CommandResult;
        if (asked.Command is RootCommand root)
        {
            // Not from the parser's own help: what that has to compile takes as long as the rest of the program's start.
            Section("thermaltrace", [root.Description!]);
            Section("Usage:", ["thermaltrace COMMAND …", "thermaltrace COMMAND --help", "thermaltrace --version"]);
            Section("Commands, in the order of the work:", [.. Manual.Pages.Select(p => p.Name.PadRight(NameWidth) + p.Purpose)]);
            Section("Begin with:", ["thermaltrace prepare FOLDER", "thermaltrace debrief FOLDER"]);
        }
        else
        {
            usage.Invoke(parseResult);
            if (Manual.PageOf(asked.Command.Name, (asked.Parent as CommandResult)?.Command.Name) is { } page)
            {
                Section("Examples:", [.. page.Examples.SelectMany(e => new[] { e.Line, Indent + e.Does })]);
                Section("Notes:", page.Notes?.Split('\n') ?? []);
            }
        }
        Section("Exit codes:", ["0 done, 1 the program failed, 2 wrong usage, 3 input that cannot be used, 130 cancelled"]);
        return ExitCode.Done;
    }

    private void Section(string head, string[] lines)
    {
        if (lines.Length == 0)
        {
            return;
        }
        terminal.Output.WriteLine(head);
        foreach (string line in lines)
        {
            terminal.Output.WriteLine(Indent + line);
        }
        terminal.Output.WriteLine();
    }
}
