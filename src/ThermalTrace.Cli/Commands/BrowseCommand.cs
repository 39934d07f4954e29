using System.CommandLine;
using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using System.Security;
using ThermalTrace.Pages.Serving;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>browse FOLDER</c>: the same jobs in a browser's pages, served by this program on this machine alone.</summary>
internal static class BrowseCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string> folder = new("FOLDER") { Description = "The session's folder; it may still be empty." };
        Option<int> port = new("--port")
        {
            HelpName = "N",
            Description = "The port of 127.0.0.1 (any free one if not given).",
            CustomParser = result =>
            {
                string text = result.Tokens[0].Value;
                if (int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && number is >= 1024 and <= 65_535)
                {
                    return number;
                }
                result.AddError($"--port \"{text}\" is not possible; expected a number from 1024 to 65535");
                return 0;
            },
        };
        Option<bool> quiet = new("--no-open") { Description = "Only show the address, and let me open it." };
        Option<string?> logbook = LogbookOption.Create();
        command.Add(folder);
        command.Add(port);
        command.Add(quiet);
        command.Add(logbook);
        command.SetWork(terminal, (parsed, cancel) => Run(terminal, parsed.GetRequiredValue(folder), parsed.GetValue(port), !parsed.GetValue(quiet), parsed.GetValue(logbook), cancel));
    }

    private static int Run(Terminal terminal, string folder, int port, bool open, string? logbook, CancellationToken cancel)
    {
        SessionFolder.LogNames(folder); // says so where there is no such folder
        return ServeAsync(terminal, folder, port, open, logbook, cancel).GetAwaiter().GetResult();
    }

    private static async Task<int> ServeAsync(Terminal terminal, string folder, int port, bool open, string? logbook, CancellationToken cancel)
    {
        using CancellationTokenSource over = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        // A terminal that is closed says so by this signal; the pages must not outlive it.
        using PosixSignalRegistration? closed = OperatingSystem.IsWindows() ? null : PosixSignalRegistration.Create(PosixSignal.SIGHUP, context =>
        {
            context.Cancel = true;
            over.Cancel();
        });
        PagesServer server;
        try
        {
            server = await PagesServer.StartAsync(folder, logbook, port, over.Token);
        }
        catch (IOException taken)
        {
            throw new UnusableInputException(string.Create(CultureInfo.InvariantCulture, $"port {port} of 127.0.0.1 cannot be had: {taken.Message}; give another with --port N, or none"));
        }
        await using (server)
        {
            Uri address = server.Invite();
            terminal.Output.WriteLine(address);
            terminal.Output.Flush();
            terminal.Say("Served on this machine alone. The address lets one browser in, once; Enter shows another, Ctrl-C ends it.");
            if (open && !Open(address))
            {
                terminal.Say("No browser could be started; open the address yourself.");
            }
            await ListenAsync(terminal, server, over.Token);
        }
        terminal.Say("The pages are closed. Every edit was saved.");
        return ExitCode.Done;
    }

    /// <summary>Until the terminal ends: its input closed, or a signal.</summary>
    private static async Task ListenAsync(Terminal terminal, PagesServer server, CancellationToken over)
    {
        TaskCompletionSource ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
        using CancellationTokenRegistration registration = over.Register(() => ended.TrySetResult());
        // Reading the console cannot be cancelled: a thread of its own waits for it, and does not keep the process.
        Thread reader = new(() =>
        {
            while (terminal.Input.ReadLine() is not null)
            {
                terminal.Output.WriteLine(server.Invite());
                terminal.Output.Flush();
            }
            ended.TrySetResult();
        })
        { IsBackground = true };
        reader.Start();
        await ended.Task;
    }

    /// <summary>Starts the person's own browser. The address can be seen in the list of processes meanwhile, which is why it lets in once alone.</summary>
    private static bool Open(Uri address)
    {
        try
        {
            using Process? browser = OperatingSystem.IsWindows() ? Process.Start(new ProcessStartInfo(address.AbsoluteUri) { UseShellExecute = true })
                : Process.Start(new ProcessStartInfo(OperatingSystem.IsMacOS() ? "open" : "xdg-open", [address.AbsoluteUri]) { RedirectStandardOutput = true, RedirectStandardError = true });
            return browser is not null;
        }
        catch (Exception failure) when (failure is System.ComponentModel.Win32Exception or InvalidOperationException or PlatformNotSupportedException or SecurityException)
        {
            return false;
        }
    }
}
