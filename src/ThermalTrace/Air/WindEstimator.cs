using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;
using ThermalTrace.Numerics;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Air;

/// <summary>
/// Wind along a flight and the airspeed that goes with it, from ground velocity alone: |G − W| is the airspeed, which the
/// pilot holds better than the wind holds still, so every turn weighs one against the other. A smoother with the
/// wind (slow random change, profile with height) and the airspeed (mean, trim, wobble) as states; the pitot, where there is
/// one, is one more measurement with an unknown factor. docs/models/wind.md.
/// </summary>
internal static class WindEstimator
{
    // States: the flight's wind east, north; its change east, north with the logarithm of height; its slow departures
    // east, north; mean airspeed; trim; gusts that carry the model along, east, north; pitot factor; how much faster the pilot glides for each m/s of head wind;
    // mean airspeed when circling; running integrals of the wind east, north.
    private const int WindE = 0, WindN = 1, ShearE = 2, ShearN = 3, SlowE = 4, SlowN = 5, Mean = 6, Trim = 7, GustE = 8, GustN = 9,
        Pitot = 10, Penetration = 11, Circling = 12, SumE = 13, SumN = 14, States = 15;

    /// <summary>
    /// Of a quick change of speed: the part that is the model's own and not a gust's that carries it along, beyond what the
    /// estimate itself tells apart. From simulations: docs/calibration.md.
    /// </summary>
    public const double GustShare = 0.75;

    private const int Habits = 5;
    private const double StepS = 1.0;
    private const double ShearSpreadMps = 0.6;    // change of a component for a factor e in height: 0.15 of 4 m/s
    private const double TrimSpreadMps = 2.5;     // from glide to glide
    private const double CircleSpreadMps = 0.7;   // from climb to climb: lift is worked at much the same speed
    private const double TurnTrimMps = 1.5;       // a glide that turns round goes on at another speed
    // Gliding home against the wind is flown faster than down it; without this, opposite legs would read as less wind.
    private const double PenetrationUsual = 0.5, PenetrationSpread = 0.3; // "half the wind on top" is the trade's rule; common practice, no source
    private const double TailwindShare = 0.3; // down the wind the best speed falls less than it rises against it: the polar ends at its slow side
    private const double GustLengthM = 50, GustS = 6, LeastGustMps = 0.08; // eddies that a model is carried along by
    private const double PitotSpread = 0.08;      // of the factor: plumbing and calibration, common practice, no source
    private const double PitotNoiseMps = 0.5;     // gusts along the path that the slow wind does not hold
    private const double DaySpreadMps = 3; // of a flight's wind about the first guess of the day's
    private const double WorkedRad = 14; // lift is worked round and round; one circle to look about is flown fast into the wind and slow down it
    private const int EntryS = 6;
    private const double LeastVariance = 0.02 * 0.02;

    /// <summary>One flight, prepared: ground velocity and height once a second.</summary>
    private sealed record Prepared(Flight Flight, int[] Index, double[] East, double[] North, double[] Variance, double[] LogHeight,
        double[] Pitot, bool[] NewPhase, bool[] Circling, double[] Turning, double ExpectedAirspeedMps, double GustMps);

