using System.Globalization;
using System.Text.Json.Serialization;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Learning;

/// <summary>
/// What later estimation needs of a session, so that sessions add up without their logs: the airframe's drag terms as a
/// Gaussian likelihood, and what was flown. Opaque to other programs. docs/models/season.md.
/// </summary>
public sealed record SessionEvidence
{
    /// <summary>The format that this program writes and adds up.</summary>
    public const string CurrentFormat = "thermaltrace.evidence/2";

    /// <summary>Format of what follows.</summary>
    public required string Format { get; init; }

    /// <summary>Names of the terms: the airframe's, the air's and the sensors', one for each of <see cref="BallastsG"/>, then the cambers'.</summary>
    public required IReadOnlyList<string> Terms { get; init; }

    /// <summary>Information matrix of the likelihood over the terms, row-major; empty where no flight had airspeed.</summary>
    [JsonConverter(typeof(ExactNumbersConverter))]
    public required IReadOnlyList<double> Information { get; init; }

    /// <summary>Information times estimate; as long as <see cref="Terms"/> or empty.</summary>
    [JsonConverter(typeof(ExactNumbersConverter))]
    public required IReadOnlyList<double> Score { get; init; }

    /// <summary>Rows behind it.</summary>
    public required double Rows { get; init; }

    /// <summary>Day of the session as its logs have it, yyyy-MM-dd; null where they have none.</summary>
    public string? Date { get; init; }

    /// <summary>Where it was flown, degrees to a hundredth (about a kilometre); null without satellite positions.</summary>
    public FieldPosition? Field { get; init; }

    /// <summary>What the terms are multiples of; null in documents of earlier programs, which do not add up.</summary>
    public DragBasis? Basis { get; init; }

    /// <summary>Prior mean of each term in this session.</summary>
    [JsonConverter(typeof(ExactNumbersConverter))]
    public IReadOnlyList<double> PriorMean { get; init; } = [];

    /// <summary>Prior standard deviation of each term in this session.</summary>
    [JsonConverter(typeof(ExactNumbersConverter))]
    public IReadOnlyList<double> PriorSd { get; init; } = [];

    /// <summary>By what the drag's posterior variance grows when the air's habits are not taken as known; 1 where nothing was fitted.</summary>
    public double Widening { get; init; } = 1;

    /// <summary>Ballasts with a term of their own, g.</summary>
    public IReadOnlyList<double> BallastsG { get; init; } = [];

    /// <summary>Flights in order.</summary>
    public IReadOnlyList<FlightFact> Flights { get; init; } = [];

    /// <summary>Climbs in order.</summary>
    public IReadOnlyList<ClimbFact> Climbs { get; init; } = [];

    /// <summary>Gathers a session's evidence.</summary>
    internal static SessionEvidence Of(Session session, IReadOnlyList<FlownFlight> flights, Drag drag)
    {
        DragTerms terms = drag.Maker.Terms;
        double bareG = session.Airframe.UnballastedMassG;
        PolarEstimate? estimate = drag.Estimate;
        return new SessionEvidence
        {
            Format = CurrentFormat,
            Terms = terms.Names([.. drag.Options.Select(o => o.BallastG)]),
            Information = estimate is null ? [] : [.. estimate.Information.ToRowMajorArray()],
            Score = estimate is null ? [] : [.. estimate.Score.ToArray()],
            Rows = estimate?.Rows ?? 0,
            Date = session.Logs.Where(l => l.StartedAt is not null).Select(l => l.StartedAt!.Value).DefaultIfEmpty().Min() is { Ticks: > 0 } first
                ? first.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)
                : null,
            Field = FieldPosition.Of(session.Logs),
            Basis = DragBasis.Of(drag.Prediction),
            PriorMean = [.. terms.PriorMean.ToArray()],
            PriorSd = [.. terms.PriorCovariance.Diagonal().Map(Math.Sqrt).ToArray()],
            Widening = estimate is null ? 1 : WideningOf(estimate),
            BallastsG = [.. drag.Options.Select(o => o.BallastG)],
            Flights = [.. flights.Select(f => FlightFact.Of(f, session.Logs[f.Flight.Track.Log].File, bareG))],
            Climbs = [.. flights.SelectMany((f, i) => f.Climbs.Select(c => ClimbFact.Of(c, i)))],
        };
    }

    /// <summary>Mean over the drag's physical terms and nodes of the draws' variance over that at the mode; at least 1.</summary>
    private static double WideningOf(PolarEstimate estimate)
    {
        Matrix<double> precision = estimate.Information + estimate.Terms.PriorPrecision;
        Matrix<double> covariance = precision.Inverse();
        double sum = 0;
        for (int j = 0; j < DragTerms.Gusts; j++)
        {
            double mean = estimate.Draws.Average(d => d[j]);
            sum += estimate.Draws.Average(d => (d[j] - mean) * (d[j] - mean)) / covariance[j, j];
        }
        return Math.Max(1, sum / DragTerms.Gusts);
    }
}

