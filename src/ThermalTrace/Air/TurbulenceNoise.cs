namespace ThermalTrace.Air;

/// <summary>
/// What besides turbulence is in the spectra of flights that share their sensors. What only the shape of the spectrum could
/// tell from turbulence is not fitted but tried at several strengths, each of which is carried on by its likelihood.
/// </summary>
/// <param name="Sensor">Variance of height's (m²) or the variometer's (m²/s²) white noise.</param>
/// <param name="Quick">With kinetic energy: variance of velocity's white noise, m²/s²; without: of speeds asked for, 1/s.</param>
/// <param name="Slow">With kinetic energy: wandering velocity noise, m²/s³.</param>
/// <param name="BandHz">Above it smoothed velocities do not follow.</param>
/// <param name="LogPrior">What speaks for these strengths beforehand.</param>
internal sealed record TurbulenceNoise(double Sensor, double Quick, double Slow, double BandHz, double LogPrior)
{
    private const double OverlapShare = 0.47;     // what an ordinate of half overlapping tapered windows counts for; Welch 1967
    private const double Outlying = 4;            // times what is expected: less than a fiftieth of ordinates
    private const double UsualHeightM2 = 0.01, UsualVarioM2ps2 = 0.0025, UsualVelocityM2ps2 = 0.005;
    private const double UsualWander = 0.0036;    // 4 (0.06 m/s)²/4 s
    private const double UsualAsked = 0.0033;     // 4 (5 % of the speed)²/3 s
    private const double Negligible = 6;          // below the best in log-likelihood
    private const int Rounds = 8, Enough = 400;

    private static readonly double[] BandsHz = [0.7, 1, 1.4, 2];
    private static readonly double[] WanderFactors = [0.25, 1, 4, 12], AskedFactors = [0.125, 0.25, 0.5, 1, 2, 4];

    /// <summary>Power of all noise in an ordinate.</summary>
    public double Of(in Ordinate o) => Sensor * o.Sensor + Passed(o.FrequencyHz, BandHz) * (Quick * o.Quick + Slow * o.Slow);

    /// <summary>
    /// Whittle's log-likelihood of a window for turbulence of each strength; a power far out counts by its logarithm only.
    /// </summary>
    public static void LogLikelihood(Ordinate[] window, TurbulenceNoise noise, ReadOnlySpan<double> strengths, double[] into)
    {
        Span<double> other = stackalloc double[window.Length];
        for (int i = 0; i < window.Length; i++)
        {
            other[i] = noise.Of(window[i]);
        }
        for (int g = 0; g < strengths.Length; g++)
        {
            // Logarithms of products, a few at a time: they cost more than all the rest.
            double sum = 0, logs = 0, expectedProduct = 1, outlyingProduct = 1;
            for (int i = 0; i < window.Length; i++)
            {
                double expected = strengths[g] * window[i].Air + other[i], ratio = window[i].Power / expected;
                expectedProduct *= expected;
                if (ratio < Outlying)
                {
                    sum += ratio;
                }
                else
                {
                    sum += Outlying;
                    outlyingProduct *= ratio / Outlying;
                }
                if (i % 16 == 15)
                {
                    logs += Math.Log(expectedProduct) + Outlying * Math.Log(outlyingProduct);
                    (expectedProduct, outlyingProduct) = (1, 1);
                }
            }
            into[g] = -OverlapShare * (sum + logs + Math.Log(expectedProduct) + Outlying * Math.Log(outlyingProduct));
        }
    }

    /// <summary>All that are not far from the likeliest.</summary>
    public static IReadOnlyList<TurbulenceNoise> Candidates(IReadOnlyList<TurbulenceWindows> all)
    {
        // The noise is one thing for the whole session: windows from all through it are enough.
        int every = 1 + all.Sum(f => f.Windows.Count) / Enough;
        TurbulenceWindows[] flights = [.. all.Select(f => f.Thinned(every))];
        double scale = every;
        List<(TurbulenceNoise Noise, double Odds)> tried = [];
        if (flights[0].Source.Energy)
        {
            foreach (double band in BandsHz)
            {
                foreach (double factor in WanderFactors)
                {
                    tried.Add(Fit(flights, scale, new(Usual(flights[0].Source), UsualVelocityM2ps2, factor * UsualWander, band, -0.5 * Square(Math.Log(factor) / Math.Log(2.5)))));
                }
            }
        }
        else
        {
            foreach (double factor in AskedFactors)
            {
                tried.Add(Fit(flights, scale, new(Usual(flights[0].Source), factor * UsualAsked, 0, double.PositiveInfinity, -0.5 * Square(Math.Log(factor) / Math.Log(2.5)))));
            }
        }
        double best = tried.Max(t => t.Odds);
        return [.. tried.Where(t => t.Odds > best - Negligible).Select(t => t.Noise)];
    }

