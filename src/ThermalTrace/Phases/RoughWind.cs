using ThermalTrace.Tracks;

namespace ThermalTrace.Phases;

/// <summary>
/// A first look at the wind, good enough to see turns: the vector about which ground velocities lie on a circle, window by
/// window, held by the whole track. The real estimate is made later, in Air. docs/models/phases.md.
/// </summary>
internal static class RoughWind
{
    private const double WindowS = 150;
    private const double ShearExponent = 1.0 / 7; // power law of the wind with height; neutral air over flat ground

    /// <summary>East and north component at every grid point, m/s; zeros where nothing moves.</summary>
    /// <param name="ground">Motion over the ground.</param>
    /// <param name="heightM">Above the ground.</param>
    /// <param name="airborne">Which grid points are clearly in the air and not in a launch.</param>
    /// <param name="stepS">Grid step, s.</param>
    public static (double[] EastMps, double[] NorthMps) Find(GroundMotion ground, double[] heightM, bool[] airborne, double stepS)
    {
        int count = airborne.Length;
        double[] share = new double[count];
        for (int i = 0; i < count; i++)
        {
            share[i] = Math.Pow(Math.Max(heightM[i], 3) / 50, ShearExponent);
        }
        (double East, double North, double Speed) whole = Whole(ground, share, airborne, stepS);
        double[] east = new double[count], north = new double[count];
        int half = Math.Max(1, (int)(WindowS / 2 / stepS));
        int centres = Math.Max(1, count / half);
        (double East, double North)[] at = new (double, double)[centres + 1];
        for (int c = 0; c <= centres; c++)
        {
            ((double e, double n, _), _) = Fit(ground, share, airborne, Math.Max(0, (c - 1) * half), Math.Min(count, (c + 1) * half), 1, whole, whole, 1.5, 1.0, stepS);
            at[c] = (e, n);
        }
        for (int i = 0; i < count; i++)
        {
            double position = Math.Min((double)i / half, centres - 1e-9);
            int c = (int)position;
            double weight = position - c;
            east[i] = share[i] * (at[c].East + weight * (at[c + 1].East - at[c].East));
            north[i] = share[i] * (at[c].North + weight * (at[c + 1].North - at[c].North));
        }
        return (east, north);
    }

    /// <summary>
    /// Of the whole track. Who flies mostly into a strong wind leaves an arc, to which a small circle about no wind fits
    /// almost as well: the best of several starts.
    /// </summary>
    private static (double East, double North, double Speed) Whole(GroundMotion ground, double[] share, bool[] airborne, double stepS)
    {
        (double, double, double) prior = (0, 0, 7);
        int stride = Math.Max(1, Math.Max((int)(2 / stepS), airborne.Length / 2000));
        ((double East, double North, double Speed) At, double Loss) best = Fit(ground, share, airborne, 0, airborne.Length, stride, prior, prior, 8, 4, stepS);
        for (int k = 0; k < 8; k++)
        {
            (double sin, double cos) = Math.SinCos(k * Math.PI / 4);
            ((double East, double North, double Speed) At, double Loss) other =
                Fit(ground, share, airborne, 0, airborne.Length, stride, (8 * sin, 8 * cos, 8), prior, 8, 4, stepS);
            best = other.Loss < best.Loss - 1e-6 ? other : best;
        }
        return Fit(ground, share, airborne, 0, airborne.Length, 1, best.At, prior, 8, 4, stepS).At;
    }

    /// <summary>Gauss–Newton for the circle's centre and radius with a normal prior; residuals beyond 2 m/s weigh less.</summary>
    private static ((double East, double North, double Speed) At, double Loss) Fit(GroundMotion ground, double[] share, bool[] airborne, int first, int end, int stride,
        (double East, double North, double Speed) start, (double East, double North, double Speed) prior, double windSpread, double speedSpread, double stepS)
    {
        const double spread = 1.0;     // of airspeed about its mean, m/s
        double weightOfSample = stride * stepS / 4; // neighbours within some 4 s say the same
        (double e, double n, double v) = start;
        double loss = 0;
        for (int iteration = 0; iteration < 15; iteration++)
        {
            MathNet.Numerics.LinearAlgebra.Matrix<double> information = MathNet.Numerics.LinearAlgebra.Matrix<double>.Build.Dense(3, 3);
            MathNet.Numerics.LinearAlgebra.Vector<double> score = MathNet.Numerics.LinearAlgebra.Vector<double>.Build.Dense(3);
            double windInformation = 1 / (windSpread * windSpread), speedInformation = 1 / (speedSpread * speedSpread);
            information[0, 0] = windInformation;
            information[1, 1] = windInformation;
            information[2, 2] = speedInformation;
            score[0] = (prior.East - e) * windInformation;
            score[1] = (prior.North - n) * windInformation;
            score[2] = (prior.Speed - v) * speedInformation;
            loss = 0.5 * (Squared((prior.East - e) / windSpread) + Squared((prior.North - n) / windSpread) + Squared((prior.Speed - v) / speedSpread));
            double[] row = new double[3];
            for (int i = first; i < end; i += stride)
            {
                if (!airborne[i])
                {
                    continue;
                }
                double x = ground.EastMps[i] - share[i] * e, y = ground.NorthMps[i] - share[i] * n;
                double speed = Math.Max(Math.Sqrt(x * x + y * y), 0.5);
                double residual = speed - v;
                double weight = weightOfSample / (spread * spread) / (1 + residual * residual / 4);
                loss += weightOfSample * 2 * Math.Log(1 + residual * residual / 4);
                (row[0], row[1], row[2]) = (share[i] * x / speed, share[i] * y / speed, 1);
                for (int a = 0; a < 3; a++)
                {
                    score[a] += weight * row[a] * residual;
                    for (int b = 0; b < 3; b++)
                    {
                        information[a, b] += weight * row[a] * row[b];
                    }
                }
            }
            MathNet.Numerics.LinearAlgebra.Vector<double> change = information.Cholesky().Solve(score);
            e += change[0];
            n += change[1];
            v += change[2];
            if (change.L2Norm() < 1e-6)
            {
                break;
            }
        }
        return ((e, n, v), loss);
    }

    private static double Squared(double x) => x * x;
}
