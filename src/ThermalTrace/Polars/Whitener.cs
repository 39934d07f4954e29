using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using ThermalTrace.Numerics;

namespace ThermalTrace.Polars;

/// <summary>How the air and the sensors disturb energy height; the polar fit's hyperparameters.</summary>
/// <param name="QuickMps">Standard deviation of quick vertical air motion, m/s.</param>
/// <param name="QuickS">Its correlation time, s.</param>
/// <param name="SlowMps">Standard deviation of slow vertical air motion, m/s.</param>
/// <param name="SlowS">Its correlation time, s.</param>
/// <param name="NoiseM">White noise of a second's mean of energy height, m.</param>
internal sealed record AirNoise(double QuickMps, double QuickS, double SlowMps, double SlowS, double NoiseM);

/// <summary>
/// One flight's energy heights as the sum of what drag took and what the air gave: E = Σ θ A + ∫w dt. Rows are means over
/// about a second. Column 0 is the measurement, the others are each term's own path of energy height. docs/models/polar.md.
/// </summary>
/// <param name="TimeS">Mean time of each row, s.</param>
/// <param name="Fresh">True where a glide begins: the height it begins at is unknown again.</param>
/// <param name="Columns">Row-major, rows by width.</param>
/// <param name="Width">1 + number of local terms.</param>
/// <param name="Global">For local terms but the last two, their index among the session's terms; the last two are the flight's wind error, east and north.</param>
/// <param name="WindInformation">Inverse covariance of that wind error: east-east, east-north, north-north.</param>
/// <param name="Roughness">How rough the flight's air was beside the session's: scales the quick motion.</param>
/// <param name="ExtraNoiseM">Noise of energy height from the airspeed's own noise, m.</param>
internal sealed record EnergyRows(double[] TimeS, bool[] Fresh, double[] Columns, int Width, int[] Global,
    (double EastEast, double EastNorth, double NorthNorth) WindInformation, double Roughness, double ExtraNoiseM);

/// <summary>
/// Kalman filter over the measurement and over every term's path at once: the air's motion is the sum of two
/// Ornstein–Uhlenbeck processes, so the whitened innovations make an ordinary least-squares problem whose normal
/// equations add up over flights and sessions. docs/models/polar.md eq. 4.
/// </summary>
internal static class Whitener
{
    private const int Together = 8;          // rows whose products are added up at once
    private const double SameStepS = 1e-10;  // rows' times are means: even ones differ in their last digits

    /// <summary>Normal equations over a flight's local columns, measurement first, and the sum of log innovation variances.</summary>
    /// <param name="rows">The flight.</param>
    /// <param name="noise">Hyperparameters.</param>
    /// <param name="normal">Receives width by width, row-major.</param>
    /// <param name="observe">Sees every whitened row (row index, width values), if given.</param>
    public static double Accumulate(EnergyRows rows, AirNoise noise, double[] normal, Action<int, double[]>? observe = null)
    {
        int width = rows.Width, stride = PaddedRows.Stride(width);
        Span<double> paths = stackalloc double[3 * stride], row = stackalloc double[stride], sums = stackalloc double[width * stride];
        Span<double> whitened = stackalloc double[Together * stride];
        int waiting = 0;
        double quickVariance = Square(noise.QuickMps * rows.Roughness), slowVariance = Square(noise.SlowMps);
        double observationVariance = Square(noise.NoiseM) + Square(rows.ExtraNoiseM);
        // Covariance of energy, quick and slow motion.
        double ee = 0, eq = 0, es = 0, qq = quickVariance, qs = 0, ss = slowVariance;
        double logs = 0, product = 1;
        bool settled = false;
        Step step = Step.Of(0, noise, quickVariance, slowVariance);
        for (int t = 0; t < rows.TimeS.Length; t++)
        {
            double dt = t == 0 ? 0 : rows.TimeS[t] - rows.TimeS[t - 1];
            if (!(Math.Abs(dt - step.Dt) <= SameStepS))
            {
                step = Step.Of(dt, noise, quickVariance, slowVariance);
            }
            if (rows.Fresh[t])
            {
                // The height a glide starts at tells nothing: that row only sets the level.
                settled = false;
                paths[..stride].Clear();
                (ee, eq, es) = (0, 0, 0);
            }
            (double keepQ, double keepS, double reachQ, double reachS) = (step.KeepQ, step.KeepS, step.ReachQ, step.ReachS);
            double nee = ee + 2 * reachQ * eq + 2 * reachS * es + reachQ * reachQ * qq + reachS * reachS * ss + 2 * reachQ * reachS * qs + step.AddEE;
            double neq = keepQ * (eq + reachQ * qq + reachS * qs) + step.AddEQ;
            double nes = keepS * (es + reachQ * qs + reachS * ss) + step.AddES;
            double nqq = keepQ * keepQ * qq + step.AddQQ;
            double nss = keepS * keepS * ss + step.AddSS;
            double nqs = keepQ * keepS * qs;
            (ee, eq, es, qq, qs, ss) = (nee, neq, nes, nqq, nqs, nss);
            rows.Columns.AsSpan(t * width, width).CopyTo(row);
            if (!settled)
            {
                settled = true;
                Move(step, row, paths, stride, 0, 0, 0, 0, row);
                rows.Columns.AsSpan(t * width, width).CopyTo(paths);
                (ee, eq, es) = (observationVariance, 0, 0);
                continue;
            }
            double variance = ee + observationVariance;
            double root = Math.Sqrt(variance);
            double gainE = ee / variance, gainQ = eq / variance, gainS = es / variance;
            Span<double> seen = whitened.Slice(waiting * stride, stride);
            Move(step, row, paths, stride, gainE, gainQ, gainS, 1 / root, seen);
            qq -= gainQ * eq;
            qs -= gainQ * es;
            ss -= gainS * es;
            eq -= gainE * eq;
            es -= gainE * es;
            ee -= gainE * ee;
            product *= variance;
            observe?.Invoke(t, seen[..width].ToArray());
            if (++waiting == Together)
            {
                PaddedRows.AddProducts(whitened, Together, stride, sums, width);
                logs += Math.Log(product);
                (waiting, product) = (0, 1);
            }
        }
        PaddedRows.AddProducts(whitened, waiting, stride, sums, width);
        logs += Math.Log(product);
        for (int a = 0; a < width; a++)
        {
            for (int b = a; b < width; b++)
            {
                normal[a * width + b] = sums[a * stride + b];
                normal[b * width + a] = sums[a * stride + b];
            }
        }
        return logs;
    }

