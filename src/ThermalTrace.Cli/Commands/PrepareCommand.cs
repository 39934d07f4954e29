using System.CommandLine;
using System.Globalization;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>prepare FOLDER</c>: makes a folder of bare logs a session to fill in.</summary>
internal static class PrepareCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string> folder = new("FOLDER") { Description = "The folder with the logs." };
        command.Add(folder);
        command.SetWork(terminal, (parsed, cancel) => Run(terminal, parsed.GetRequiredValue(folder), cancel));
    }

    private static int Run(Terminal terminal, string folder, CancellationToken cancel)
    {
        string flightsPath = Path.Combine(folder, FlightsFile.Name), airframePath = Path.Combine(folder, AirframeFile.Name);
        bool makeFlights = !Path.Exists(flightsPath), makeAirframe = !Path.Exists(airframePath);
        foreach (string kept in new[] { makeFlights ? null : flightsPath, makeAirframe ? null : airframePath }.OfType<string>())
        {
            terminal.Say($"{kept} is already there; prepare never overwrites, so it stays as it is.");
        }
        if (!makeFlights && !makeAirframe)
        {
            throw new UnusableInputException($"{folder}: there is nothing left to prepare; move a file away to have it made again");
        }
        (IReadOnlyList<FlightLog> logs, IReadOnlyList<string> notices) = ProgressBar.While(terminal, "Reading the logs", report =>
            SessionFolder.ReadLogs(folder, new DirectProgress<double>(f => report("Reading the logs", f)), cancel));
        foreach (string notice in notices)
        {
            terminal.Say(notice);
        }
        LaunchKind? launch = SessionFolder.AirframeSoFar(folder)?.Launch;
        IReadOnlyList<FlightNote> notes = [.. logs.SelectMany(log => FlightSearch.Run(log, launch, cancel).Select(f => PreparedNotes.Note(log, f)))];
        using OutputFiles files = new(folder, "FOLDER");
        if (makeFlights)
        {
            files.AddText(FlightsFile.Name, writer => FlightsFile.Write(writer, notes));
        }
        if (makeAirframe)
        {
            files.AddText(AirframeFile.Name, writer => writer.Write(PreparedNotes.AirframeTemplate(Path.GetFileName(Path.GetFullPath(folder)))));
        }
        files.MoveIntoPlace(overwrite: false, cancel);
        SayWhatToDo(terminal, folder, notes.Count, makeFlights, makeAirframe);
        return ExitCode.Done;
    }

    private static void SayWhatToDo(Terminal terminal, string folder, int flights, bool madeFlights, bool madeAirframe)
    {
        if (madeFlights)
        {
            terminal.Say(flights == 0
                ? $"No flight was found; {Path.Combine(folder, FlightsFile.Name)} has its header alone. \"thermaltrace inspect {folder}\" shows what is in the logs."
                : string.Create(CultureInfo.InvariantCulture, $"{flights} {(flights == 1 ? "flight" : "flights")} found. Write what each carried into {Path.Combine(folder, FlightsFile.Name)}, column ballast_g."));
        }
        if (madeAirframe)
        {
            terminal.Say($"Fill in {Path.Combine(folder, AirframeFile.Name)}: name, span, area and mass.");
        }
        terminal.Say($"Then run \"thermaltrace debrief {folder}\".");
    }
}
