namespace ThermalTrace.Simulation;

/// <summary>A file of a simulated session folder.</summary>
/// <param name="FileName">Within the folder.</param>
/// <param name="Bytes">Its content.</param>
public sealed record SimulatedFile(string FileName, byte[] Bytes);

/// <summary>A session with known truth, written in one flavour. Nothing here touches a disk.</summary>
public sealed record SimulatedSession
{
    internal SimulatedSession(SessionDraft draft, string flightsCsv, IReadOnlyList<SimulatedFile> logs, string truthJson)
    {
        (Draft, FlightsCsv, Logs, TruthJson) = (draft, flightsCsv, logs, truthJson);
    }

    /// <summary>For <c>airframe.json</c>.</summary>
    public string AirframeJson => Draft.AirframeJson;

    /// <summary>For <c>flights.csv</c>.</summary>
    public string FlightsCsv { get; }

    /// <summary>The logs' files.</summary>
    public IReadOnlyList<SimulatedFile> Logs { get; }

    /// <summary>For <c>NAME-truth.json</c> beside the folder.</summary>
    public string TruthJson { get; }

    /// <summary>What was true at every step of every flight, in the order flown: nothing a logger would know.</summary>
    public IEnumerable<TrueFlight> TrueFlights => Draft.Flights.Select(TrueFlight.Of);

    /// <summary>The same before any flavour; <see cref="SessionWriter"/> writes it again in another.</summary>
    internal SessionDraft Draft { get; }
}

/// <summary>A session before its logs have a file format.</summary>
/// <param name="AirframeJson">For <c>airframe.json</c>.</param>
/// <param name="Logs">What each log holds.</param>
/// <param name="Notes">Rows of <c>flights.csv</c>.</param>
/// <param name="Truth">The truth, given the ending of the logs' names.</param>
/// <param name="Flights">As flown.</param>
internal sealed record SessionDraft(string AirframeJson, IReadOnlyList<LogChannels> Logs, IReadOnlyList<FlightCarried> Notes, Func<string, string> Truth,
    IReadOnlyList<LoggedFlight> Flights);

/// <summary>Which flights of a log carried what.</summary>
/// <param name="LogStem">File name without its ending.</param>
/// <param name="Flight">Number in the log, counted from 1; null for all of it.</param>
/// <param name="BallastG">g.</param>
internal sealed record FlightCarried(string LogStem, int? Flight, double BallastG);

/// <summary>A log's rows as columns, in SI and free of any file's format; a column that is not logged is null, a value that is missing NaN.</summary>
internal sealed record LogChannels
{
    /// <summary>File name without its ending.</summary>
    public required string Stem { get; init; }

    /// <summary>The instant of time 0.</summary>
    public required DateTime StartUtc { get; init; }

    /// <summary>Seconds from <see cref="StartUtc"/>, in file order.</summary>
    public required IReadOnlyList<double> TimeS { get; init; }

    /// <summary>Static pressure, Pa; the barometric altitude is made from it by the standard atmosphere.</summary>
    public required IReadOnlyList<double> PressurePa { get; init; }

    /// <summary>m/s, up is positive.</summary>
    public IReadOnlyList<double>? ClimbRateMps { get; init; }

    /// <summary>Degrees.</summary>
    public IReadOnlyList<double>? LatitudeDeg { get; init; }

    /// <summary>Degrees.</summary>
    public IReadOnlyList<double>? LongitudeDeg { get; init; }

    /// <summary>m.</summary>
    public IReadOnlyList<double>? GpsAltitudeM { get; init; }

    /// <summary>m/s.</summary>
    public IReadOnlyList<double>? GroundSpeedMps { get; init; }

    /// <summary>Degrees clockwise from north.</summary>
    public IReadOnlyList<double>? TrackDeg { get; init; }

    /// <summary>Indicated, m/s.</summary>
    public IReadOnlyList<double>? AirspeedMps { get; init; }

    /// <summary>Magnitude of specific force, m/s².</summary>
    public IReadOnlyList<double>? AccelerationMps2 { get; init; }

    /// <summary>K.</summary>
    public IReadOnlyList<double>? TemperatureK { get; init; }

    /// <summary>Share of full power.</summary>
    public IReadOnlyList<double>? Motor { get; init; }

    /// <summary>The same log with the rows named, in that order.</summary>
    internal LogChannels Rows(IReadOnlyList<int> rows)
    {
        double[]? Pick(IReadOnlyList<double>? column) => column is null ? null : [.. rows.Select(r => column[r])];
        return this with
        {
            TimeS = Pick(TimeS)!,
            PressurePa = Pick(PressurePa)!,
            ClimbRateMps = Pick(ClimbRateMps),
            LatitudeDeg = Pick(LatitudeDeg),
            LongitudeDeg = Pick(LongitudeDeg),
            GpsAltitudeM = Pick(GpsAltitudeM),
            GroundSpeedMps = Pick(GroundSpeedMps),
            TrackDeg = Pick(TrackDeg),
            AirspeedMps = Pick(AirspeedMps),
            AccelerationMps2 = Pick(AccelerationMps2),
            TemperatureK = Pick(TemperatureK),
            Motor = Pick(Motor),
        };
    }
}