    /// <summary>Estimates every flight that has ground velocity; null in the others' places.</summary>
    /// <param name="flights">The session's flights.</param>
    /// <param name="expectedAirspeedMps">For each flight, the speed this airframe at this mass is usually flown at (CL about 0.6); its spread is taken as a quarter.</param>
    /// <param name="edr">For each flight, a first estimate of its turbulence, m^(2/3)/s: how strong gusts that carry the model along are to be expected; the session's scale about that is learned.</param>
    /// <param name="threads">Changes the time taken and nothing else.</param>
    /// <param name="cancel">Stops the work.</param>
    public static IReadOnlyList<FlightAir?> Estimate(IReadOnlyList<Flight> flights, IReadOnlyList<double> expectedAirspeedMps, IReadOnlyList<double> edr,
        int threads, CancellationToken cancel)
    {
        Prepared?[] prepared = new Prepared?[flights.Count];
        for (int k = 0; k < flights.Count; k++)
        {
            prepared[k] = flights[k].Track.Ground is { } ground ? Prepare(flights[k], ground, expectedAirspeedMps[k], Math.Sqrt(0.5 * TurbulenceEstimator.LongitudinalM2ps2(edr[k], GustLengthM))) : null;
        }
        Prepared[] usable = [.. prepared.OfType<Prepared>()];
        int count = usable.Length;
        // Of a flight that never turned, its own look at the wind has several ends of a valley to choose from: the day's chooses.
        (double E, double N) day = DayGuess(usable);
        Prior[] priors = [.. usable.Select(_ => count > 1 ? Prior.Alone with { East = day.E, North = day.N, Variance = DaySpreadMps * DaySpreadMps } : Prior.Alone)];
        (double E, double N)[]?[] winds = new (double, double)[count][];
        Found[] found = new Found[count];
        WindHabits habits = WindHabits.Usual;
        // First round finds the winds from nothing; the next ones know the habits and what the other flights met.
        for (int round = 0; round < 3; round++)
        {
            bool othersKnown = count > 1;
            EachFlight(count, true, threads, (k, smoother) =>
            {
                (winds[k], found[k], double likelihood) = Iterate(usable[k], winds[k] ?? FirstGuess(usable[k]), priors[k], habits, smoother);
                if (othersKnown)
                {
                    // A flight caught at the wrong end of the valley may do better from where the others were.
                    (double E, double N)[] others = new (double, double)[winds[k]!.Length];
                    Array.Fill(others, (priors[k].East, priors[k].North));
                    ((double E, double N)[] wind2, Found found2, double likelihood2) = Iterate(usable[k], others, priors[k], habits, smoother);
                    if (likelihood2 > likelihood + 0.01)
                    {
                        (winds[k], found[k]) = (wind2, found2);
                    }
                }
            }, cancel);
            if (round < 2 && count > 0)
            {
                habits = Learn(usable, winds!, priors, habits, threads, cancel);
                priors = [.. usable.Select((_, k) => PriorFromOthers(k, found))];
            }
        }
        FlightAir?[] air = new FlightAir?[count];
        EachFlight(count, true, threads, (k, smoother) =>
        {
            Smooth(usable[k], winds[k]!, priors[k], habits, smoother, true, out MeanWind mean, out (double, double)? pitot);
            air[k] = Spread(usable[k], smoother, mean, pitot);
        }, cancel);
        int next = 0;
        return [.. prepared.Select(p => p is null ? null : air[next++])];
    }

    /// <summary>Runs the same work on every flight, each worker with a smoother of its own.</summary>
    private static void EachFlight(int count, bool keep, int threads, Action<int, GaussianSmoother> work, CancellationToken cancel) =>
        Parallel.For(0, count, new ParallelOptions { MaxDegreeOfParallelism = threads, CancellationToken = cancel },
            () => new GaussianSmoother(States, 0, keep), (k, _, smoother) =>
            {
                work(k, smoother);
                return smoother;
            }, _ => { });

    private static ((double E, double N)[] Wind, Found Found, double LogLikelihood) Iterate(Prepared p, (double E, double N)[] from, Prior prior, WindHabits habits,
        GaussianSmoother smoother)
    {
        (double E, double N)[] wind = from;
        MeanWind mean = new(0, 0, 0, 0, 0);
        double likelihood = 0;
        (double, double) circling = default, gliding = default, penetration = default, pitot = default;
        for (int iteration = 0; iteration < 4; iteration++)
        {
            wind = Smooth(p, wind, prior, habits, smoother, false, out mean, out _);
            likelihood = smoother.LogLikelihood;
            (double, double) Share(int state) => (smoother.State[state] / p.ExpectedAirspeedMps, smoother.Covariance[state * States + state] / Square(p.ExpectedAirspeedMps));
            (circling, gliding) = (Share(Circling), Share(Mean));
            penetration = (smoother.State[Penetration], smoother.Covariance[Penetration * States + Penetration]);
            pitot = (smoother.State[Pitot], smoother.Covariance[Pitot * States + Pitot]);
        }
        return (wind, new Found(mean, circling, gliding, penetration, pitot), likelihood);
    }

    /// <summary>A flight's mean wind and, over the speed expected of its mass, the speeds it circled and glided at: value and variance.</summary>
    private sealed record Found(MeanWind Wind, (double Value, double Variance) Circling, (double Value, double Variance) Gliding,
        (double Value, double Variance) Penetration, (double Value, double Variance) Pitot);

