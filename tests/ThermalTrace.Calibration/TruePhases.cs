using ThermalTrace.Air;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Simulation;
using ThermalTrace.Tracks;

namespace ThermalTrace.Calibration;

/// <summary>
/// A flight as an estimator would hold it that knew the phases, the wind and the airspeed and had to read height off the
/// log's own sensor.
/// </summary>
internal static class TruePhases
{
    private const double GravityMps2 = 9.80665; // exact, CGPM 1901
    public const int LeastPoints = 20;
    private const double SureVariance = 1e-6;
    private const int LongestDelayS = 1; // barometers and smoothing in loggers

    /// <summary>The flight's parts, one for each unbroken stretch of the log that holds some of it.</summary>
    /// <param name="tracks">Stretches of the flight's log; errors of ground velocity are set to none, for it is not used.</param>
    /// <param name="flight">As truly flown.</param>
    public static IEnumerable<FlightAir> Of(IReadOnlyList<Track> tracks, TrueFlight flight)
    {
        foreach (Track track in tracks.Where(t => t.Ground is not null))
        {
            Array.Clear(track.Ground!.VarianceM2ps2);
            List<Segment> segments = Segments(track, flight);
            if (segments.Count > 0 && segments[^1].End - segments[0].First >= LeastPoints)
            {
                yield return Air(new Flight(track, flight.Number, segments, track.SmoothAltitudeM[segments[0].First]), flight);
            }
        }
    }

    private static int MomentAt(TrueFlight flight, double timeS) =>
        (int)Math.Clamp(Math.Round((timeS - flight.Moments[0].TimeS) / flight.StepS), 0, flight.Moments.Count - 1);

    /// <summary>What of the flight lies on a track, cut by its true phases; empty where none does.</summary>
    public static List<Segment> Segments(Track track, TrueFlight flight)
    {
        List<Segment> segments = [];
        for (int i = 0; i < track.Count; i++)
        {
            double t = track.TimeS(i);
            string word = t < flight.Moments[0].TimeS || t > flight.Moments[^1].TimeS ? "ground" : flight.Moments[MomentAt(flight, t)].Kind;
            PhaseKind kind = Enum.Parse<PhaseKind>(word, true);
            if (kind == PhaseKind.Ground)
            {
                continue;
            }
            if (segments.Count > 0 && segments[^1].Kind == kind)
            {
                segments[^1] = segments[^1] with { End = i + 1 };
            }
            else
            {
                segments.Add(new Segment(kind, i, i + 1, 1));
            }
        }
        return segments;
    }

    private static FlightAir Air(Flight flight, TrueFlight truth)
    {
        int count = flight.End - flight.First;
        Track track = flight.Track;
        double[] speed = [.. truth.Moments.Select(m => m.AirspeedMps)], way = new double[speed.Length];
        for (int i = 1; i < way.Length; i++)
        {
            way[i] = way[i - 1] + 0.5 * (speed[i - 1] + speed[i]) * truth.StepS;
        }
        double[] heading = LiftHeading(truth), work = AirWork(truth);
        double delay = SensorDelayS(flight, truth);
        double[] east = new double[count], north = new double[count], inertial = new double[count], airspeed = new double[count], headings = new double[count];
        for (int k = 0; k < count; k++)
        {
            double t = track.TimeS(flight.First + k) - delay;
            inertial[k] = At(truth, speed, t);
            headings[k] = At(truth, heading, t);
            airspeed[k] = (At(truth, way, t + 0.5 * track.StepS) - At(truth, way, t - 0.5 * track.StepS)) / track.StepS;
            if (k > 0)
            {
                // The fit multiplies the wind's change by the speed once a grid step; gusts are quicker than that. So the change is
                // written down that gives the work truly done in the step.
                double change = (At(truth, work, t) - At(truth, work, t - track.StepS)) * GravityMps2 / Math.Max(inertial[k], 1);
                east[k] = east[k - 1] + change * Math.Sin(headings[k]);
                north[k] = north[k - 1] + change * Math.Cos(headings[k]);
            }
        }
        TrueMoment[] airborne = [.. truth.Moments.Where(m => m.Kind != "ground")];
        return new FlightAir
        {
            Flight = flight,
            WindEastMps = east,
            WindNorthMps = north,
            InertialSpeedMps = inertial,
            AirspeedMps = airspeed,
            AirspeedVarianceM2ps2 = new double[count],
            HeadingRad = headings,
            LoadFactor = Turning.LoadFactors(airspeed, headings, track.StepS),
            Circling = Turning.Circles(airspeed, headings, track.StepS),
            Wind = new MeanWind(airborne.Average(m => m.AirEastMps), airborne.Average(m => m.AirNorthMps), SureVariance, SureVariance, 0),
            PitotFactor = null,
        };
    }