/// <summary>A field, degrees.</summary>
public sealed record FieldPosition(double LatitudeDeg, double LongitudeDeg)
{
    internal static FieldPosition? Of(IReadOnlyList<FlightLog> logs)
    {
        foreach (FlightLog log in logs)
        {
            ReadOnlySpan<double> latitude = log[Quantity.Latitude], longitude = log[Quantity.Longitude];
            for (int i = 0; i < Math.Min(latitude.Length, longitude.Length); i++)
            {
                if (!double.IsNaN(latitude[i]) && !double.IsNaN(longitude[i]))
                {
                    return new FieldPosition(Math.Round(latitude[i], 2), Math.Round(longitude[i], 2));
                }
            }
        }
        return null;
    }
}

/// <summary>Geometry and expected drag curve that a session's terms are multiples of.</summary>
public sealed record DragBasis(double AreaM2, double AspectRatio, double ChordM, double ReferenceReynolds, double Cd0, double ReynoldsExponent, double ProfileRise,
    double LeastDragCl, double InverseSpanEfficiency, double StallRise)
{
    internal static DragBasis Of(Prediction prediction)
    {
        (Planform p, DragCurve c) = (prediction.Planform, prediction.Curve);
        return new DragBasis(p.AreaM2, p.AspectRatio, p.ChordM, p.ReferenceReynolds, c.Cd0, c.ReynoldsExponent, c.ProfileRise, c.LeastDragCl, c.InverseSpanEfficiency, c.StallRise);
    }

    internal Planform Planform => new(AreaM2, AspectRatio, ChordM, ReferenceReynolds);

    internal DragCurve Curve => new(Cd0, ReynoldsExponent, ProfileRise, LeastDragCl, InverseSpanEfficiency, StallRise);
}

/// <summary>One flight as later estimation sees it; null where not known.</summary>
public sealed record FlightFact
{
    /// <summary>File name of its log (untrusted text).</summary>
    public required string Log { get; init; }
    /// <summary>Counted from 1 in its log.</summary>
    public required int Number { get; init; }
    /// <summary>g.</summary>
    public required double? BallastG { get; init; }
    /// <summary>kg; without ballast known, that of the bare model.</summary>
    public required double MassKg { get; init; }
    /// <summary>Aft of the wing root's leading edge, mm, where noted.</summary>
    public required double? CgMm { get; init; }
    /// <summary>True where per-ballast results may rest on it: ballast known and not spoiled.</summary>
    public required bool Counts { get; init; }
    /// <summary>True where the pilot said that it is not to be used.</summary>
    public required bool Spoiled { get; init; }
    /// <summary>Height when the first launch ended, m.</summary>
    public required double? LaunchHeightM { get; init; }
    /// <summary>From the end of the launch to the beginning of the landing, s.</summary>
    public required double AloftS { get; init; }
    /// <summary>Of that, gliding, s.</summary>
    public required double GlideS { get; init; }
    /// <summary>Way through the air while gliding, m; null without airspeed.</summary>
    public required double? GlideWayM { get; init; }
    /// <summary>Mean wind, m/s, and its standard error.</summary>
    public required double? WindMps { get; init; }
    /// <summary>m/s.</summary>
    public required double? WindErrorMps { get; init; }
    /// <summary>m^(2/3)/s.</summary>
    public required double? Edr { get; init; }
    /// <summary>How the model was thrown about, gliding.</summary>
    public required double? LoadFactorRms { get; init; }

