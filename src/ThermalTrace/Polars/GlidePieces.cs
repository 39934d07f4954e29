using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Air;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Polars;

/// <summary>A piece of glide as a point beside the polar: level flight, sea-level density, the air's motion not removed.</summary>
internal sealed record GlidePiece(GlideFlight Flight, double StartS, double EndS, double AirspeedMps, double AirspeedErrorMps, double SinkMps, double SinkErrorMps,
    double BankDeg, double HeadingDeg);

/// <summary>Cuts glides into pieces for pictures and tables; nothing is estimated from them.</summary>
internal static class GlidePieces
{
    private const double PieceS = 20, LeastS = 10;

    /// <summary>The flight's pieces in time order.</summary>
    public static IReadOnlyList<GlidePiece> Of(GlideFlight flight, PolarEstimate estimate, CurveMaker maker)
    {
        List<GlidePiece> pieces = [];
        List<(int I, int K)> points = [];
        Track track = flight.Air.Flight.Track;
        GlideRows.VisitStraight(flight.Air, (i, k, fresh) =>
        {
            if (fresh || (points.Count > 0 && (i - points[0].I) * track.StepS > PieceS))
            {
                Close(flight, points, estimate, maker, pieces);
            }
            points.Add((i, k));
        });
        Close(flight, points, estimate, maker, pieces);
        return pieces;
    }

    private static void Close(GlideFlight flight, List<(int I, int K)> points, PolarEstimate estimate, CurveMaker maker, List<GlidePiece> pieces)
    {
        FlightAir air = flight.Air;
        Track track = air.Flight.Track;
        double seconds = points.Count < 2 ? 0 : (points[^1].I - points[0].I) * track.StepS;
        if (seconds < LeastS)
        {
            points.Clear();
            return;
        }
        // Least-squares slope of energy height: end points alone would carry the sensors' noise whole.
        double tSum = 0, eSum = 0, tt = 0, te = 0, speed = 0, load = 0, density = 0, x = 0, y = 0, variance = 0;
        double wind = 0;
        for (int p = 0; p < points.Count; p++)
        {
            (int i, int k) = points[p];
            double v = air.InertialSpeedMps[k];
            (double sin, double cos) = Math.SinCos(air.HeadingRad[k]);
            if (p > 0)
            {
                int before = points[p - 1].K;
                wind += v * (sin * (air.WindEastMps[k] - air.WindEastMps[before]) + cos * (air.WindNorthMps[k] - air.WindNorthMps[before])) / PhysicalConstants.StandardGravityMps2;
            }
            double t = track.TimeS(i) - track.TimeS(points[0].I), e = track.AltitudeM[i] + v * v / (2 * PhysicalConstants.StandardGravityMps2) + wind;
            tSum += t;
            eSum += e;
            tt += t * t;
            te += t * e;
            speed += air.AirspeedMps[k];
            load += air.LoadFactor[k];
            density += track.Density.AtKgM3(track.SmoothAltitudeM[i]);
            x += sin;
            y += cos;
            variance += air.AirspeedVarianceM2ps2[k];
        }
        int n = points.Count;
        double sink = -(te - tSum * eSum / n) / (tt - tSum * tSum / n);
        (speed, load, density) = (speed / n, load / n, density / n);
        double levelSpeed = speed * Math.Sqrt(density / PhysicalConstants.SeaLevelDensityKgM3);
        // What the polar says the turn and the density changed is taken out; the glide's own sink stays.
        double factor = Math.Sqrt(density / PhysicalConstants.SeaLevelDensityKgM3);
        double[] coefficients = estimate.Mean.ToArray();
        double level = CurveMaker.Sinks(maker.Factors([levelSpeed], flight.MassKg, flight.Ballast), [levelSpeed], coefficients)[0];
        double turning = CurveMaker.Sinks(maker.Factors([levelSpeed], flight.MassKg, flight.Ballast, load), [levelSpeed], coefficients)[0] / factor;
        double error = Math.Sqrt(MeanVariance(estimate.Noise.QuickMps * flight.Roughness, estimate.Noise.QuickS, seconds) + MeanVariance(estimate.Noise.SlowMps, estimate.Noise.SlowS, seconds));
        int first = points[0].I, last = points[^1].I;
        pieces.Add(new GlidePiece(flight, track.TimeS(first), track.TimeS(last), levelSpeed,
            Math.Sqrt(air.Wind.StandardErrorMps * air.Wind.StandardErrorMps + variance / n * Math.Min(1, 5 / seconds)), sink + level - turning, error,
            Math.Acos(1 / Math.Max(load, 1)) * 180 / Math.PI, (Math.Atan2(x, y) * 180 / Math.PI + 360) % 360));
        points.Clear();
    }

    /// <summary>Variance of an Ornstein–Uhlenbeck process' mean over an interval.</summary>
    private static double MeanVariance(double sd, double time, double seconds)
    {
        double u = seconds / time;
        return 2 * sd * sd / (u * u) * (u - 1 + Math.Exp(-u));
    }
}
