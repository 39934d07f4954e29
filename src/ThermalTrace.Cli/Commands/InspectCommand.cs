using System.CommandLine;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>inspect LOG…</c>: what the importer found in logs.</summary>
internal static class InspectCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string[]> logs = new("LOG")
        {
            Description = "Logs (*.csv, *.igc, *.gpx), or folders of logs. A columns.csv beside a log is honoured.",
            Arity = ArgumentArity.OneOrMore,
        };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        command.Add(logs);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) => Run(terminal, parsed.GetRequiredValue(logs), parsed.GetValue(json), cancel));
    }

    private static int Run(Terminal terminal, string[] paths, bool json, CancellationToken cancel)
    {
        List<string> files = Files(terminal, paths);
        List<InspectedLog> read = [];
        List<UnusableLog> unusable = [];
        ProgressBar.While(terminal, "Reading the logs", report =>
        {
            for (int i = 0; i < files.Count; i++)
            {
                cancel.ThrowIfCancellationRequested();
                string name = Path.GetFileName(files[i]);
                try
                {
                    double before = i;
                    DirectProgress<double> progress = new(f => report(name, (before + f) / files.Count));
                    read.Add(InspectedLog.Of(files[i], Read(files[i], name, progress, cancel)));
                }
                catch (UnusableInputException why)
                {
                    unusable.Add(new UnusableLog(files[i], why.Message));
                }
            }
            return true;
        });
        if (json)
        {
            terminal.Output.Write(JsonText.Of(new InspectDocument("thermaltrace.inspect/1", read, unusable)));
        }
        else
        {
            foreach (InspectedLog log in read)
            {
                InspectText.Write(terminal, log);
            }
        }
        foreach (UnusableLog log in unusable)
        {
            terminal.Say(log.Why);
        }
        return unusable.Count == 0 ? ExitCode.Done : ExitCode.UnusableInput;
    }

    private static FlightLog Read(string path, string name, IProgress<double> progress, CancellationToken cancel)
    {
        if (!File.Exists(path))
        {
            throw new UnusableInputException($"{path}: is not there; expected a log or a folder of logs");
        }
        IReadOnlyList<ColumnNote> notes = SessionFolder.ReadColumnNotes(Path.GetDirectoryName(Path.GetFullPath(path))!);
        try
        {
            using FileStream stream = File.OpenRead(path);
            return LogImporter.Read(stream, name, notes, progress, cancel);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            throw new UnusableInputException($"{path}: cannot be read: {failure.Message}");
        }
    }

    /// <summary>The logs behind the arguments. A shell's *.csv also catches a session's notes, which are no logs.</summary>
    private static List<string> Files(Terminal terminal, string[] paths)
    {
        List<string> files = [];
        foreach (string path in paths)
        {
            if (Directory.Exists(path))
            {
                files.AddRange(SessionFolder.LogNames(path).Select(name => Path.Combine(path, name)));
            }
            else if (SessionFolder.IsNoteFile(Path.GetFileName(path)))
            {
                terminal.Say($"{path}: belongs to the session and is no log; left out");
            }
            else
            {
                files.Add(path);
            }
        }
        return files.Count > 0 ? files : throw new UnusableInputException("there is no log to inspect; expected files that end in .csv, .igc or .gpx");
    }
}
