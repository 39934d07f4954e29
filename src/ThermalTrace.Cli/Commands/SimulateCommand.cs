using System.CommandLine;
using System.Text;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>simulate --out DIR</c>: a session with known truth.</summary>
internal static class SimulateCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Option<string> outFolder = new("--out")
        {
            HelpName = "DIR",
            Required = true,
            Description = "A new folder for the session; the truth goes beside it, into DIR-truth.json.",
        };
        command.Add(outFolder);
        Func<ParseResult, SimulationOptions> options = SimulateOptions.AddTo(command);
        command.SetWork(terminal, (parsed, cancel) => Run(terminal, parsed.GetRequiredValue(outFolder), options(parsed), cancel));
    }

    private static int Run(Terminal terminal, string folder, SimulationOptions options, CancellationToken cancel)
    {
        string target = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        string truth = Path.GetFileName(target) + "-truth.json";
        string parent = Path.GetDirectoryName(target) ?? throw new WrongUsageException($"--out {folder}: expected a new folder");
        OutputFiles.RequireNoFile(folder, "--out");
        if (Directory.Exists(target) && Directory.EnumerateFileSystemEntries(target).Any())
        {
            throw new WrongUsageException($"--out {folder}: the folder has something in it; expected a new folder, since nothing is overwritten");
        }
        if (Path.Exists(Path.Combine(parent, truth)))
        {
            throw new WrongUsageException($"--out {folder}: {truth} is already beside it; expected a new folder, since nothing is overwritten");
        }
        SimulatedSession session = Simulate(options, terminal, cancel);
        using OutputFiles beside = new(parent, "--out");
        using OutputFiles files = new(target, "--out");
        files.Add(AirframeFile.Name, stream => Write(stream, session.AirframeJson));
        files.Add(FlightsFile.Name, stream => Write(stream, session.FlightsCsv));
        foreach (SimulatedFile log in session.Logs)
        {
            files.Add(log.FileName, stream => stream.Write(log.Bytes));
        }
        beside.Add(truth, stream => Write(stream, session.TruthJson));
        files.MoveIntoPlace(overwrite: false, cancel);
        beside.MoveIntoPlace(overwrite: false, CancellationToken.None);
        terminal.Say($"{folder}: a simulated session, {session.Logs.Count} {(session.Logs.Count == 1 ? "log" : "logs")}. "
            + $"Now \"thermaltrace debrief {folder}\"; what is true stands in {Path.Combine(Path.GetDirectoryName(Path.TrimEndingDirectorySeparator(folder)) ?? "", truth)}.");
        return ExitCode.Done;
    }

    private static SimulatedSession Simulate(SimulationOptions options, Terminal terminal, CancellationToken cancel)
    {
        try
        {
            return ProgressBar.While(terminal, "Flying", _ => Simulator.Run(options, cancel));
        }
        catch (ArgumentException wrong)
        {
            // The framework appends the name of a parameter, which says nothing to a person.
            int end = wrong.Message.LastIndexOf(" (Parameter '", StringComparison.Ordinal);
            throw new WrongUsageException(end < 0 ? wrong.Message : wrong.Message[..end]);
        }
    }

    private static void Write(Stream stream, string text) => stream.Write(Encoding.UTF8.GetBytes(text));
}
