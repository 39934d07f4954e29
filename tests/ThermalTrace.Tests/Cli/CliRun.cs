using ThermalTrace.Cli;

namespace ThermalTrace.Tests.Cli;

/// <summary>A run of the program within the test's process.</summary>
internal sealed record CliRun(int ExitCode, string Output, string Messages)
{
    public static async Task<CliRun> Of(params string[] args) => await Of(args, watched: false);

    public static async Task<CliRun> Of(string[] args, bool watched, CancellationToken cancel = default)
    {
        using StringWriter output = new() { NewLine = "\n" }, messages = new() { NewLine = "\n" };
        int exitCode = await CommandLine.RunAsync(args, new Terminal(output, messages) { MessagesAreWatched = watched }, cancel);
        CliRun run = new(exitCode, output.ToString(), messages.ToString());
        // A stack trace never reaches a person, whatever the test is about.
        Assert.DoesNotContain("   at ", run.Messages, StringComparison.Ordinal);
        Assert.DoesNotContain("fault of the program", run.Messages, StringComparison.Ordinal);
        return run;
    }
}
