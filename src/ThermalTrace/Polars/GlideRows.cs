using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Polars;

/// <summary>A flight as the polar fit takes it.</summary>
/// <param name="Air">Its motion through the air.</param>
/// <param name="MassKg">Flying mass, kg.</param>
/// <param name="Ballast">Index of its ballast among the session's.</param>
/// <param name="CamberAt">Index of the camber setting at a grid point; null where only one is flown.</param>
/// <param name="GustVarianceM2ps2">Variance of quick gusts along the path, m²/s².</param>
/// <param name="Roughness">Eddy dissipation beside the session's middle value, as a ratio of EDR.</param>
internal sealed record GlideFlight(FlightAir Air, double MassKg, int Ballast, Func<int, int>? CamberAt, double GustVarianceM2ps2, double Roughness);

/// <summary>Builds each flight's rows of energy height from its glides. docs/models/polar.md.</summary>
internal static class GlideRows
{
    private const double RowS = 1.0;
    private const double AfterLaunchS = 6.0; // at the top of a launch the model is slower than it can glide, or still shedding speed
    private const double HighestCl = 1.15, LowestCl = 0.08; // beyond, the model is stalled or diving, or its speed is misjudged
    private const double AroundCirclesS = 4.0; // lift is felt, and speed taken off, for some seconds before the turn
    private const double EdgeS = 2.0; // phases are told to a second or two: the edges of a glide may belong to its neighbour

    /// <summary>Calls <paramref name="visit"/> for every grid point that counts as glide: index on the track, in the flight, and whether it begins a new glide.</summary>
    public static void VisitGlides(FlightAir air, Action<int, int, bool> visit)
    {
        Flight flight = air.Flight;
        Track track = flight.Track;
        int edge = (int)Math.Round(EdgeS / track.StepS);
        for (int s = 0; s < flight.Segments.Count; s++)
        {
            Segment segment = flight.Segments[s];
            if (segment.Kind != PhaseKind.Glide)
            {
                continue;
            }
            bool fresh = true;
            int gap = 0;
            int first = segment.First + (s > 0 && flight.Segments[s - 1].Kind == PhaseKind.Launch ? (int)Math.Round(AfterLaunchS / track.StepS) : edge);
            for (int i = first; i < segment.End - edge; i++)
            {
                int k = i - flight.First;
                double v = air.AirspeedMps[k];
                if (!(v > 1.5) || double.IsNaN(track.AltitudeM[i]))
                {
                    // A hole of a few seconds loses the path of every term: what follows is a glide of its own.
                    gap++;
                    fresh |= gap * track.StepS > 1.5;
                    continue;
                }
                visit(i, k, fresh);
                fresh = false;
                gap = 0;
            }
        }
    }

    /// <summary>
    /// Calls <paramref name="visit"/> for every grid point that the polar is fitted to: in the air, neither launched nor brought
    /// down, and not circling. What the pilot did decides, never what the air did: straight flight through rising air stays in.
    /// </summary>
    public static void VisitStraight(FlightAir air, Action<int, int, bool> visit)
    {
        Flight flight = air.Flight;
        Track track = flight.Track;
        int edge = (int)Math.Round(EdgeS / track.StepS), after = (int)Math.Round(AfterLaunchS / track.StepS);
        bool[] worked = Worked(air);
        int gap = 0;
        bool fresh = true;
        for (int s = 0; s < flight.Segments.Count; s++)
        {
            Segment segment = flight.Segments[s];
            if (segment.Kind is not (PhaseKind.Glide or PhaseKind.Climb))
            {
                fresh = true;
                continue;
            }
            int first = segment.First + (s > 0 && flight.Segments[s - 1].Kind == PhaseKind.Launch ? after : 0);
            int end = segment.End - (s + 1 < flight.Segments.Count && flight.Segments[s + 1].Kind is PhaseKind.Launch or PhaseKind.Landing ? edge : 0);
            for (int i = first; i < end; i++)
            {
                int k = i - flight.First;
                if (worked[k])
                {
                    fresh = true;
                    gap = 0;
                    continue;
                }
                if (!(air.AirspeedMps[k] > 1.5) || double.IsNaN(track.AltitudeM[i]))
                {
                    // A hole of a few seconds loses the path of every term: what follows is a glide of its own.
                    gap++;
                    fresh |= gap * track.StepS > 1.5;
                    continue;
                }
                visit(i, k, fresh);
                fresh = false;
                gap = 0;
            }
        }
    }

