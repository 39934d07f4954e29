using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>Provenance of a session: a log by name, hash and length.</summary>
/// <param name="File">File name (untrusted text).</param>
/// <param name="Sha256">Of its bytes, 64 hexadecimal digits in lower case.</param>
/// <param name="Rows">Rows.</param>
public sealed record KeptLog(string File, string Sha256, int Rows);

/// <summary>What the pilot noted at the field: with the wind at flying height it teaches the ratio of the two there.</summary>
/// <param name="Field">The field's name (untrusted text); null where not given.</param>
/// <param name="WindMps">Wind as read, m/s; null where not read.</param>
/// <param name="HeightM">At which height over ground, m.</param>
public sealed record FieldReading(string? Field, double? WindMps, double? HeightM);

/// <summary>A session as the logbook keeps it: what estimation needs to go on, and where it came from. Not the logs.</summary>
public sealed record LogbookSession
{
    /// <summary>Short name, unique in its logbook; made of airframe and logs.</summary>
    public required string Id { get; init; }
    /// <summary>The model.</summary>
    public required AirframeEntry Airframe { get; init; }
    /// <summary>Its logs in order of their names.</summary>
    public required IReadOnlyList<KeptLog> Logs { get; init; }
    /// <summary>What later estimation adds up.</summary>
    public required SessionEvidence Evidence { get; init; }
    /// <summary>round_trip_climb or still_air_time.</summary>
    public required string Measure { get; init; }
    /// <summary>Of the day.</summary>
    public required ConditionsEntry Conditions { get; init; }
    /// <summary>g; null where not known.</summary>
    public required double? BestBallastG { get; init; }
    /// <summary>clear, leaning, no_difference or unknown.</summary>
    public required string Verdict { get; init; }
    /// <summary>In a sentence.</summary>
    public required string Why { get; init; }
    /// <summary>The program that debriefed it.</summary>
    public required string Program { get; init; }
    /// <summary>When first added, UTC, ISO 8601.</summary>
    public required string AddedAt { get; init; }
    /// <summary>When last replaced, UTC, ISO 8601; the same as <see cref="AddedAt"/> where it was not.</summary>
    public required string ChangedAt { get; init; }
    /// <summary>What the pilot noted; null where nothing was.</summary>
    public FieldReading? Reading { get; init; }

    /// <summary>By which the sessions of one airframe are known: its name, trimmed, whatever the case of its letters.</summary>
    public static string KeyOf(string airframeName)
    {
        ArgumentNullException.ThrowIfNull(airframeName);
        return airframeName.Trim().ToUpperInvariant();
    }

    /// <summary>
    /// What is kept of a debrief. It is taken as its results.json has it, so that a session added from its folder and one added
    /// from its file are the same.
    /// </summary>
    /// <param name="document">Of the debrief.</param>
    /// <param name="now">The time it is added.</param>
    /// <param name="reading">What the pilot noted.</param>
    /// <param name="name">What messages call it.</param>
    /// <exception cref="UnusableInputException">Evidence of another program's format, or one that does not hang together.</exception>
    public static LogbookSession Of(ResultsDocument document, DateTimeOffset now, FieldReading? reading = null, string name = "results.json")
    {
        ArgumentNullException.ThrowIfNull(document);
        ResultsDocument doc = ResultsJson.AsWritten(document);
        if (doc.Evidence is not { Format: SessionEvidence.CurrentFormat, Basis: not null })
        {
            throw new UnusableInputException($"{name}: its evidence is \"{doc.Evidence.Format}\", expected \"{SessionEvidence.CurrentFormat}\"; debrief the session again with this program");
        }
        string stamp = Stamp(now);
        KeptLog[] logs = [.. doc.Logs.Select(l => new KeptLog(l.File, l.Sha256.ToLowerInvariant(), l.Rows)).OrderBy(l => l.File, StringComparer.Ordinal)];
        LogbookSession session = new()
        {
            Id = IdOf(doc.Airframe.Name, logs)[..ShortestId],
            Airframe = doc.Airframe,
            Logs = logs,
            Evidence = doc.Evidence,
            Measure = doc.Comparison.Measure,
            Conditions = doc.Comparison.Conditions,
            BestBallastG = doc.Comparison.BestBallastG,
            Verdict = doc.Comparison.Verdict,
            Why = doc.Comparison.Why,
            Program = doc.Program,
            AddedAt = stamp,
            ChangedAt = stamp,
            Reading = reading,
        };
        SessionCheck.Require(session, name);
        return session;
    }

    /// <summary>Digits of an id where no other session begins alike.</summary>
    internal const int ShortestId = 8;

    /// <summary>A time as the logbook writes it.</summary>
    internal static string Stamp(DateTimeOffset time) => time.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    /// <summary>All digits of the id of an airframe's session with these logs, in whatever order.</summary>
    internal static string IdOf(string airframe, IEnumerable<KeptLog> logs) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes($"{KeyOf(airframe)}\n{string.Join('\n', logs.Select(l => l.Sha256).Order(StringComparer.Ordinal))}")));
}
