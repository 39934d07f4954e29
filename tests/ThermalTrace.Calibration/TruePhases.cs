using ThermalTrace.Air;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Simulation;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Calibration;

/// <summary>
/// A flight as an estimator would hold it that knew the phases, the wind and the airspeed and had to read height off the
/// log's own sensor.
/// </summary>
internal static class TruePhases
{
    private const int LeastPoints = 20;
    private const double SureVariance = 1e-6;

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

    private static List<Segment> Segments(Track track, TrueFlight flight)
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
        double[] heading = LiftHeading(truth), work = AirWork(truth);
        double[] east = new double[count], north = new double[count], inertial = new double[count], airspeed = new double[count], headings = new double[count];
        int half = (int)Math.Round(track.StepS / truth.StepS / 2);
        for (int k = 0; k < count; k++)
        {
            int at = MomentAt(truth, track.TimeS(flight.First + k));
            inertial[k] = truth.Moments[at].AirspeedMps;
            headings[k] = heading[at];
            double sum = 0;
            int n = 0;
            for (int m = Math.Max(at - half, 0); m <= Math.Min(at + half, truth.Moments.Count - 1); m++)
            {
                sum += truth.Moments[m].AirspeedMps;
                n++;
            }
            airspeed[k] = sum / n;
            if (k > 0)
            {
                // The fit multiplies the wind's change by the speed once a grid step; gusts are quicker than that. So the change is
                // written down that gives the work truly done in the step.
                double change = (work[at] - work[MomentAt(truth, track.TimeS(flight.First + k - 1))]) * PhysicalConstants.StandardGravityMps2 / Math.Max(inertial[k], 1);
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
            Wind = new MeanWind(airborne.Average(m => m.AirEastMps), airborne.Average(m => m.AirNorthMps), SureVariance, SureVariance, 0),
            PitotFactor = null,
        };
    }

    /// <summary>Height that the air's own acceleration along the path has given up to each moment, m: the integral of V·dW/g.</summary>
    private static double[] AirWork(TrueFlight flight)
    {
        double[] work = new double[flight.Moments.Count];
        for (int i = 1; i < work.Length; i++)
        {
            (TrueMoment a, TrueMoment b) = (flight.Moments[i - 1], flight.Moments[i]);
            work[i] = work[i - 1] + ((a.ThroughAirEastMps + b.ThroughAirEastMps) * (b.AirEastMps - a.AirEastMps)
                + (a.ThroughAirNorthMps + b.ThroughAirNorthMps) * (b.AirNorthMps - a.AirNorthMps)) / (2 * PhysicalConstants.StandardGravityMps2);
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