    /// <summary>What is known before a flight is looked at: wind, and speeds as shares of the expected one.</summary>
    private sealed record Prior(double East, double North, double Variance, (double Value, double Variance) Circling, (double Value, double Variance) Gliding,
        (double Value, double Variance) Penetration, (double Value, double Variance) Pitot)
    {
        public static readonly Prior Alone = new(0, 0, 8 * 8, (0.9, 0.2 * 0.2), (1, 0.25 * 0.25),
            (PenetrationUsual, PenetrationSpread * PenetrationSpread), (1, PitotSpread * PitotSpread));
    }

    private static Prepared Prepare(Flight flight, GroundMotion ground, double expected, double gust)
    {
        Track track = flight.Track;
        int stride = Math.Max(1, (int)Math.Round(StepS / track.StepS));
        List<int> index = [];
        for (int i = flight.First; i < flight.End; i += stride)
        {
            index.Add(i);
        }
        int n = index.Count;
        double[] east = new double[n], north = new double[n], variance = new double[n], logHeight = new double[n], pitot = new double[n];
        double middle = 0;
        for (int k = 0; k < n; k++)
        {
            int i = index[k];
            bool usable = KindAt(flight, i) != PhaseKind.Launch && ground.VarianceM2ps2[i] < 1.0;
            east[k] = usable ? ground.EastMps[i] : double.NaN;
            north[k] = ground.NorthMps[i];
            variance[k] = ground.VarianceM2ps2[i];
            logHeight[k] = Math.Log(Math.Max(track.SmoothAltitudeM[i] - flight.GroundAltitudeM, 5));
            middle += logHeight[k] / n;
            pitot[k] = usable && track.PitotMps is { } reading
                ? reading[i] * Math.Sqrt(PhysicalConstants.SeaLevelDensityKgM3 / track.Density.AtKgM3(track.SmoothAltitudeM[i]))
                : double.NaN;
        }
        for (int k = 0; k < n; k++)
        {
            logHeight[k] -= middle;
        }
        PhaseKind[] kinds = [.. index.Select(i => KindAt(flight, i))];
        Prepared first = With(kinds, [.. kinds.Select(kind => kind == PhaseKind.Climb)]);
        // Turning in one place is told better through the air than over the ground, and better than phases tell it, which know
        // climbs by their rise: a turn to look for lift is flown at another speed than a circle.
        (double E, double N)[] guess = FirstGuess(first);
        double[] speed = new double[n], heading = new double[n];
        for (int k = 0; k < n; k++)
        {
            double x = east[k] - guess[k].E, y = north[k] - guess[k].N;
            (speed[k], heading[k]) = (Math.Sqrt(x * x + y * y), double.IsNaN(x) ? double.NaN : Math.Atan2(x, y));
        }
        bool[] circles = Turning.Circles(speed, heading, StepS, WorkedRad);
        return With(kinds, [.. kinds.Select((kind, k) => kind == PhaseKind.Climb && circles[k])]);

        Prepared With(PhaseKind[] kinds, bool[] circles)
        {
            bool[] newPhase = new bool[n], circling = new bool[n];
            double[] turning = new double[n];
            for (int k = 0; k < n; k++)
            {
                // Lift is entered at the speed of the glide: only when it has been worked for a while is the speed that of circling.
                circling[k] = circles[k] && k >= EntryS && circles[k - EntryS];
                newPhase[k] = k > 0 && (circling[k] != circling[k - 1] || (kinds[k] != kinds[k - 1] && kinds[k] != PhaseKind.Climb));
            }
            // A look counts for the first guess by how much the ground velocity is turning there: straight flight tells nothing.
            // Where there are circles they alone count, for their speed is held; glides change speed with direction.
            bool enough = circling.Count(c => c) * StepS >= 20;
            for (int k = 1; k + 1 < n; k++)
            {
                if (enough && !(circling[k - 1] && circling[k + 1]))
                {
                    continue;
                }
                double change = Math.Sqrt(Square(east[k + 1] - east[k - 1]) + Square(north[k + 1] - north[k - 1]));
                turning[k] = double.IsNaN(change) ? 0 : 0.03 + Math.Min(Square(change / (0.5 * expected)), 1);
            }
            return new Prepared(flight, [.. index], east, north, variance, logHeight, pitot, newPhase, circling, turning, expected, Math.Max(gust, LeastGustMps));
        }
    }

    private static double Square(double x) => x * x;