    /// <summary>What a step of time does, the same for every row of an even glide.</summary>
    private readonly record struct Step(double Dt, double KeepQ, double KeepS, double ReachQ, double ReachS,
        double AddEE, double AddEQ, double AddES, double AddQQ, double AddSS)
    {
        public static Step Of(double dt, AirNoise noise, double quickVariance, double slowVariance)
        {
            double keepQ = Math.Exp(-dt / noise.QuickS), keepS = Math.Exp(-dt / noise.SlowS);
            return new Step(dt, keepQ, keepS, noise.QuickS * (1 - keepQ), noise.SlowS * (1 - keepS),
                Path(quickVariance, noise.QuickS, dt, keepQ) + Path(slowVariance, noise.SlowS, dt, keepS),
                quickVariance * noise.QuickS * Square(1 - keepQ), slowVariance * noise.SlowS * Square(1 - keepS),
                quickVariance * (1 - keepQ * keepQ), slowVariance * (1 - keepS * keepS));
        }
    }

    /// <summary>Moves every column's energy, quick and slow motion on by a step, then takes in a row; writes its innovations times <paramref name="scale"/>.</summary>
    private static void Move(in Step step, ReadOnlySpan<double> row, Span<double> paths, int stride, double gainE, double gainQ, double gainS, double scale, Span<double> whitened)
    {
        ref double from = ref MemoryMarshal.GetReference(row);
        ref double energy = ref MemoryMarshal.GetReference(paths);
        ref double to = ref MemoryMarshal.GetReference(whitened);
        for (nuint c = 0; c < (nuint)stride; c += (nuint)Vector256<double>.Count)
        {
            nuint quick = (nuint)stride + c, slow = 2 * (nuint)stride + c;
            Vector256<double> q = Vector256.LoadUnsafe(ref energy, quick), s = Vector256.LoadUnsafe(ref energy, slow);
            Vector256<double> e = Vector256.LoadUnsafe(ref energy, c) + (q * step.ReachQ + s * step.ReachS);
            Vector256<double> innovation = Vector256.LoadUnsafe(ref from, c) - e;
            (e + innovation * gainE).StoreUnsafe(ref energy, c);
            (q * step.KeepQ + innovation * gainQ).StoreUnsafe(ref energy, quick);
            (s * step.KeepS + innovation * gainS).StoreUnsafe(ref energy, slow);
            (innovation * scale).StoreUnsafe(ref to, c);
        }
    }

    /// <summary>Variance of the integral of an Ornstein–Uhlenbeck process over a step, given its start.</summary>
    private static double Path(double variance, double time, double dt, double keep)
    {
        double x = dt / time;
        // The closed form cancels to nothing for small steps: its leading term is 2/3 x³.
        double shape = x < 1e-3 ? 2.0 / 3 * x * x * x : 2 * x - 3 + 4 * keep - keep * keep;
        return variance * time * time * shape;
    }

    private static double Square(double x) => x * x;
}
