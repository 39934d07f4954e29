using System.Text;
using System.Text.Json;
using ThermalTrace.Logbook;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Units;

namespace ThermalTrace.Fuzz;

/// <summary>One reader of untrusted files: whole files to break, and what is to hold for any.</summary>
/// <param name="Name">Short; findings are kept in a folder of this name.</param>
/// <param name="Share">Of a run's inputs.</param>
/// <param name="Seeds">Whole files.</param>
/// <param name="Read">Reads; the second argument is a folder of its own, which holds nothing else.</param>
internal sealed record Target(string Name, double Share, IReadOnlyList<byte[]> Seeds, Action<byte[], string> Read);

/// <summary>All readers of files that come from elsewhere.</summary>
internal static class Targets
{
    // Short logs reach every branch as well as long ones do, and many times as often.
    private const int SeedRows = 40;

    public static IReadOnlyList<Target> All()
    {
        byte[] results = [], kept = [];
        List<byte[]> logs = [.. LogSeeds()];
        Session session = SmallSession();
        DebriefResult debrief = Debrief.Run(session, new DebriefOptions());
        using (MemoryStream stream = new())
        {
            ResultsJson.Write(stream, debrief.Document);
            results = stream.ToArray();
        }
        LogbookSession told = LogbookSession.Of(debrief.Document, new DateTimeOffset(2031, 6, 14, 12, 0, 0, TimeSpan.Zero));
        byte[] exported;
        using (MemoryStream stream = new())
        {
            LogbookExport.WriteJson(stream, [told]);
            exported = stream.ToArray();
        }
        kept = LogbookSeed(told);
        return
        [
            new("log", 0.40, logs, (bytes, _) => LogImporter.Read(new MemoryStream(bytes), "log.csv", [])),
            new("session", 0.001, [.. SmallSessionLogs()], (bytes, _) => WholeDebrief(bytes)),
            new("flights", 0.119, [Text("log,flight,ballast_g,flying_mass_g,cg_mm,camber,spoiled,notes\nlog-01.csv,1,0,,52.5,cruise,,\"calm, early\"\nlog-01.csv,2-4,30,292.4,,,yes,\nlog-02.csv,10:05-10:20,60,,,,no,x\n"),
                Text("log;ballast_g\nlog-01.csv;12,5\n# remark\nlog-02.csv;\n")], (bytes, _) => FlightsFile.Read(Decoded(bytes), "flights.csv")),
            new("columns", 0.06, [Text("log,column,quantity,unit\n,Alt [ft],altitude,ft\nlog-01.csv,\"T, up\",time,ms\n,junk,ignore,\n")], (bytes, _) => ColumnsFile.Read(Decoded(bytes), "columns.csv")),
            new("phases", 0.06, [Text("log,flight,start_s,end_s,kind\nlog-01.csv,1,12.5,80,climb\nlog-01.csv,,80,95.25,landing\n")], (bytes, _) => PhasesFile.Read(Decoded(bytes), "phases.csv")),
            new("airframe", 0.12, [Text(FullAirframe), Text("{\"name\":\"a\",\"wing_span_mm\":1500,\"wing_area_dm2\":22.4,\"unballasted_mass_g\":262}")],
                (bytes, _) => AirframeFile.Read(Decoded(bytes), "airframe.json", name => name == "foil.csv" ? new StringReader(Foil) : null)),
            new("foil", 0.04, [Text(Foil)], (bytes, _) => AirfoilPolarFile.Read(Decoded(bytes), "foil.csv")),
            new("results", 0.10, [results], (bytes, _) =>
            {
                ResultsDocument document = ResultsJson.Read(new MemoryStream(bytes));
                LogbookSession.Of(document, new DateTimeOffset(2031, 6, 14, 12, 0, 0, TimeSpan.Zero));
            }),
            new("exchange", 0.09, [exported], (bytes, _) => ReadExchange(bytes)),
            new("logbook", 0.01, [kept], ReadLogbook),
        ];
    }

    private static void WholeDebrief(byte[] bytes)
    {
        using StringReader airframe = new(FullAirframe);
        FlightLog log = LogImporter.Read(new MemoryStream(bytes), "log.csv", []);
        Session session = new(AirframeFile.Read(airframe, "airframe.json", _ => new StringReader(Foil)), [log],
            [new FlightNote { Log = "log.csv", BallastG = 30 }], [], []);
        DebriefResult result = Debrief.Run(session, new DebriefOptions { Threads = 1 });
        using MemoryStream written = new();
        ResultsJson.Write(written, result.Document);
        ReportHtml.Write(TextWriter.Null, result.Document, ReportContents.Of(result.Document, result.Traces));
    }

