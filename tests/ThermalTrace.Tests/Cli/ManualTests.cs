using System.CommandLine;
using ThermalTrace.Cli;

namespace ThermalTrace.Tests.Cli;

/// <summary>What --help shows is true, and shells are told what the parser knows.</summary>
public sealed class ManualTests
{
    private static readonly Terminal Nowhere = new(TextWriter.Null, TextWriter.Null);

    public static TheoryData<string, string> Commands
    {
        get
        {
            TheoryData<string, string> all = [];
            foreach (CommandPage page in Manual.Pages)
            {
                all.Add(page.Name, "");
            }
            foreach (CommandPage page in Manual.LogbookPages)
            {
                all.Add("logbook", page.Name);
            }
            return all;
        }
    }

    [Theory]
    [MemberData(nameof(Commands))]
    public async Task EveryCommand_ShowsExamplesThatTheParserTakes(string command, string sub)
    {
        string[] named = sub.Length == 0 ? [command] : [command, sub];
        CliRun run = await CliRun.Of([.. named, "--help"]);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        CommandPage page = Manual.PageOf(named[^1], sub.Length == 0 ? null : command)!;
        Assert.NotEmpty(page.Examples);
        foreach (Example example in page.Examples)
        {
            Assert.Contains($"  {example.Line}\n    {example.Does}\n", run.Output, StringComparison.Ordinal);
            // From "thermaltrace" to what only a shell understands.
            string line = example.Line[(example.Line.IndexOf("thermaltrace ", StringComparison.Ordinal) + "thermaltrace ".Length)..];
            string[] words = line.Split([" | ", ")"], StringSplitOptions.None)[0].Split(' ', StringSplitOptions.RemoveEmptyEntries);
            Assert.Equal(named, words[..named.Length]);
            ParseResult parsed = CommandLine.Root(words, Nowhere).Parse(words);
            Assert.True(parsed.Errors.Count == 0, $"{example.Line}: {string.Join("; ", parsed.Errors.Select(e => e.Message))}");
        }
    }

    [Fact]
    public async Task Version_TellsTheReleaseAndTheCommit()
    {
        CliRun run = await CliRun.Of("--version");
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Matches(@"^thermaltrace \d+\.\d+\.\d+(\+[0-9a-z-]+)?\n$", run.Output);
    }

    [Theory]
    [InlineData("thermaltrace de", "debrief")]
    [InlineData("thermaltrace debrief --wi", "--wind")]
    [InlineData("thermaltrace logbook ve", "verify")]
    [InlineData("thermaltrace logbook add --fi", "--field")]
    [InlineData("thermaltrace completion f", "fish")]
    [InlineData("thermaltrace schema res", "results")]
    public async Task AShellThatAsks_IsToldWhatMayComeNext(string line, string expected)
    {
        CliRun run = await CliRun.Of($"[suggest:{line.Length}]", line);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains(expected, run.Output.Split('\n').Select(w => w.TrimEnd('\r')));
    }

    [Theory]
    [InlineData("bash")]
    [InlineData("zsh")]
    [InlineData("fish")]
    [InlineData("pwsh")]
    public async Task AShellsLines_AskTheProgram(string shell)
    {
        CliRun run = await CliRun.Of("completion", shell);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Contains("[suggest:", run.Output, StringComparison.Ordinal);
        Assert.EndsWith("\n", run.Output, StringComparison.Ordinal);
    }
}