    /// <summary>A value between moments, linear; held at the ends.</summary>
    private static double At(TrueFlight flight, double[] values, double timeS)
    {
        double position = Math.Clamp((timeS - flight.Moments[0].TimeS) / flight.StepS, 0, values.Length - 1.000001);
        int i = (int)position;
        return values[i] + (position - i) * (values[i + 1] - values[i]);
    }

    /// <summary>
    /// How late the log's height is, s: least squares of its changes against the true height's. Speed of another moment than the
    /// height's would show every exchange of the two as lift and sink.
    /// </summary>
    private static double SensorDelayS(Flight flight, TrueFlight truth)
    {
        double[] height = [.. truth.Moments.Select(m => m.HeightM)];
        Track track = flight.Track;
        double Misfit(double delay)
        {
            double sum = 0, before = double.NaN;
            for (int i = flight.First; i < flight.End; i++)
            {
                double difference = track.AltitudeM[i] - At(truth, height, track.TimeS(i) - delay);
                double change = difference - before;
                sum += double.IsNaN(change) ? 0 : Math.Min(change * change, 1);
                before = difference;
            }
            return sum;
        }
        return Enumerable.Range(0, LongestDelayS * 100 + 1).Select(d => 0.01 * d).MinBy(Misfit);
    }

    /// <summary>Height that the air's own acceleration along the path has given up to each moment, m: the integral of V·dW/g.</summary>
    private static double[] AirWork(TrueFlight flight)
    {
        double[] work = new double[flight.Moments.Count];
        for (int i = 1; i < work.Length; i++)
        {
            (TrueMoment a, TrueMoment b) = (flight.Moments[i - 1], flight.Moments[i]);
            work[i] = work[i - 1] + ((a.ThroughAirEastMps + b.ThroughAirEastMps) * (b.AirEastMps - a.AirEastMps)
                + (a.ThroughAirNorthMps + b.ThroughAirNorthMps) * (b.AirNorthMps - a.AirNorthMps)) / (2 * GravityMps2);
        }
        return work;
    }

    /// <summary>Heading that lift alone has turned: what a gust from the side does to it takes no load factor.</summary>
    private static double[] LiftHeading(TrueFlight flight)
    {
        double[] heading = new double[flight.Moments.Count];
        heading[0] = Math.Atan2(flight.Moments[0].ThroughAirEastMps, flight.Moments[0].ThroughAirNorthMps);
        for (int i = 1; i < heading.Length; i++)
        {
            (TrueMoment a, TrueMoment b) = (flight.Moments[i - 1], flight.Moments[i]);
            double turned = Math.IEEERemainder(Math.Atan2(b.ThroughAirEastMps, b.ThroughAirNorthMps) - Math.Atan2(a.ThroughAirEastMps, a.ThroughAirNorthMps), 2 * Math.PI);
            double level = Math.Max(Math.Sqrt(b.ThroughAirEastMps * b.ThroughAirEastMps + b.ThroughAirNorthMps * b.ThroughAirNorthMps), 1);
            double across = ((b.AirEastMps - a.AirEastMps) * b.ThroughAirNorthMps - (b.AirNorthMps - a.AirNorthMps) * b.ThroughAirEastMps) / level;
            heading[i] = heading[i - 1] + turned + across / level;
        }
        return heading;
    }
}
