using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace ThermalTrace.Tests.Cli;

/// <summary><c>browse</c> as a process of its own: what it shows, and that it ends with its terminal.</summary>
public sealed class BrowseCommandTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    [Fact]
    public async Task Browse_ShowsAnAddress_AndEndsWithItsTerminal()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = folder.Everything();
        using Process program = Start(folder);
        Uri address = new((await program.StandardOutput.ReadLineAsync())!);
        Assert.Equal("127.0.0.1", address.Host);
        Assert.Equal(HttpStatusCode.Redirect, await Status(address));
        Assert.Equal(HttpStatusCode.Forbidden, await Status(address));
        await program.StandardInput.WriteLineAsync();
        Uri another = new((await program.StandardOutput.ReadLineAsync())!);
        Assert.NotEqual(address, another);
        Assert.Equal(HttpStatusCode.Redirect, await Status(another));
        program.StandardInput.Close();
        await Ended(program);
        Assert.Equal(0, program.ExitCode);
        await Assert.ThrowsAsync<HttpRequestException>(() => Status(another));
        Assert.Equal(before, folder.Everything());
    }

    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    [InlineData("HUP")]
    public async Task Browse_EndsByASignal(string signal)
    {
        if (OperatingSystem.IsWindows())
        {
            return; // no signals to send
        }
        using TempFolder folder = TempFolder.WithQuietSession();
        using Process program = Start(folder);
        Uri address = new((await program.StandardOutput.ReadLineAsync())!);
        Assert.Equal(HttpStatusCode.Redirect, await Status(address));
        using (Process kill = Process.Start("kill", ["-" + signal, program.Id.ToString(CultureInfo.InvariantCulture)]))
        {
            await kill.WaitForExitAsync();
        }
        await Ended(program);
        Assert.Equal(0, program.ExitCode);
    }

    [Fact]
    public async Task Browse_OfNoFolder_SaysSo()
    {
        using TempFolder folder = new();
        CliRun run = await CliRun.Of("browse", folder.Session, "--no-open");
        Assert.Equal(3, run.ExitCode);
        Assert.EndsWith("there is no such folder\n", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Browse_OnAPortThatIsTaken_SaysSo()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        using TcpListener taken = new(IPAddress.Loopback, 0);
        taken.Start();
        string port = ((IPEndPoint)taken.LocalEndpoint).Port.ToString(CultureInfo.InvariantCulture);
        CliRun run = await CliRun.Of("browse", folder.Session, "--no-open", "--port", port);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains($"port {port} of 127.0.0.1 cannot be had", run.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("80")]
    [InlineData("65536")]
    [InlineData("any")]
    public async Task Browse_OnAPortThatIsNone_IsWrongUsage(string port)
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        CliRun run = await CliRun.Of("browse", folder.Session, "--no-open", "--port", port);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("expected a number from 1024 to 65535", run.Messages, StringComparison.Ordinal);
    }

    private static async Task<HttpStatusCode> Status(Uri address)
    {
        using HttpClientHandler handler = new() { AllowAutoRedirect = false, UseProxy = false };
        using HttpClient client = new(handler);
        using HttpResponseMessage answer = await client.GetAsync(address);
        return answer.StatusCode;
    }

    private static async Task Ended(Process program)
    {
        using CancellationTokenSource patience = new(Patience);
        try
        {
            await program.WaitForExitAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            program.Kill(entireProcessTree: true);
            Assert.Fail("the program went on without its terminal");
        }
    }

    private static Process Start(TempFolder folder) => Process.Start(new ProcessStartInfo("dotnet",
        [Path.Combine(AppContext.BaseDirectory, "thermaltrace.dll"), "browse", folder.Session, "--no-open", "--logbook", Path.Combine(folder.Root, "logbook.sqlite")])
    {
        RedirectStandardInput = true,
        RedirectStandardOutput = true,
        RedirectStandardError = true,
    })!;
}