    private static PhaseKind KindAt(Flight flight, int index)
    {
        foreach (Segment segment in flight.Segments)
        {
            if (index < segment.End)
            {
                return segment.Kind;
            }
        }
        return flight.Segments[^1].Kind;
    }

    /// <summary>The constant wind that makes airspeed most even, by Gauss–Newton from the mean ground velocity.</summary>
    private static (double E, double N)[] FirstGuess(Prepared p)
    {
        double bestCost = double.PositiveInfinity;
        (double E, double N) best = (0, 0);
        int n = p.East.Length;
        // Straight flights leave a valley with two ends: try starts on a ring and keep the best.
        double meanE = 0, meanN = 0;
        int used = 0;
        for (int k = 0; k < n; k++)
        {
            if (!double.IsNaN(p.East[k]))
            {
                meanE += p.East[k];
                meanN += p.North[k];
                used++;
            }
        }
        if (used == 0)
        {
            return new (double, double)[n];
        }
        (meanE, meanN) = (meanE / used, meanN / used);
        for (int ring = 0; ring <= 8; ring++)
        {
            double e = meanE, w = meanN;
            if (ring > 0)
            {
                (double sin, double cos) = Math.SinCos(ring * Math.PI / 4);
                e += 0.7 * p.ExpectedAirspeedMps * sin;
                w += 0.7 * p.ExpectedAirspeedMps * cos;
            }
            double cost = Refine([p], ref e, ref w);
            if (cost < bestCost)
            {
                (bestCost, best) = (cost, (e, w));
            }
        }
        (double E, double N)[] wind = new (double, double)[n];
        Array.Fill(wind, best);
        return wind;
    }

    /// <summary>The constant wind that makes the airspeeds of all flights most even, each beside what is usual for its mass.</summary>
    private static (double E, double N) DayGuess(Prepared[] flights)
    {
        (double E, double N) best = (0, 0);
        double bestCost = double.PositiveInfinity;
        double v = flights.Length > 0 ? flights.Average(f => f.ExpectedAirspeedMps) : 0;
        for (int ring = 0; ring <= 12 && flights.Length > 1; ring++)
        {
            (double sin, double cos) = Math.SinCos(ring * Math.PI / 6);
            double e = ring == 0 ? 0 : 0.9 * v * sin, n = ring == 0 ? 0 : 0.9 * v * cos;
            double cost = Refine(flights, ref e, ref n);
            if (cost < bestCost)
            {
                (bestCost, best) = (cost, (e, n));
            }
        }
        return best;
    }

    /// <summary>Gauss–Newton on the wind and on the flights' common share of their expected airspeeds; robust beyond 1 m/s. Returns the cost.</summary>
    private static double Refine(ReadOnlySpan<Prepared> flights, ref double e, ref double n)
    {
        const double windSd = 6, shareSd = 0.25;
        double share = 1, cost = 0;
        for (int iteration = 0; iteration < 25; iteration++)
        {
            double ee = 1 / (windSd * windSd), en = 0, ev = 0, nn = ee, nv = 0, vv = 1 / (shareSd * shareSd);
            double se = -e * ee, sn = -n * nn, sv = (1 - share) * vv;
            cost = (e * e + n * n) * nn + (share - 1) * (share - 1) * vv;
            foreach (Prepared p in flights)
            {
                double expected = p.ExpectedAirspeedMps;
                for (int k = 0; k < p.East.Length; k++)
                {
                    if (double.IsNaN(p.East[k]))
                    {
                        continue;
                    }
                    double x = p.East[k] - e, y = p.North[k] - n;
                    double speed = Math.Max(Math.Sqrt(x * x + y * y), 0.3);
                    double residual = speed - share * expected;
                    double look = 0.5 * p.Turning[k]; // one look in 2 s, at 1 m/s; robust beyond 1 m/s
                    double weight = look / (1 + residual * residual);
                    cost += look * Math.Log(1 + residual * residual);
                    double a = x / speed, b = y / speed;
                    ee += weight * a * a;
                    en += weight * a * b;
                    ev += weight * a * expected;
                    nn += weight * b * b;
                    nv += weight * b * expected;
                    vv += weight * expected * expected;
                    se += weight * a * residual;
                    sn += weight * b * residual;
                    sv += weight * expected * residual;
                }
            }
            Vector<double> change = Matrix<double>.Build.DenseOfArray(new[,] { { ee, en, ev }, { en, nn, nv }, { ev, nv, vv } })
                .Cholesky().Solve(Vector<double>.Build.Dense([se, sn, sv]));
            e += change[0];
            n += change[1];
            share += change[2];
            if (change.L2Norm() < 1e-5)
            {
                break;
            }
        }
        return cost;
    }