    private static double Usual(TurbulenceSource source) => source.Vario ? UsualVarioM2ps2 : UsualHeightM2;

    /// <summary>Share of the power of velocity noise that a smoother with a random walk of acceleration lets through.</summary>
    private static double Passed(double frequencyHz, double bandHz) => 1 / Square(1 + Square(Square(frequencyHz / bandHz)));

    /// <summary>
    /// Sensors' white noises by Fisher scoring of the Whittle likelihood, with each flight's own turbulence beside them.
    /// </summary>
    private static (TurbulenceNoise Noise, double Odds) Fit(IReadOnlyList<TurbulenceWindows> flights, double scale, TurbulenceNoise from)
    {
        bool energy = flights[0].Source.Energy;
        TurbulenceNoise noise = from;
        double[] air = [.. flights.Select(_ => 0.01)];
        double likelihood = 0;
        double[] one = new double[1];
        for (int round = 0; round < Rounds; round++)
        {
            // Each is known beforehand to a factor of the order of one. A flight's own unknown is eliminated as it comes.
            double ss = 1 / Square(from.Sensor), qq = 1 / Square(from.Quick), sq = 0, ys = 1 / from.Sensor, yq = 1 / from.Quick;
            (double Y, double S, double Q)[] own = new (double, double, double)[flights.Count];
            likelihood = 0;
            bool last = round == Rounds - 1;
            for (int k = 0; k < flights.Count; k++)
            {
                double aa = 0, ay = 0, asum = 0, aq = 0;
                foreach (Ordinate[] window in flights[k].Windows)
                {
                    if (last)
                    {
                        LogLikelihood(window, noise, [air[k]], one);
                        likelihood += one[0];
                    }
                    foreach (Ordinate o in window)
                    {
                        double passed = energy ? Passed(o.FrequencyHz, from.BandHz) : 1, quick = energy ? passed * o.Quick : 0;
                        double known = energy ? passed * from.Slow * o.Slow : from.Quick * o.Quick;
                        double expected = air[k] * o.Air + noise.Sensor * o.Sensor + known + (energy ? noise.Quick * quick : 0);
                        double weight = OverlapShare / Square(expected), power = Math.Min(o.Power, Outlying * expected) - known;
                        aa += weight * o.Air * o.Air;
                        ay += weight * o.Air * power;
                        asum += weight * o.Air * o.Sensor;
                        aq += weight * o.Air * quick;
                        ss += weight * o.Sensor * o.Sensor;
                        sq += weight * o.Sensor * quick;
                        qq += weight * quick * quick;
                        ys += weight * o.Sensor * power;
                        yq += weight * quick * power;
                    }
                }
                if (aa > 0)
                {
                    own[k] = (ay / aa, asum / aa, aq / aa);
                    ss -= asum * asum / aa;
                    sq -= asum * aq / aa;
                    qq -= aq * aq / aa;
                    ys -= asum * ay / aa;
                    yq -= aq * ay / aa;
                }
            }
            double determinant = ss * qq - sq * sq;
            double newSensor = (qq * ys - sq * yq) / determinant, newQuick = (ss * yq - sq * ys) / determinant;
            noise = noise with
            {
                Sensor = Math.Clamp(newSensor, 0.3 * noise.Sensor, 3 * noise.Sensor),
                Quick = energy ? Math.Clamp(newQuick, 0.3 * noise.Quick, 3 * noise.Quick) : noise.Quick,
            };
            for (int k = 0; k < flights.Count; k++)
            {
                double found = own[k].Y - own[k].S * noise.Sensor - own[k].Q * (energy ? noise.Quick : 0);
                air[k] = Math.Clamp(found, Math.Max(0.3 * air[k], 1e-4), Math.Max(3 * air[k], 1e-4));
            }
        }
        return (noise, scale * likelihood + from.LogPrior);
    }

    private static double Square(double x) => x * x;
}
