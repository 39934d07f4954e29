using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Parsing;
using ThermalTrace.Units;

namespace ThermalTrace.Cli;

/// <summary>The program from arguments to exit code.</summary>
public static class CommandLine
{
    // A debrief looks at its token many times a second; this is for a file system that has gone away.
    private static readonly TimeSpan LongestFarewell = TimeSpan.FromSeconds(10);

    /// <summary>Runs one command.</summary>
    /// <param name="args">The arguments, without the program's name.</param>
    /// <param name="terminal">Where its words go.</param>
    /// <param name="cancel">Ends it, as Ctrl-C does.</param>
    /// <returns>0 done; 1 the program failed; 2 wrong usage; 3 input that cannot be used; 130 cancelled.</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> args, Terminal terminal, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(args);
        ArgumentNullException.ThrowIfNull(terminal);
        RootCommand root = Root(args, terminal);
        // A file's name may begin with @.
        ParseResult parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
        if (parsed.Errors.Count > 0)
        {
            foreach (ParseError error in parsed.Errors)
            {
                terminal.Say(error.Message);
            }
            terminal.Say($"\"thermaltrace {PathTo(parsed.CommandResult)}--help\" shows what is possible.");
            return ExitCode.WrongUsage;
        }
        if (Empty(parsed.CommandResult) is { } empty)
        {
            terminal.Say(empty);
            return ExitCode.WrongUsage;
        }
        return await parsed.InvokeAsync(new InvocationConfiguration
        {
            Output = terminal.Output,
            Error = terminal.Messages,
            EnableDefaultExceptionHandler = false,
            ProcessTerminationTimeout = LongestFarewell,
        }, cancel);
    }

    /// <summary>The program's commands; only those that the arguments name have their options. A shell that asks for words to complete gets all.</summary>
    internal static RootCommand Root(IReadOnlyList<string> args, Terminal terminal)
    {
        RootCommand root = new("Finds out from flight logs which ballast flew best, and why.");
        bool all = args.Count > 0 && args[0].StartsWith('[');
        foreach (CommandPage page in Manual.Pages)
        {
            root.Add(page.Create(terminal, all || args.Contains(page.Name)));
        }
        HelpOption help = root.Options.OfType<HelpOption>().First();
        help.Action = new ManualHelp(terminal, (HelpAction)help.Action!);
        VersionOption version = root.Options.OfType<VersionOption>().First();
        version.Action = new VersionLine(terminal);
        return root;
    }

    private static string PathTo(CommandResult result) => result.Command is RootCommand ? ""
        : (result.Parent is CommandResult parent ? PathTo(parent) : "") + result.Command.Name + " ";

    /// <summary>What is wrong where an option or an argument is an empty text, as a shell makes of a variable that is not set; null where none is.</summary>
    private static string? Empty(CommandResult result) => result.Children.Where(c => c.Tokens.Any(t => string.IsNullOrWhiteSpace(t.Value))).Select(c => c switch
    {
        OptionResult { Option: { } option } => $"{option.Name} is empty; expected {option.HelpName}",
        ArgumentResult { Argument: { } argument } => $"{argument.HelpName ?? argument.Name} is empty",
        _ => null,
    }).FirstOrDefault();

    /// <summary>Makes a command's work its action, and its failures exit codes and plain words.</summary>
    internal static void SetWork(this Command command, Terminal terminal, Func<ParseResult, CancellationToken, int> work) =>
        // On another thread, so that Ctrl-C is listened to while it works.
        command.SetAction((parsed, cancel) => Task.Run(() => Guarded(terminal, () => work(parsed, cancel)), CancellationToken.None));

    private static int Guarded(Terminal terminal, Func<int> work)
    {
        try
        {
            return work();
        }
        catch (UnusableInputException unusable)
        {
            terminal.Say(unusable.Message);
            return ExitCode.UnusableInput;
        }
        catch (WrongUsageException wrong)
        {
            terminal.Say(wrong.Message);
            return ExitCode.WrongUsage;
        }
        catch (OperationCanceledException)
        {
            terminal.Say("Cancelled; nothing was written.");
            return ExitCode.Cancelled;
        }
#pragma warning disable CA1031 // The edge of the program: whatever happens, a person reads words and not a stack trace.
        catch (Exception failure)
#pragma warning restore CA1031
        {
            terminal.Say(failure is IOException or UnauthorizedAccessException
                ? $"thermaltrace could not go on: {failure.Message}"
                : $"thermaltrace failed, which is a fault of the program: {failure.GetType().Name}: {failure.Message}");
            return ExitCode.ProgramFailed;
        }
    }
}
