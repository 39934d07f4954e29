using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Learning;
using ThermalTrace.Tests.Logbook;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Pages;

/// <summary>Folders and logbooks for the page of the season.</summary>
internal static class SeasonFolder
{
    /// <summary>A short session of a model with pieces of ballast and a tube for them.</summary>
    public static TempFolder WithPieces()
    {
        TempFolder files = new();
        string samples = Path.Combine(SharedFolder.Repository, "sample-logs");
        files.Write("airframe.json", File.ReadAllBytes(Path.Combine(samples, "tansy-150.json")));
        foreach (string name in (string[])["log-01.csv", "flights.csv"])
        {
            string text = File.ReadAllText(Path.Combine(samples, "larkmoor-evening", name));
            files.Write(name, string.Join('\n', text.Split('\n').Where(l => name != "flights.csv" || !l.StartsWith("log-02", StringComparison.Ordinal) && !l.StartsWith("log-03", StringComparison.Ordinal))));
        }
        return files;
    }

    /// <summary>The logbook that <see cref="OpenPages"/> is given.</summary>
    public static string LogbookOf(TempFolder files) => Path.Combine(files.Root, "logbook.sqlite");

    /// <summary>Puts a season of made-up days of the folder's model into the logbook; from half of it on the model sinks more.</summary>
    public static void AddSeason(TempFolder files, int days, double more = 0.2, string log = "day.csv", string field = "Larkmoor")
    {
        Airframe airframe = SessionFolder.ReadAirframe(files.Session);
        using LogbookFile logbook = LogbookFile.OpenToWrite(LogbookOf(files));
        for (int day = 0; day < days; day++)
        {
            SessionEvidence evidence = new MadeUpDay
            {
                Airframe = airframe,
                DragAreaM2 = MadeUpDay.Drag(airframe, day >= days / 2 ? more : 0),
                BallastsG = day % 2 == 0 ? [0, 30] : [0, 60],
                Date = MadeUpDay.Day(day),
                WindMps = day % 2,
                Noise = 0.02,
                Seed = day,
            }.Evidence();
            LogbookSession bare = MadeUpSession.Bare(day);
            logbook.Add(bare with
            {
                Airframe = bare.Airframe with { Name = airframe.Name },
                Logs = [new KeptLog(log, MadeUpSession.Hash($"day {day}"), 9_000)],
                Evidence = evidence with { Flights = [.. evidence.Flights.Select(f => f with { Log = log })] },
                Reading = day % 3 == 0 ? new FieldReading(field, 2.5, 2) : null,
            });
        }
    }
}