    internal static FlightFact Of(FlownFlight flown, string log, double bareMassG)
    {
        Flight flight = flown.Flight;
        double step = flight.Track.StepS, glide = 0, aloft = 0, way = 0;
        foreach (Segment s in flight.Segments.Where(s => s.Kind is PhaseKind.Glide or PhaseKind.Climb))
        {
            aloft += (s.End - s.First) * step;
            if (s.Kind == PhaseKind.Glide)
            {
                glide += (s.End - s.First) * step;
                for (int i = s.First; flown.Air is { } air && i < s.End && i - flight.First < air.AirspeedMps.Length; i++)
                {
                    double v = air.AirspeedMps[i - flight.First];
                    way += double.IsNaN(v) ? 0 : v * step;
                }
            }
        }
        Segment first = flight.Segments[0];
        static double? Known(double value) => double.IsFinite(value) ? value : null;
        return new FlightFact
        {
            Log = log,
            Number = flight.Number,
            BallastG = flown.Load.BallastG,
            MassKg = (flown.Load.FlyingMassG ?? bareMassG) / 1000,
            CgMm = flown.Load.CgMm,
            Counts = flown.Counts,
            Spoiled = flown.Load.Spoiled,
            LaunchHeightM = first.Kind == PhaseKind.Launch ? Known(flight.LaunchHeightM(first)) : null,
            AloftS = aloft,
            GlideS = glide,
            GlideWayM = flown.Air is null ? null : way,
            WindMps = flown.Air is { } a ? Known(a.Wind.SpeedMps) : null,
            WindErrorMps = flown.Air is { } b ? Known(b.Wind.StandardErrorMps) : null,
            Edr = flown.Turbulence.IsKnown ? flown.Turbulence.Edr : null,
            LoadFactorRms = Known(flown.Ride.LoadFactorRms),
        };
    }
}

/// <summary>One climb as later estimation sees it; members as in <c>FlownClimb</c>, null where not known.</summary>
/// <param name="Flight">Index of its flight.</param>
/// <param name="Seconds">Its length.</param>
/// <param name="ClimbMps">Mean rate over it.</param>
/// <param name="EstablishedS">How long the model was established in the lift, 0 where that is too short to tell.</param>
/// <param name="GainMps">Mean rate at which energy height was gained meanwhile.</param>
/// <param name="AirspeedMps">Mean true airspeed.</param>
/// <param name="LoadFactor">Mean load factor.</param>
/// <param name="HeightM">Mean height over ground.</param>
/// <param name="DensityKgM3">Of the air.</param>
public sealed record ClimbFact(int Flight, double Seconds, double ClimbMps, double EstablishedS, double? GainMps, double? AirspeedMps, double? LoadFactor,
    double HeightM, double DensityKgM3)
{
    internal static ClimbFact Of(FlownClimb c, int flight)
    {
        static double? Known(double value) => double.IsFinite(value) ? value : null;
        return new ClimbFact(flight, c.Seconds, c.ClimbMps, c.EstablishedS, Known(c.GainMps), Known(c.AirspeedMps), Known(c.LoadFactor), c.HeightM, c.DensityKgM3);
    }

    internal FlownClimb Flown => new(Seconds, ClimbMps, AirspeedMps ?? double.NaN, LoadFactor ?? double.NaN, HeightM, DensityKgM3)
    {
        EstablishedS = EstablishedS,
        GainMps = GainMps ?? double.NaN,
    };
}

/// <summary>A session of the season: its evidence, and what it is called in the logbook.</summary>
/// <param name="Id">Unique; the logbook's key.</param>
/// <param name="Evidence">Of the session.</param>
public sealed record SeasonSession(string Id, SessionEvidence Evidence);