    /// <summary>
    /// Where the model works lift, circles or looks for it: from a little before a climb's first circle, for lift is met before
    /// it is turned in, to a little after its last. Rising straight flight in which nobody turned is no part of it.
    /// </summary>
    private static bool[] Worked(FlightAir air)
    {
        Flight flight = air.Flight;
        int around = (int)Math.Round(AroundCirclesS / flight.Track.StepS);
        bool[] worked = new bool[air.Circling.Length];
        void Mark(int from, int to)
        {
            from = Math.Max(from - around, 0);
            Array.Fill(worked, true, from, Math.Min(to + around, worked.Length) - from);
        }
        for (int k = 0; k < worked.Length; k++)
        {
            int to = k;
            while (to < worked.Length && air.Circling[to])
            {
                to++;
            }
            if (to > k)
            {
                Mark(k, to);
                k = to;
            }
        }
        return worked;
    }

    /// <summary>Rate of change of the speed, m/s².</summary>
    private static double Quickening(FlightAir air, int k)
    {
        int before = Math.Max(k - 1, 0), after = Math.Min(k + 1, air.InertialSpeedMps.Length - 1);
        double rate = (air.InertialSpeedMps[after] - air.InertialSpeedMps[before]) / Math.Max((after - before) * air.Flight.Track.StepS, 1e-9);
        return double.IsNaN(rate) ? 0 : rate;
    }

