using System.Diagnostics;
using System.Text.Json;

namespace ThermalTrace.Tests.Cli;

/// <summary>The built program, started as a person would: streams, exit codes and signals of the real process.</summary>
public sealed class ProcessTests
{
    [Fact]
    public async Task TheProgram_KeepsDataAndWordsApart()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("Höhe.csv", "");
        (int exitCode, string output, string messages) = await Run("inspect", folder.Session, "--json");
        Assert.Equal(3, exitCode);
        Assert.StartsWith("{", output, StringComparison.Ordinal);
        using JsonDocument document = JsonDocument.Parse(output);
        Assert.Equal("thermaltrace.inspect/1", document.RootElement.GetProperty("schema").GetString());
        Assert.Contains("Höhe.csv", messages, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', output + messages);
    }

    [Fact]
    public async Task TheProgram_SaysWhatIsWrongWithTheFolder()
    {
        using TempFolder folder = new();
        (int exitCode, string output, string messages) = await Run("debrief", folder.Session);
        Assert.Equal(3, exitCode);
        Assert.Equal("", output);
        Assert.EndsWith("there is no such folder", messages.TrimEnd(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TheProgram_InterruptedFromTheKeyboard_ExitsWith130AndLeavesNothing()
    {
        if (OperatingSystem.IsWindows())
        {
            return; // no signals to send
        }
        using TempFolder folder = new();
        // Far more work than the second that it gets.
        using Process program = Start("simulate", "--out", folder.Session, "--flights", "500", "--flight-time", "900", "--rate", "20");
        await Task.Delay(TimeSpan.FromSeconds(1));
        using (Process kill = Process.Start("kill", ["-INT", program.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]))
        {
            await kill.WaitForExitAsync();
        }
        await program.WaitForExitAsync();
        Assert.Equal(130, program.ExitCode);
        Assert.Empty(folder.Everything());
    }

    private static async Task<(int ExitCode, string Output, string Messages)> Run(params string[] args)
    {
        using Process program = Start(args);
        Task<string> output = program.StandardOutput.ReadToEndAsync(), messages = program.StandardError.ReadToEndAsync();
        await program.WaitForExitAsync();
        return (program.ExitCode, await output, await messages);
    }

    private static Process Start(params string[] args)
    {
        ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "thermaltrace.dll"), .. args])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = System.Text.Encoding.UTF8,
            StandardErrorEncoding = System.Text.Encoding.UTF8,
        };
        return Process.Start(start)!;
    }
}
