using ThermalTrace.Logs;

namespace ThermalTrace.Sessions;

/// <summary>A row of <c>flights.csv</c>: which flights of a log it speaks of and what they carried.</summary>
public sealed record FlightNote
{
    /// <summary>File name in the session folder.</summary>
    public required string Log { get; init; }

    /// <summary>First and last flight number, counted from 1; null for all (or where a time range is given).</summary>
    public (int First, int Last)? Numbers { get; init; }

    /// <summary>Range of time of day on the log's own clock, s after midnight; a flight belongs when its launch lies within.</summary>
    public (double FromS, double ToS)? ClockRangeS { get; init; }

    /// <summary>g; null where left blank (not known).</summary>
    public double? BallastG { get; init; }

    /// <summary>A weighing, g; wins over the sum of airframe and ballast.</summary>
    public double? FlyingMassG { get; init; }

    /// <summary>Aft of the wing root's leading edge, mm.</summary>
    public double? CgMm { get; init; }

    /// <summary>Wing setting flown throughout (untrusted text).</summary>
    public string? Camber { get; init; }

    /// <summary>The pilot says that the flight is not to be used.</summary>
    public bool Spoiled { get; init; }

    /// <summary>Free text (untrusted).</summary>
    public string? Notes { get; init; }

    /// <summary>Line in flights.csv, counted from 1.</summary>
    public int Line { get; init; }
}

/// <summary>A phase boundary that a person set: seconds from the log's earliest stamp.</summary>
/// <param name="Log">File name.</param>
/// <param name="Flight">Number of the flight in the log, counted from 1; null where the row left it open.</param>
/// <param name="StartS">s.</param>
/// <param name="EndS">s.</param>
/// <param name="Kind">ground, launch, glide, climb or landing.</param>
/// <param name="Line">Line in phases.csv, counted from 1.</param>
public sealed record PhaseNote(string Log, int? Flight, double StartS, double EndS, string Kind, int Line);

/// <summary>A session folder, read: everything that the debrief starts from.</summary>
/// <param name="Airframe">The model.</param>
/// <param name="Logs">The logs that could be read, ordered by file name (ordinal).</param>
/// <param name="Flights">Rows of flights.csv in file order.</param>
/// <param name="Phases">Rows of phases.csv in file order.</param>
/// <param name="Notices">What a person should know of the folder as a whole (untrusted text inside), in a fixed order.</param>
public sealed record Session(Airframe Airframe, IReadOnlyList<FlightLog> Logs, IReadOnlyList<FlightNote> Flights,
    IReadOnlyList<PhaseNote> Phases, IReadOnlyList<string> Notices)
{
    /// <summary>The files read beside the logs, whose own hashes stand with them; empty for a session that was put together in memory.</summary>
    public IReadOnlyList<InputFile> Inputs { get; init; } = [];
}

/// <summary>A file that was read, and what was in it.</summary>
/// <param name="File">Name in the session folder.</param>
/// <param name="Sha256">Of its bytes, hexadecimal.</param>
public sealed record InputFile(string File, string Sha256);