    /// <summary>The flight's rows; null where it has no glide to speak of.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="terms">The drag terms.</param>
    /// <param name="planform">Geometry.</param>
    /// <param name="coefficients">Coefficients about which speed errors are linearised.</param>
    public static EnergyRows? Build(GlideFlight flight, DragTerms terms, Planform planform, Vector<double> coefficients)
    {
        Track track = flight.Air.Flight.Track;
        FlightAir air = flight.Air;
        int camberColumns = terms.Count - DragTerms.Common - terms.Ballasts;
        int[] global = new int[DragTerms.Common + 1 + camberColumns];
        for (int j = 0; j < global.Length; j++)
        {
            global[j] = j < DragTerms.Common ? j : j == DragTerms.Common ? DragTerms.Common + flight.Ballast : DragTerms.Common + terms.Ballasts + (j - DragTerms.Common - 1);
        }
        int width = 1 + global.Length + 2;
        List<double> times = [], columns = [];
        List<bool> freshes = [];
        double[] path = new double[width];   // running integrals; element 0 the known input
        double[] rate = new double[width], rateBefore = new double[width];
        double[] sum = new double[width];
        double[] cd = new double[terms.Count];
        double timeSum = 0, noise = 0, noiseCount = 0;
        int inRow = 0, rowStart = 0, last = -1;
        bool rowFresh = true, broken = false;
        void Close()
        {
            if (inRow > 0)
            {
                times.Add(timeSum / inRow);
                freshes.Add(rowFresh);
                for (int c = 0; c < width; c++)
                {
                    columns.Add(sum[c] / inRow);
                }
            }
            Array.Clear(sum);
            timeSum = 0;
            inRow = 0;
            rowFresh = false;
        }
        int perRow = Math.Max(1, (int)Math.Round(RowS / track.StepS));
        VisitStraight(air, (i, k, fresh) =>
        {
            double v = air.AirspeedMps[k];
            double n = air.LoadFactor[k];
            double density = track.Density.AtKgM3(track.SmoothAltitudeM[i]);
            if (planform.Cl(v, n, flight.MassKg, density) is not (> LowestCl and < HighestCl))
            {
                broken = true;
                return;
            }
            if (fresh || broken)
            {
                broken = false;
                Close();
                rowFresh = true;
                Array.Clear(path);
                last = -1;
            }
            if (inRow > 0 && i - rowStart >= perRow)
            {
                Close();
            }
            if (inRow == 0)
            {
                rowStart = i;
            }
            double dt = last < 0 ? 0 : (i - last) * track.StepS;
            int camber = flight.CamberAt?.Invoke(i) ?? 0;
            (double sin, double cos) = Math.SinCos(air.HeadingRad[k]);
            double Sink(double speed)
            {
                double at = Math.Clamp(planform.Cl(speed, n, flight.MassKg, density), 0.03, 1.8);
                terms.Fill(at, planform.ReynoldsRatio(speed, density, track.Density.TemperatureK), flight.Ballast, camber, cd);
                double total = 0;
                for (int j = 0; j < cd.Length; j++)
                {
                    total += cd[j] * coefficients[j];
                }
                return speed * n * total / at;
            }
            const double h = 0.25;
            double middle = Sink(v), above = Sink(v + h), below = Sink(Math.Max(v - h, 1));
            double slope = (above - below) / (2 * h), curvature = (above + below - 2 * middle) / (h * h);
            double cl = Math.Clamp(planform.Cl(v, n, flight.MassKg, density), 0.03, 1.8);
            terms.Fill(cl, planform.ReynoldsRatio(v, density, track.Density.TemperatureK), flight.Ballast, camber, cd);
            for (int j = 0; j < global.Length; j++)
            {
                rate[1 + j] = cd[global[j]] * -v * n / cl;
            }
            double spread = air.AirspeedVarianceM2ps2[k] + flight.GustVarianceM2ps2;
            // Beyond this curvature the parabola is no longer the polar: deep in the stall, or a speed that was misjudged.
            rate[1 + DragTerms.Gusts] = -0.5 * Math.Clamp(curvature, -0.3, 0.3) * spread;
            rate[1 + DragTerms.Airspeed] = -slope;
            // A wind that is off by δ makes V off by −u·δ: drag and kinetic energy change with it.
            rate[width - 2] = slope * sin;
            rate[width - 1] = slope * cos;
            for (int c = 1; c < width; c++)
            {
                // By trapezes: the end of a step taken for all of it would put the path half a step ahead of the height, which passes
                // for the static port's error.
                path[c] += 0.5 * (rate[c] + rateBefore[c]) * dt;
            }
            (rate, rateBefore) = (rateBefore, rate);
            int before = Math.Max(k - 1, 0);
            double windRate = last < 0 ? 0 : (sin * (air.WindEastMps[k] - air.WindEastMps[before]) + cos * (air.WindNorthMps[k] - air.WindNorthMps[before]));
            path[0] += air.InertialSpeedMps[k] * windRate / PhysicalConstants.StandardGravityMps2;
            double inertial = air.InertialSpeedMps[k];
            sum[0] += track.AltitudeM[i] + inertial * inertial / (2 * PhysicalConstants.StandardGravityMps2) + path[0];
            for (int c = 1; c < width; c++)
            {
                sum[c] += path[c];
            }
            // Speed that comes late is late for the drag too.
            sum[1 + DragTerms.Timing] += inertial * Quickening(air, k) / PhysicalConstants.StandardGravityMps2 + middle;
            sum[1 + DragTerms.StaticPort] += inertial * inertial / (2 * PhysicalConstants.StandardGravityMps2);
            sum[width - 2] += inertial * sin / PhysicalConstants.StandardGravityMps2;
            sum[width - 1] += inertial * cos / PhysicalConstants.StandardGravityMps2;
            noise += v * v * track.Ground!.VarianceM2ps2[i] / (PhysicalConstants.StandardGravityMps2 * PhysicalConstants.StandardGravityMps2);
            noiseCount++;
            timeSum += track.TimeS(i);
            inRow++;
            last = i;
        });
        Close();
        if (times.Count < 5)
        {
            return null;
        }
        MeanWind wind = air.Wind;
        double determinant = wind.VarianceEast * wind.VarianceNorth - wind.CovarianceEastNorth * wind.CovarianceEastNorth;
        determinant = Math.Max(determinant, 1e-12);
        return new EnergyRows([.. times], [.. freshes], [.. columns], width, global,
            (wind.VarianceNorth / determinant, -wind.CovarianceEastNorth / determinant, wind.VarianceEast / determinant),
            flight.Roughness, Math.Sqrt(noise / Math.Max(noiseCount, 1)));
    }
}
