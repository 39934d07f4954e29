using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Tests.Reports;

namespace ThermalTrace.Tests.Logbook;

/// <summary>Sessions made up for the logbook: no estimator behind them, the same for the same seed.</summary>
internal static class MadeUpSession
{
    public static readonly DateTimeOffset Noon = new(2026, 6, 14, 12, 0, 0, TimeSpan.Zero);

    /// <summary>The hash that a log of that content would have.</summary>
    public static string Hash(string content) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(content)));

    public static LogbookSession Of(int seed, string airframe = "Tansy 150", int logs = 2, int flights = 6, int terms = 6, string? date = "2026-05-09") =>
        LogbookSession.Of(Document(seed, airframe, logs, flights, terms, date), Noon.AddMinutes(seed));

    /// <summary>One that takes little work to make, for a process that is to be killed.</summary>
    public static LogbookSession Bare(int seed) => new()
    {
        Id = Hash("bare " + seed.ToString(CultureInfo.InvariantCulture))[..LogbookSession.ShortestId],
        Airframe = new AirframeEntry("Tansy", 1500, 22.4, 262, null, null),
        Logs = [new KeptLog("log-01.csv", Hash(seed.ToString(CultureInfo.InvariantCulture)), 9_000)],
        Evidence = Evidence(seed, logs: 1, flights: 3, date: null),
        Measure = "round_trip_climb",
        Conditions = new ConditionsEntry(4.1, 1.9, 14, 0.14, 0, 1.4, 2.5, 9, 22),
        BestBallastG = 40,
        Verdict = "leaning",
        Why = "",
        Program = "",
        AddedAt = "2026-06-14T12:00:00Z",
        ChangedAt = "2026-06-14T12:00:00Z",
    };

    /// <summary>A debrief's document with evidence in it.</summary>
    public static ResultsDocument Document(int seed, string airframe = "Tansy 150", int logs = 2, int flights = 6, int terms = 6, string? date = "2026-05-09")
    {
        ResultsDocument document = (ExampleSession.Plain with { AirframeName = airframe }).Document();
        return document with
        {
            Logs = [.. Enumerable.Range(1, logs).Select(l => document.Logs[0] with { File = FormattableString.Invariant($"log-{l:00}.csv"), Sha256 = Hash($"{seed} {l}") })],
            Evidence = Evidence(seed, logs, flights, terms, date),
        };
    }

    public static SessionEvidence Evidence(int seed, int logs = 2, int flights = 6, int terms = 6, string? date = "2026-05-09")
    {
        Random random = new(seed);
        double[] Numbers(int count) => [.. Enumerable.Range(0, count).Select(_ => (random.NextDouble() - 0.5) * Math.Pow(10, random.Next(-8, 9)))];
        double Between(double low, double high) => low + (high - low) * random.NextDouble();
        return new SessionEvidence
        {
            Format = SessionEvidence.CurrentFormat,
            Terms = [.. Enumerable.Range(0, terms).Select(i => "term " + i.ToString(CultureInfo.InvariantCulture))],
            Information = Numbers(terms * terms),
            Score = Numbers(terms),
            Rows = 12_000 + seed,
            Date = date,
            Field = new FieldPosition(47.14, 9.88),
            Basis = new DragBasis(0.224, 10.04, 0.149, 81_000, 0.0152, -0.24, 0.0121, 0.35, 1.12, 0.41),
            PriorMean = Numbers(terms),
            PriorSd = [.. Numbers(terms).Select(Math.Abs)],
            Widening = 1 + random.NextDouble(),
            BallastsG = [0, 40],
            Flights = [.. Enumerable.Range(0, flights).Select(i => new FlightFact
            {
                Log = FormattableString.Invariant($"log-{i % logs + 1:00}.csv"),
                Number = i / logs + 1,
                BallastG = i == 0 ? null : 40 * (i % 2),
                MassKg = 0.262 + 0.04 * (i % 2),
                CgMm = i % 3 == 0 ? null : Between(60, 70),
                Counts = i > 0,
                Spoiled = i == 2,
                LaunchHeightM = Between(40, 60),
                AloftS = Between(60, 400),
                GlideS = Between(40, 300),
                GlideWayM = Between(400, 2_000),
                WindMps = Between(2, 6),
                WindErrorMps = Between(0.1, 0.3),
                Edr = Between(0.05, 0.3),
                LoadFactorRms = i % 2 == 0 ? null : Between(0.1, 0.2),
            })],
            Climbs = [.. Enumerable.Range(0, 2 * flights).Select(i => new ClimbFact(i / 2, Between(20, 90), Between(0.2, 1.5), Between(10, 60), Between(0.2, 1.5), Between(5, 8), Between(1.02, 1.2), Between(20, 120), Between(1.1, 1.225)))],
        };
    }

    /// <summary>Everything that a session holds, every number in full: equal texts are equal sessions.</summary>
    public static string Text(LogbookSession session) => JsonSerializer.Serialize(session) + Bits(session.Evidence);

    /// <summary>Everything that evidence holds, bit for bit.</summary>
    public static string Text(SessionEvidence evidence) => JsonSerializer.Serialize(evidence) + Bits(evidence);

    private static string Bits(SessionEvidence e) => string.Join(' ', e.Information.Concat(e.Score).Concat(e.PriorMean).Concat(e.PriorSd).Concat(e.BallastsG).Select(v => BitConverter.DoubleToInt64Bits(v).ToString("x16", CultureInfo.InvariantCulture)));
}