    private static (double E, double N)[] Smooth(Prepared p, (double E, double N)[] about, Prior prior, WindHabits habits,
        GaussianSmoother smoother, bool covariances, out MeanWind mean, out (double Factor, double StandardError)? pitot)
    {
        Filter(p, about, prior, habits, smoother);
        int last = smoother.Steps - 1;
        double span = Math.Max(smoother.Steps, 1) * 1.0;
        ReadOnlySpan<double> state = smoother.State;
        ReadOnlySpan<double> covariance = smoother.Covariance;
        double scale = 1 / (span * span);
        mean = new MeanWind(state[SumE] / span, state[SumN] / span, covariance[SumE * States + SumE] * scale,
            covariance[SumN * States + SumN] * scale, covariance[SumE * States + SumN] * scale);
        pitot = p.Flight.Track.PitotMps is null ? null : (state[Pitot], Math.Sqrt(covariance[Pitot * States + Pitot]));
        smoother.Smooth(covariances);
        (double E, double N)[] wind = new (double, double)[smoother.Steps];
        for (int k = 0; k <= last; k++)
        {
            ReadOnlySpan<double> at = smoother.StateAt(k);
            wind[k] = (at[WindE] + at[SlowE] + at[ShearE] * p.LogHeight[k], at[WindN] + at[SlowN] + at[ShearN] * p.LogHeight[k]);
        }
        return wind;
    }

    private static void Filter(Prepared p, (double E, double N)[] about, Prior prior, WindHabits habits, GaussianSmoother smoother)
    {
        int n = p.East.Length;
        double[] start = new double[States];
        double[] covariance = new double[States * States];
        void Diagonal(int i, double value, double variance)
        {
            start[i] = value;
            covariance[i * States + i] = variance;
        }
        Diagonal(WindE, prior.East, prior.Variance);
        Diagonal(WindN, prior.North, prior.Variance);
        Diagonal(SlowE, 0, Square(habits.WindMps));
        Diagonal(SlowN, 0, Square(habits.WindMps));
        Diagonal(ShearE, 0, ShearSpreadMps * ShearSpreadMps);
        Diagonal(ShearN, 0, ShearSpreadMps * ShearSpreadMps);
        Diagonal(Mean, prior.Gliding.Value * p.ExpectedAirspeedMps, prior.Gliding.Variance * Square(p.ExpectedAirspeedMps));
        Diagonal(Circling, prior.Circling.Value * p.ExpectedAirspeedMps, prior.Circling.Variance * Square(p.ExpectedAirspeedMps));
        Diagonal(Trim, 0, TrimSpreadMps * TrimSpreadMps);
        Diagonal(GustE, 0, Square(habits.GustScale * p.GustMps));
        Diagonal(GustN, 0, Square(habits.GustScale * p.GustMps));
        Diagonal(Penetration, prior.Penetration.Value, prior.Penetration.Variance);
        Diagonal(Pitot, prior.Pitot.Value, prior.Pitot.Variance);
        smoother.Start(start, covariance);
        double[] transition = new double[States * States], process = new double[States * States];
        for (int i = 0; i < States; i++)
        {
            transition[i * States + i] = 1;
        }
        double[] h = new double[States];
        // The pilot answers the day's wind, not its wanderings: were those in here too, a made-up answer could hide them.
        (double usualE, double usualN) = (about.Average(w => w.E), about.Average(w => w.N));
        for (int k = 0; k < n; k++)
        {
            Step(transition, process, habits, k == 0 ? 0 : 1, p, k, TurnedRad(p, about, k));
            smoother.Predict(transition, process);
            if (!double.IsNaN(p.East[k]))
            {
                double x = p.East[k] - about[k].E, y = p.North[k] - about[k].N;
                double speed = Math.Max(Math.Sqrt(x * x + y * y), 0.3);
                (double a, double b) = (x / speed, y / speed);
                // |G − W| linearised about the last round's wind: |G − W0| + u·W0 = u·W + V.
                Array.Clear(h);
                (h[WindE], h[WindN], h[SlowE], h[SlowN], h[ShearE], h[ShearN]) = (a, b, a, b, a * p.LogHeight[k], b * p.LogHeight[k]);
                (h[p.Circling[k] ? Circling : Mean], h[Trim], h[GustE], h[GustN]) = (1, 1, a, b);
                h[Penetration] = p.Circling[k] ? 0 : Answered(-(a * usualE + b * usualN));
                smoother.Observe(h, speed + a * about[k].E + b * about[k].N, p.Variance[k] + LeastVariance);
                if (!double.IsNaN(p.Pitot[k]))
                {
                    Array.Clear(h);
                    double headwind = p.Circling[k] ? 0 : Answered(-(a * usualE + b * usualN));
                    double airspeed = smoother.State[p.Circling[k] ? Circling : Mean] + smoother.State[Trim] + GustShare * (a * smoother.State[GustE] + b * smoother.State[GustN]) + headwind * smoother.State[Penetration];
                    double factor = smoother.State[Pitot];
                    (h[p.Circling[k] ? Circling : Mean], h[Trim], h[GustE], h[GustN], h[Penetration], h[Pitot]) = (factor, factor, GustShare * factor * a, GustShare * factor * b, factor * headwind, airspeed);
                    smoother.Observe(h, p.Pitot[k] + factor * airspeed, PitotNoiseMps * PitotNoiseMps);
                }
            }
            smoother.EndStep();
        }
    }

