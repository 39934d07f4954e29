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
    /// <summary>Normal equations over a flight's local columns, measurement first, and the sum of log innovation variances.</summary>
    /// <param name="rows">The flight.</param>
    /// <param name="noise">Hyperparameters.</param>
    /// <param name="normal">Receives width by width, row-major.</param>
    /// <param name="observe">Sees every whitened row (row index, width values), if given.</param>
    public static double Accumulate(EnergyRows rows, AirNoise noise, double[] normal, Action<int, double[]>? observe = null)
    {
        int width = rows.Width;
        Array.Clear(normal);
        double[] energy = new double[width], quick = new double[width], slow = new double[width], whitened = new double[width];
        double quickVariance = Square(noise.QuickMps * rows.Roughness), slowVariance = Square(noise.SlowMps);
        double observationVariance = Square(noise.NoiseM) + Square(rows.ExtraNoiseM);
        // Covariance of energy, quick and slow motion.
        double ee = 0, eq = 0, es = 0, qq = quickVariance, qs = 0, ss = slowVariance;
        double logs = 0;
        bool settled = false;
        for (int t = 0; t < rows.TimeS.Length; t++)
        {
            double dt = t == 0 ? 0 : rows.TimeS[t] - rows.TimeS[t - 1];
            double keepQ = Math.Exp(-dt / noise.QuickS), keepS = Math.Exp(-dt / noise.SlowS);
            double reachQ = noise.QuickS * (1 - keepQ), reachS = noise.SlowS * (1 - keepS);
            if (rows.Fresh[t])
            {
                // The height a glide starts at tells nothing: that row only sets the level.
                settled = false;
                Array.Clear(energy);
                (ee, eq, es) = (0, 0, 0);
            }
            double nee = ee + 2 * reachQ * eq + 2 * reachS * es + reachQ * reachQ * qq + reachS * reachS * ss + 2 * reachQ * reachS * qs
                + Path(quickVariance, noise.QuickS, dt, keepQ) + Path(slowVariance, noise.SlowS, dt, keepS);
            double neq = keepQ * (eq + reachQ * qq + reachS * qs) + quickVariance * noise.QuickS * Square(1 - keepQ);
            double nes = keepS * (es + reachQ * qs + reachS * ss) + slowVariance * noise.SlowS * Square(1 - keepS);
            double nqq = keepQ * keepQ * qq + quickVariance * (1 - keepQ * keepQ);
            double nss = keepS * keepS * ss + slowVariance * (1 - keepS * keepS);
            double nqs = keepQ * keepS * qs;
            (ee, eq, es, qq, qs, ss) = (nee, neq, nes, nqq, nqs, nss);
            for (int c = 0; c < width; c++)
            {
                energy[c] += reachQ * quick[c] + reachS * slow[c];
                quick[c] *= keepQ;
                slow[c] *= keepS;
            }
            ReadOnlySpan<double> row = rows.Columns.AsSpan(t * width, width);
            if (!settled)
            {
                settled = true;
                row.CopyTo(energy);
                (ee, eq, es) = (observationVariance, 0, 0);
                continue;
            }
            double variance = ee + observationVariance;
            double root = Math.Sqrt(variance);
            double gainE = ee / variance, gainQ = eq / variance, gainS = es / variance;
            for (int c = 0; c < width; c++)
            {
                double innovation = row[c] - energy[c];
                whitened[c] = innovation / root;
                energy[c] += gainE * innovation;
                quick[c] += gainQ * innovation;
                slow[c] += gainS * innovation;
            }
            qq -= gainQ * eq;
            qs -= gainQ * es;
            ss -= gainS * es;
            eq -= gainE * eq;
            es -= gainE * es;
            ee -= gainE * ee;
            logs += Math.Log(variance);
            for (int a = 0; a < width; a++)
            {
                double wa = whitened[a];
                for (int b = a; b < width; b++)
                {
                    normal[a * width + b] += wa * whitened[b];
                }
            }
            observe?.Invoke(t, whitened);
        }
        for (int a = 0; a < width; a++)
        {
            for (int b = 0; b < a; b++)
            {
                normal[a * width + b] = normal[b * width + a];
            }
        }
        return logs;
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
