using System.Globalization;
using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;

namespace ThermalTrace.Jobs;

/// <summary>The logbook in words, the same on a terminal and in a page. What comes from logs is untrusted text still.</summary>
internal static class LogbookWords
{
    private const double HeadHeightM = 2;

    /// <summary>What became of a session that was to be added, and which it is.</summary>
    public static string Outcome(LogbookSession session, AddOutcome outcome)
    {
        string what = outcome.What switch
        {
            Added.New => $"added as {outcome.Id}",
            Added.Unchanged => $"is already there as {outcome.Id}; nothing was changed",
            Added.Replaced => $"took the place of {outcome.Id}",
            Added.Refused => $"was not added: {string.Join("; ", outcome.Sentences)}",
            _ => $"left out, {outcome.Id} is later",
        };
        return outcome.What == Added.Refused ? what : $"{what} ({About(session)})";
    }

    /// <summary>Airframe, day and number of flights.</summary>
    public static string About(LogbookSession session) => string.Create(CultureInfo.InvariantCulture,
        $"{session.Airframe.Name}, {session.Evidence.Date ?? "day not known"}, {session.Evidence.Flights.Count} {(session.Evidence.Flights.Count == 1 ? "flight" : "flights")}");

    /// <summary>That nothing is damaged.</summary>
    public static string Sound(LogbookHealth health) =>
        string.Create(CultureInfo.InvariantCulture, $"Nothing is damaged: {health.Sessions} {(health.Sessions == 1 ? "session" : "sessions")}, {health.Rows} rows, every one as it was written.");

    /// <summary>What can be done where something is damaged.</summary>
    public const string SavingTheSound = "What is sound can be saved: \"thermaltrace logbook export DIR\", then \"thermaltrace logbook add DIR --logbook NEWFILE\". A damaged session is put right by adding its folder again.";

    /// <summary>Which ballast it was, and how surely.</summary>
    public static string Answer(LogbookSession session) => session.Verdict switch
    {
        "no_difference" => "no difference",
        "unknown" => "not known",
        _ => session.BestBallastG is { } best ? $"{Number(best, "0.#")} g, {session.Verdict}" : session.Verdict,
    };

    /// <summary>Flown, rising, g.</summary>
    public static IReadOnlyList<double> Ballasts(LogbookSession session) => [.. session.Evidence.Flights.Select(f => f.BallastG).OfType<double>().Distinct().Order()];

    /// <summary>The field's name, or where it lies to about a kilometre; null where neither is known.</summary>
    public static string? Place(LogbookSession session) => session.Reading?.Field
        ?? (session.Evidence.Field is { } field ? string.Create(CultureInfo.InvariantCulture, $"{field.LatitudeDeg:0.00}°, {field.LongitudeDeg:0.00}°") : null);

    /// <summary>A value with half of its interval.</summary>
    public static string About(double? value, double? low, double? high) => value is null ? "-"
        : low is { } l && high is { } h ? $"{Number(value, "0.0")} ±{Number((h - l) / 2, "0.0")}" : Number(value, "0.0");

    /// <summary>A number, or a dash where it is not known.</summary>
    public static string Number(double? value, string format) => value is { } v && double.IsFinite(v) ? v.ToString(format, CultureInfo.InvariantCulture) : "-";

    /// <summary>Name, model and day of a session.</summary>
    public static string Head(LogbookSession session) => $"{session.Id}: {session.Airframe.Name}, {session.Evidence.Date ?? "day not known"}";

    /// <summary>All that is kept of a session, but for its flights and the numbers that only programs read; a line without a head goes with the one above.</summary>
    public static IEnumerable<(string Head, string Text)> Facts(LogbookSession session)
    {
        ConditionsEntry c = session.Conditions;
        SessionEvidence e = session.Evidence;
        yield return ("wind", c.WindMps is null ? "not known" : $"{About(c.WindMps, c.WindMpsLow, c.WindMpsHigh)} m/s at flying height");
        yield return ("lift", c.LiftMps is null ? "none" : $"{About(c.LiftMps, c.LiftMpsLow, c.LiftMpsHigh)} m/s at the core, {About(c.ThermalRadiusM, c.ThermalRadiusMLow, c.ThermalRadiusMHigh)} m radius");
        yield return ("air", c.Edr is null ? "turbulence not known" : $"turbulence {Number(c.Edr, "0.00")} m^(2/3)/s");
        yield return ("answer", $"{Answer(session)}. {session.Why}".TrimEnd());
        yield return ("field", (e.Field is { } f ? string.Create(CultureInfo.InvariantCulture, $"{f.LatitudeDeg:0.00}, {f.LongitudeDeg:0.00} (degrees, to about a kilometre)") : "place not known")
            + (session.Reading?.Field is { } name ? $", \"{name}\"" : ""));
        if (session.Reading?.WindMps is { } read)
        {
            yield return ("", $"you read {Number(read, "0.0")} m/s at {Number(session.Reading.HeightM, "0.#")} m");
        }
        yield return ("drag", e.Information.Count == 0 ? "no airspeed was known, so nothing is told of it"
            : string.Create(CultureInfo.InvariantCulture, $"{e.Terms.Count} terms from {e.Rows:0} rows, {e.Format}"));
        yield return ("kept", $"added {session.AddedAt}{(session.ChangedAt == session.AddedAt ? "" : $", replaced {session.ChangedAt}")}, {session.Program}");
        foreach (KeptLog log in session.Logs)
        {
            yield return ("log", string.Create(CultureInfo.InvariantCulture, $"{log.File}, {log.Rows} rows, SHA-256 {log.Sha256}"));
        }
    }

    /// <summary>Heads of <see cref="Flights"/>.</summary>
    public static IReadOnlyList<string> FlightHeads { get; } = ["log", "flight", "ballast", "mass", "launch", "aloft", "wind m/s", "edr", "climbs"];

    /// <summary>A row for each flight.</summary>
    public static IEnumerable<IReadOnlyList<string>> Flights(LogbookSession session) => session.Evidence.Flights.Select((f, i) => (string[])
    [
        f.Log, f.Number.ToString(CultureInfo.InvariantCulture), f.BallastG is null ? "?" : Number(f.BallastG, "0.#") + " g", Number(f.MassKg * 1000, "0") + " g",
        f.LaunchHeightM is null ? "-" : Number(f.LaunchHeightM, "0") + " m", ClockText.Length(double.IsFinite(f.AloftS) ? f.AloftS : 0),
        f.WindMps is null ? "-" : $"{Number(f.WindMps, "0.0")} ±{Number(1.645 * f.WindErrorMps, "0.0")}", Number(f.Edr, "0.00"),
        session.Evidence.Climbs.Count(k => k.Flight == i).ToString(CultureInfo.InvariantCulture) + (f.Spoiled ? " spoiled" : ""),
    ]);

    /// <summary>What the pilot noted at the field; null where nothing was.</summary>
    /// <exception cref="WrongUsageException">It does not go together.</exception>
    public static FieldReading? Reading(string? field, double? windMps, double? heightM)
    {
        string? name = field?.Trim();
        if (name is { Length: 0 })
        {
            throw new WrongUsageException("--field is empty; expected the field's name");
        }
        if (heightM is not null && windMps is null)
        {
            throw new WrongUsageException("--wind-height is the height of a reading; expected --wind-read beside it");
        }
        return name is null && windMps is null ? null : new FieldReading(name, windMps, windMps is null ? null : heightM ?? HeadHeightM);
    }
}