    /// <summary>Head wind as a pilot answers it with speed, m/s.</summary>
    private static double Answered(double headwindMps) => headwindMps > 0 ? headwindMps : TailwindShare * headwindMps;

    /// <summary>Change of heading through the air into a step, radians.</summary>
    private static double TurnedRad(Prepared p, (double E, double N)[] about, int k)
    {
        if (k == 0 || double.IsNaN(p.East[k]) || double.IsNaN(p.East[k - 1]))
        {
            return 0;
        }
        double x0 = p.East[k - 1] - about[k - 1].E, y0 = p.North[k - 1] - about[k - 1].N;
        double x1 = p.East[k] - about[k].E, y1 = p.North[k] - about[k].N;
        return Math.Abs(Math.Atan2(x1 * y0 - y1 * x0, x0 * x1 + y0 * y1));
    }

    /// <summary>Sets what of the matrices changes from step to step.</summary>
    private static void Step(double[] transition, double[] process, WindHabits habits, double dt, Prepared p, int k, double turnedRad)
    {
        (bool newPhase, bool circling, double logHeight) = (p.NewPhase[k], p.Circling[k], p.LogHeight[k]);
        transition[Trim * States + Trim] = newPhase ? 0 : 1;
        if (newPhase)
        {
            process[Trim * States + Trim] = Square(circling ? CircleSpreadMps : TrimSpreadMps);
        }
        else
        {
            process[Trim * States + Trim] = circling
                ? Square(habits.CirclingDriftMps) / 10 * dt
                : Square(habits.GlidingDriftMps) / 10 * dt + Square(TurnTrimMps) * turnedRad / Math.PI;
        }
        double keep = Math.Exp(-dt / GustS);
        foreach (int gust in (ReadOnlySpan<int>)[GustE, GustN])
        {
            transition[gust * States + gust] = keep;
            process[gust * States + gust] = Square(habits.GustScale * p.GustMps) * (1 - keep * keep);
        }
        double stay = Math.Exp(-dt / habits.WindS);
        foreach (int slow in (ReadOnlySpan<int>)[SlowE, SlowN])
        {
            transition[slow * States + slow] = stay;
            process[slow * States + slow] = Square(habits.WindMps) * (1 - stay * stay);
        }
        transition[SumE * States + WindE] = 1;
        transition[SumE * States + SlowE] = 1;
        transition[SumE * States + ShearE] = logHeight;
        transition[SumN * States + WindN] = 1;
        transition[SumN * States + SlowN] = 1;
        transition[SumN * States + ShearN] = logHeight;
    }

    /// <summary>Flights enough to learn habits from, evenly through the session: all of an ordinary one.</summary>
    private static int[] Some(Prepared[] flights)
    {
        const double enoughS = 20_000; // a few habits are known to a few per cent by then
        double total = flights.Sum(f => f.East.Length * StepS);
        int every = Math.Max(1, (int)(total / enoughS));
        return [.. Enumerable.Range(0, flights.Length).Where(k => k % every == 0)];
    }

