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
        terminal.Output.WriteLine(Terminal.Visible(LogbookWords.Head(s)));
        foreach ((string head, string text) in LogbookWords.Facts(s))
        {
            terminal.Output.WriteLine(Terminal.Visible($"  {head,-10}{text}"));
        }
        if (s.Evidence.Flights.Count > 0)
        {
            terminal.Output.WriteLine();
            TextTable.Write(terminal.Output, numbersFrom: 1, [[.. LogbookWords.FlightHeads], .. LogbookWords.Flights(s).Select(row => (string[])[Short(row[0]), .. row.Skip(1)])]);
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

    private static string Short(string text)
    {
        string visible = Terminal.Visible(text.ReplaceLineEndings(" "));
        return visible.Length <= LongestName ? visible : visible[..(LongestName - 1)] + "…";
    }
}
