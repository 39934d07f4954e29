using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Reports;

/// <summary>Writes logs and flights into the document, and the traces behind its pictures.</summary>
internal static class FlightEntries
{
    private const int MostTracePoints = 1500;

    /// <summary>A log as the document lists it.</summary>
    public static LogEntry Log(FlightLog log) => new(log.File, log.Sha256, log.Rows, log.RateHz,
        [.. log.Channels.Select(c => new ChannelEntry(Words(c.Quantity), c.Column, c.Unit))], [.. log.Problems.Select(p => new ProblemEntry(p.Line, p.Text))]);

    /// <summary>A flight as the document lists it.</summary>
    public static FlightEntry Flight(FlownFlight flown, FlightLog log, Airframe airframe, Drag drag, ComparisonOutcome outcome) =>
        Seen(flown, log) with
        {
            WingLoadingGDm2 = flown.Load.FlyingMassG / airframe.WingAreaDm2,
            Turbulence = flown.Turbulence.IsKnown ? new TurbulenceEntry(flown.Turbulence.Edr, flown.Turbulence.Low, flown.Turbulence.High) : new TurbulenceEntry(null, null, null),
            Ride = new RideEntry(Known(flown.Ride.LoadFactorRms), Known(flown.Ride.EnergyRateRmsMps)),
            Lift = Lift(flown, airframe, drag, outcome),
        };

    /// <summary>A flight as far as it is known before anything is estimated from it.</summary>
    public static FlightEntry Seen(FlownFlight flown, FlightLog log)
    {
        Flight flight = flown.Flight;
        Track track = flight.Track;
        List<LaunchEntry> launches = [.. flight.Segments.Where(s => s.Kind == PhaseKind.Launch)
            .Select(s => new LaunchEntry(track.TimeS(s.First), track.TimeS(s.End), flight.LaunchHeightM(s)))];
        return new FlightEntry
        {
            Log = log.File,
            Number = flight.Number,
            StartS = flight.StartS,
            EndS = flight.EndS,
            BallastG = flown.Load.BallastG,
            FlyingMassG = flown.Load.FlyingMassG,
            WingLoadingGDm2 = null,
            Camber = flown.Load.Camber,
            Spoiled = flown.Load.Spoiled,
            Launch = launches.FirstOrDefault(),
            Launches = launches,
            Segments = [.. flight.Segments.Select(s => Segment(s, track))],
            Wind = Wind(flown.Air),
            Turbulence = new TurbulenceEntry(null, null, null),
            Ride = new RideEntry(null, null),
            Lift = flown.Climbs.Count == 0 ? new LiftEntry(0, null, null, null, null) : new LiftEntry(flown.Climbs.Count, ClimbMps(flown), null, null, null),
        };
    }

    /// <summary>The wind of a flight as the document lists it.</summary>
    public static WindEntry Wind(FlightAir? air) => air is { Wind: { } wind }
        ? new WindEntry(wind.EastMps, wind.NorthMps, wind.SpeedMps, wind.FromDeg, wind.StandardErrorMps)
        : new WindEntry(null, null, null, null, null);

    /// <summary>Mean over the flight's climbs, weighted by time.</summary>
    private static double ClimbMps(FlownFlight flown) => flown.Climbs.Sum(c => c.ClimbMps * c.Seconds) / flown.Climbs.Sum(c => c.Seconds);

    private static SegmentEntry Segment(Segment segment, Track track)
    {
        double change = track.SmoothAltitudeM[Math.Min(segment.End, track.Count - 1)] - track.SmoothAltitudeM[segment.First];
        double seconds = (segment.End - segment.First) * track.StepS;
        return new SegmentEntry(Words(segment.Kind), track.TimeS(segment.First), track.TimeS(segment.End), change,
            seconds > 0 ? -change / seconds : 0, Math.Clamp(segment.Probability, 0, 1));
    }

    private static LiftEntry Lift(FlownFlight flown, Airframe airframe, Drag drag, ComparisonOutcome outcome)
    {
        if (flown.Climbs.Count == 0)
        {
            return new LiftEntry(0, null, null, null, null);
        }
        double mass = (flown.Load.FlyingMassG ?? airframe.UnballastedMassG) / 1000;
        int ballast = flown.Counts ? Drag.IndexOf(drag.Options, flown.Load.BallastG!.Value) : -1;
        Band lift = Comparison.LiftOf([.. flown.Climbs.Select(c => (c, mass, ballast))], airframe.UnballastedMassG / 1000, drag.Maker, drag.Draws, outcome.Edr);
        return new LiftEntry(flown.Climbs.Count, ClimbMps(flown), Known(lift.Value), Known(lift.Low), Known(lift.High));
    }

    /// <summary>The flight's trace, thinned evenly.</summary>
    public static FlightTrace Trace(FlownFlight flown) => Thinned(flown, MostTracePoints);

    /// <summary>The flight's trace, thinned evenly to so many points at most.</summary>
    public static FlightTrace Thinned(FlownFlight flown, int most)
    {
        Flight flight = flown.Flight;
        Track track = flight.Track;
        int count = flight.End - flight.First;
        int stride = Math.Max(1, (count + most - 1) / most);
        int n = (count + stride - 1) / stride;
        double[] time = new double[n], height = new double[n], east = new double[n], north = new double[n], speed = new double[n];
        for (int p = 0; p < n; p++)
        {
            int i = flight.First + p * stride, k = i - flight.First;
            time[p] = track.TimeS(i);
            height[p] = track.SmoothAltitudeM[i] - flight.GroundAltitudeM;
            east[p] = track.Ground is { } g ? g.EastM[i] - g.EastM[flight.First] : double.NaN;
            north[p] = track.Ground is { } h ? h.NorthM[i] - h.NorthM[flight.First] : double.NaN;
            speed[p] = flown.Air is { } air ? air.AirspeedMps[k] * Math.Sqrt(track.Density.AtKgM3(track.SmoothAltitudeM[i]) / PhysicalConstants.SeaLevelDensityKgM3) : double.NaN;
        }
        return new FlightTrace(time, height, east, north, speed);
    }

    /// <summary>The glides behind the polars as points.</summary>
    public static IReadOnlyList<GlidePoint> Glides(IReadOnlyList<FlownFlight> flights, IReadOnlyList<FlightLog> logs, Drag drag)
    {
        if (drag.Estimate is not { } estimate)
        {
            return [];
        }
        return [.. drag.Flights.SelectMany(f => GlidePieces.Of(f.Flight, estimate, drag.Maker).Select(p => new GlidePoint(
            logs[flights[f.Index].Flight.Track.Log].File, flights[f.Index].Flight.Number, p.StartS, p.EndS, flights[f.Index].Load.BallastG,
            p.AirspeedMps, p.AirspeedErrorMps, p.SinkMps, p.SinkErrorMps, p.BankDeg, p.HeadingDeg)))];
    }

    /// <summary>The contract's word for a phase.</summary>
    public static string Words(PhaseKind kind) => kind switch
    {
        PhaseKind.Ground => "ground",
        PhaseKind.Launch => "launch",
        PhaseKind.Climb => "climb",
        PhaseKind.Landing => "landing",
        _ => "glide",
    };

    /// <summary>The contract's word for a quantity.</summary>
    public static string Words(Quantity quantity) => string.Concat(quantity.ToString().Select((c, i) => char.IsUpper(c) ? (i > 0 ? "_" : "") + char.ToLowerInvariant(c) : c.ToString()));

    /// <summary>Null where not a number.</summary>
    public static double? Known(double value) => double.IsNaN(value) ? null : value;
}