    /// <summary>
    /// Habits with the greatest likelihood over all flights, held by broad log-normal priors about the usual ones: a
    /// session of straight flights has little to say of them.
    /// </summary>
    private static WindHabits Learn(Prepared[] flights, (double E, double N)[][] winds, Prior[] priors, WindHabits from, int threads, CancellationToken cancel)
    {
        int[] some = Some(flights);
        double[] usual = Logs(WindHabits.Usual);
        double[] likelihoods = new double[some.Length];
        double[] spread = [0.3, 0.4, 0.12, 0.3, 0.35];
        double Cost(Vector<double> u)
        {
            cancel.ThrowIfCancellationRequested();
            double cost = 0;
            double[] logs = new double[Habits];
            for (int i = 0; i < Habits; i++)
            {
                cost += 0.5 * u[i] * u[i];
                logs[i] = usual[i] + spread[i] * Math.Clamp(u[i], -4, 4);
            }
            WindHabits habits = FromLogs(logs);
            EachFlight(some.Length, false, threads, (k, smoother) =>
            {
                Filter(flights[some[k]], winds[some[k]], priors[some[k]], habits, smoother);
                likelihoods[k] = smoother.LogLikelihood;
            }, cancel);
            return cost - likelihoods.Sum();
        }
        double[] start = Logs(from);
        for (int i = 0; i < Habits; i++)
        {
            start[i] = (start[i] - usual[i]) / spread[i];
        }
        Vector<double> best = SimplexSearch.Minimise(Cost, start, 0.7, 0.05, 90);
        double[] found = new double[Habits];
        for (int i = 0; i < Habits; i++)
        {
            found[i] = usual[i] + spread[i] * Math.Clamp(best[i], -4, 4);
        }
        return FromLogs(found);
    }

    private static double[] Logs(WindHabits h) =>
        [Math.Log(h.CirclingDriftMps), Math.Log(h.GlidingDriftMps), Math.Log(h.WindMps), Math.Log(h.WindS), Math.Log(h.GustScale)];

    private static WindHabits FromLogs(double[] x) =>
        new(Math.Exp(x[0]), Math.Exp(x[1]), Math.Exp(x[2]), Math.Exp(x[3]), Math.Exp(x[4]));

    /// <summary>
    /// What a flight may have met, from the other flights of the session: their weighted mean and how much they differ.
    /// Two or three flights say little of that, so a usual difference, worth three flights, stands beside theirs.
    /// </summary>
    private static Prior PriorFromOthers(int flight, Found[] found)
    {
        const double usualWind = 1.5, usualCircling = 0.05, usualGliding = 0.12, usualPenetration = 0.15, usualPitot = 0.01;
        Found[] others = [.. found.Where((_, k) => k != flight)];
        if (others.Length == 0)
        {
            return Prior.Alone;
        }
        (double east, double eastVariance) = Pool([.. others.Select(o => (o.Wind.EastMps, o.Wind.VarianceEast))], usualWind);
        (double north, double northVariance) = Pool([.. others.Select(o => (o.Wind.NorthMps, o.Wind.VarianceNorth))], usualWind);
        return new Prior(east, north, 0.5 * (eastVariance + northVariance), Pool([.. others.Select(o => o.Circling)], usualCircling),
            Pool([.. others.Select(o => o.Gliding)], usualGliding), Pool([.. others.Select(o => o.Penetration)], usualPenetration), Pool([.. others.Select(o => o.Pitot)], usualPitot));
    }

    /// <summary>Mean of others' values and the variance with which it predicts the next one.</summary>
    private static (double Value, double Variance) Pool((double Value, double Variance)[] others, double usualSpread)
    {
        double weights = 0, mean = 0, square = 0;
        foreach ((double value, double variance) in others)
        {
            double weight = 1 / (Square(usualSpread) + variance);
            weights += weight;
            mean += weight * value;
        }
        mean /= weights;
        foreach ((double value, double variance) in others)
        {
            square += Square(usualSpread) / (Square(usualSpread) + variance) * Square(value - mean);
        }
        double between = (square + 3 * Square(usualSpread)) / (others.Length + 3);
        return (mean, between + 1 / weights);
    }