    private static void ReadExchange(byte[] bytes)
    {
        JsonDocument document;
        try
        {
            document = JsonDocument.Parse(bytes);
        }
        catch (JsonException)
        {
            return; // told from other files before it comes to the reader
        }
        using (document)
        {
            LogbookImport.ReadJson(document.RootElement, "logbook.json");
        }
    }

    private static void ReadLogbook(byte[] bytes, string folder)
    {
        string path = Path.Combine(folder, "logbook.sqlite");
        File.WriteAllBytes(path, bytes);
        using LogbookFile file = LogbookFile.OpenToRead(path);
        file.List();
        file.ForEach(_ => { });
    }

    private static byte[] LogbookSeed(LogbookSession session)
    {
        string folder = Directory.CreateTempSubdirectory("thermaltrace-fuzz-").FullName;
        try
        {
            string path = Path.Combine(folder, "logbook.sqlite");
            using (LogbookFile file = LogbookFile.OpenToWrite(path))
            {
                file.Add(session);
            }
            return File.ReadAllBytes(path);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static IEnumerable<byte[]> LogSeeds()
    {
        foreach (LogFlavour flavour in Enum.GetValues<LogFlavour>())
        {
            foreach (SimulatedFile log in Simulator.Run(Options(flavour)).Logs.Take(1))
            {
                yield return Text(string.Join('\n', Encoding.UTF8.GetString(log.Bytes).Split('\n').Take(SeedRows)) + "\n");
            }
        }
        yield return Text("# logger 3\r\nDatum;Uhrzeit;Höhe [m];Vario [m/s];Position\r\n14.06.2031;10:05:00,2;120,5;0,1;N52°30.500' E013°24.100'\r\n14.06.2031;10:05:00,4;120,9;0,4;N52°30.501' E013°24.102'\r\n");
        yield return Text("timestamp_ms\tPressure (hPa)\tTAS (km/h)\tax\tay\taz\tmotor\n0\t1001.25\t32\t0.1\t0\t9.8\t0\n200\t1001.21\t33\t0.1\t0\t9.9\t1\n400\t\t33\t0.1\t0\t9.7\t1\n");
        yield return Text("<?xml version=\"1.0\"?><gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>"
            + string.Concat(Enumerable.Range(0, 12).Select(i => string.Create(System.Globalization.CultureInfo.InvariantCulture, $"<trkpt lat=\"52.{5000 + i}\" lon=\"13.{4000 + i}\"><ele>{120 + i}</ele><time>2031-06-14T10:05:{i:00}Z</time></trkpt>\n")))
            + "</trkseg></trk></gpx>");
    }

    private static Session SmallSession()
    {
        SimulatedSession simulated = Simulator.Run(Options(LogFlavour.Comma));
        using StringReader airframe = new(simulated.AirframeJson), flights = new(simulated.FlightsCsv);
        return new Session(AirframeFile.Read(airframe, "airframe.json"), [.. simulated.Logs.Select(l => LogImporter.Read(new MemoryStream(l.Bytes), l.FileName, []))],
            FlightsFile.Read(flights, "flights.csv"), [], []);
    }

    private static IEnumerable<byte[]> SmallSessionLogs() => Simulator.Run(Options(LogFlavour.Comma)).Logs.Select(l => l.Bytes);

    private static SimulationOptions Options(LogFlavour flavour) => new() { Seed = 5, Flights = 1, RateHz = 1, Flavour = flavour };

    private const string FullAirframe = """
        {
          // all there is
          "name": "Tansy", "wing_span_mm": 1500, "wing_area_dm2": 22.4, "unballasted_mass_g": 262, "max_flying_mass_g": 420, "launch": "discus",
          "ballast_options_g": [0, 30, 60], "cg_mm": 72, "cg_limits_mm": [66, 76], "mean_chord_mm": 142, "neutral_point_mm": 84, "pitch_inertia_kg_m2": 0.011,
          "ballast_tube": { "bore_mm": 8.2, "length_mm": 110, "centre_mm": 70 },
          "ballast_stock": [ { "name": "brass 10", "material": "brass", "mass_g": 10, "diameter_mm": 8, "length_mm": 23.4, "count": 3 }, ],
          "airfoil_polar": "foil.csv",
        }
        """;

    private const string Foil = "reynolds,cl,cd\n100000,0.1,0.011\n100000,0.5,0.012\n100000,0.9,0.02\n200000,0.1,0.009\n200000,0.5,0.010\n200000,0.9,0.016\n";

    private static byte[] Text(string text) => Encoding.UTF8.GetBytes(text);

    private static StringReader Decoded(byte[] bytes) => new(Encoding.UTF8.GetString(bytes));
}
