using System.Globalization;
using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;

namespace ThermalTrace.Cli.Commands;

/// <summary>The logbook in plain text.</summary>
internal static class LogbookText
{
    private const int LongestName = 24;
    private static readonly string[] Heads = ["id", "day", "airframe", "flights", "ballast g", "wind m/s", "lift m/s", "edr", "answer"];
    private static readonly string[] FlightHeads = ["log", "flight", "ballast", "mass", "launch", "aloft", "wind m/s", "edr", "climbs"];

    /// <summary>A session of <c>list --json</c>.</summary>
    public static LogbookListEntry Entry(ListedSession listed)
    {
        LogbookSession? s = listed.Session;
        return new LogbookListEntry(listed.Id, s?.Evidence.Date, s?.Airframe.Name, s?.Evidence.Flights.Count, s is null ? [] : LogbookWords.Ballasts(s), s?.Conditions, s?.Measure, s?.BestBallastG,
            s?.Verdict, s?.Reading?.Field, s?.Reading?.WindMps, s?.Reading?.HeightM, s?.AddedAt, s?.ChangedAt, listed.Damage);
    }

    /// <summary>The table of sessions.</summary>
    public static void WriteList(Terminal terminal, IReadOnlyList<ListedSession> sessions)
    {
        if (sessions.Count == 0)
        {
            terminal.Output.WriteLine("No session yet.");
            return;
        }
        TextTable.Write(terminal.Output, numbersFrom: Heads.Length, [Heads, .. sessions.Select(Row)]);
        terminal.Output.WriteLine();
        int airframes = sessions.Where(s => s.Session is not null).Select(s => LogbookSession.KeyOf(s.Session!.Airframe.Name)).Distinct().Count();
        terminal.Output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{sessions.Count} {(sessions.Count == 1 ? "session" : "sessions")} of {airframes} {(airframes == 1 ? "airframe" : "airframes")}."));
        terminal.Output.WriteLine("± is half of the 90 % interval; edr is turbulence, m^(2/3)/s (0.08 light, 0.30 rough).");
    }

    /// <summary>All that is kept of a session, but for the numbers that only programs read.</summary>
    public static void WriteSession(Terminal terminal, LogbookSession s)
    {
        void Line(string head, string text) => terminal.Output.WriteLine(Terminal.Visible($"  {head,-10}{text}"));
        ConditionsEntry c = s.Conditions;
        SessionEvidence e = s.Evidence;
        terminal.Output.WriteLine(Terminal.Visible($"{s.Id}: {s.Airframe.Name}, {e.Date ?? "day not known"}"));
        Line("wind", c.WindMps is null ? "not known" : $"{LogbookWords.About(c.WindMps, c.WindMpsLow, c.WindMpsHigh)} m/s at flying height");
        Line("lift", c.LiftMps is null ? "none" : $"{LogbookWords.About(c.LiftMps, c.LiftMpsLow, c.LiftMpsHigh)} m/s at the core, {LogbookWords.About(c.ThermalRadiusM, c.ThermalRadiusMLow, c.ThermalRadiusMHigh)} m radius");
        Line("air", c.Edr is null ? "turbulence not known" : $"turbulence {LogbookWords.Number(c.Edr, "0.00")} m^(2/3)/s");
        Line("answer", $"{LogbookWords.Answer(s)}. {s.Why}".TrimEnd());
        Line("field", (e.Field is { } f ? string.Create(CultureInfo.InvariantCulture, $"{f.LatitudeDeg:0.00}, {f.LongitudeDeg:0.00} (degrees, to about a kilometre)") : "place not known")
            + (s.Reading?.Field is { } name ? $", \"{name}\"" : ""));
        if (s.Reading?.WindMps is { } read)
        {
            Line("", $"you read {LogbookWords.Number(read, "0.0")} m/s at {LogbookWords.Number(s.Reading.HeightM, "0.#")} m");
        }
        Line("drag", e.Information.Count == 0 ? "no airspeed was known, so nothing is told of it"
            : string.Create(CultureInfo.InvariantCulture, $"{e.Terms.Count} terms from {e.Rows:0} rows, {e.Format}"));
        Line("kept", $"added {s.AddedAt}{(s.ChangedAt == s.AddedAt ? "" : $", replaced {s.ChangedAt}")}, {s.Program}");
        foreach (KeptLog log in s.Logs)
        {
            Line("log", string.Create(CultureInfo.InvariantCulture, $"{log.File}, {log.Rows} rows, SHA-256 {log.Sha256}"));
        }
        if (e.Flights.Count > 0)
        {
            terminal.Output.WriteLine();
            TextTable.Write(terminal.Output, numbersFrom: 1, [FlightHeads, .. e.Flights.Select((flight, i) => Row(flight, e.Climbs.Count(k => k.Flight == i)))]);
        }
    }

    private static string[] Row(ListedSession listed) => listed.Session is { } s
        ?
        [
            s.Id, s.Evidence.Date ?? "-", Short(s.Airframe.Name), s.Evidence.Flights.Count.ToString(CultureInfo.InvariantCulture),
            LogbookWords.Ballasts(s) is { Count: > 0 } b ? string.Join(' ', b.Select(g => LogbookWords.Number(g, "0.#"))) : "-",
            LogbookWords.About(s.Conditions.WindMps, s.Conditions.WindMpsLow, s.Conditions.WindMpsHigh), LogbookWords.About(s.Conditions.LiftMps, s.Conditions.LiftMpsLow, s.Conditions.LiftMpsHigh),
            LogbookWords.Number(s.Conditions.Edr, "0.00"), listed.Damage.Count > 0 ? "DAMAGED" : Short(LogbookWords.Answer(s)),
        ]
        : [Short(listed.Id), "-", "-", "-", "-", "-", "-", "-", "DAMAGED"];

    private static string[] Row(FlightFact f, int climbs) =>
    [
        Short(f.Log), f.Number.ToString(CultureInfo.InvariantCulture), f.BallastG is null ? "?" : LogbookWords.Number(f.BallastG, "0.#") + " g", LogbookWords.Number(f.MassKg * 1000, "0") + " g",
        f.LaunchHeightM is null ? "-" : LogbookWords.Number(f.LaunchHeightM, "0") + " m", ClockText.Length(double.IsFinite(f.AloftS) ? f.AloftS : 0),
        f.WindMps is null ? "-" : $"{LogbookWords.Number(f.WindMps, "0.0")} ±{LogbookWords.Number(1.645 * f.WindErrorMps, "0.0")}", LogbookWords.Number(f.Edr, "0.00"),
        climbs.ToString(CultureInfo.InvariantCulture) + (f.Spoiled ? " spoiled" : ""),
    ];

    private static string Short(string text)
    {
        string visible = Terminal.Visible(text.ReplaceLineEndings(" "));
        return visible.Length <= LongestName ? visible : visible[..(LongestName - 1)] + "…";
    }
}