    private static double Quadratic(ReadOnlySpan<double> covariance, ReadOnlySpan<double> h)
    {
        double sum = 0;
        for (int i = 0; i < States; i++)
        {
            for (int j = 0; j < States && h[i] != 0; j++)
            {
                sum += h[i] * h[j] * covariance[i * States + j];
            }
        }
        return sum;
    }

    /// <summary>The day's wind as the smoother has it: mean over the flight of all its parts.</summary>
    private static (double E, double N) Usual(Prepared p, GaussianSmoother smoother)
    {
        double e = 0, n = 0;
        for (int k = 0; k < smoother.Steps; k++)
        {
            ReadOnlySpan<double> at = smoother.StateAt(k);
            e += at[WindE] + at[SlowE] + at[ShearE] * p.LogHeight[k];
            n += at[WindN] + at[SlowN] + at[ShearN] * p.LogHeight[k];
        }
        return (e / smoother.Steps, n / smoother.Steps);
    }

    private static FlightAir Spread(Prepared p, GaussianSmoother smoother, MeanWind mean, (double, double)? pitot)
    {
        Flight flight = p.Flight;
        Track track = flight.Track;
        GroundMotion ground = track.Ground!;
        int count = flight.End - flight.First;
        double[] east = new double[count], north = new double[count], inertial = new double[count], speed = new double[count];
        double[] variance = new double[count], heading = new double[count];
        (double usualE, double usualN) = Usual(p, smoother);
        int stride = p.Index.Length > 1 ? p.Index[1] - p.Index[0] : 1;
        Span<double> h = stackalloc double[States];
        for (int i = 0; i < count; i++)
        {
            double at = (double)i / stride;
            int k = Math.Min((int)at, smoother.Steps - 1);
            int k2 = Math.Min(k + 1, smoother.Steps - 1);
            double weight = p.NewPhase[k2] ? 0 : Math.Min(at - k, 1);
            double log = (1 - weight) * p.LogHeight[k] + weight * p.LogHeight[k2];
            double Blend(int state) => (1 - weight) * smoother.StateAt(k)[state] + weight * smoother.StateAt(k2)[state];
            east[i] = Blend(WindE) + Blend(SlowE) + Blend(ShearE) * log;
            north[i] = Blend(WindN) + Blend(SlowN) + Blend(ShearN) * log;
            int g = flight.First + i;
            double x = ground.EastMps[g] - east[i], y = ground.NorthMps[g] - north[i];
            double v = Math.Sqrt(x * x + y * y);
            bool known = ground.VarianceM2ps2[g] < 1.5;
            // The path slopes down: a little of the speed is vertical. Rising is the air's doing and no part of it.
            double down = Math.Min(track.VerticalSpeedMps[g], 0), steep = down * down / (2 * Math.Max(v, 3));
            inertial[i] = known ? v + steep : double.NaN;
            heading[i] = Math.Atan2(x, y);
            double headwind = v > 0.3 && !p.Circling[k] ? Answered(-(x * usualE + y * usualN) / v) : 0;
            int level = p.Circling[k] ? Circling : Mean;
            double a = v > 0.3 ? x / v : 0, b = v > 0.3 ? y / v : 0;
            speed[i] = known && !double.IsNaN(p.East[k]) ? Math.Max(Blend(level) + Blend(Trim) + GustShare * (a * Blend(GustE) + b * Blend(GustN)) + headwind * Blend(Penetration) + steep, 0.5) : double.NaN;
            h.Clear();
            (h[level], h[Trim], h[GustE], h[GustN], h[Penetration]) = (1, 1, GustShare * a, GustShare * b, headwind);
            double lasting = a * a * mean.VarianceEast + b * b * mean.VarianceNorth + 2 * a * b * mean.CovarianceEastNorth;
            variance[i] = Math.Max(Quadratic(smoother.CovarianceAt(k), h) - lasting, 0.02);
        }
        return new FlightAir
        {
            Flight = flight,
            WindEastMps = east,
            WindNorthMps = north,
            InertialSpeedMps = inertial,
            AirspeedMps = speed,
            AirspeedVarianceM2ps2 = variance,
            HeadingRad = heading,
            LoadFactor = Turning.LoadFactors(speed, heading, track.StepS),
            Circling = Turning.Circles(speed, heading, track.StepS),
            Wind = mean,
            PitotFactor = pitot,
        };
    }
}
