using MathNet.Numerics.Distributions;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>
/// Chance of making the time: simulated flights. From its launch the model glides through the air, up against the wind where it has been
/// carried down it; meets lift by chance, works it while the wind carries both away; turns for home at the last height that reaches it;
/// and has made the time if it is aloft then and can still come home. Everything random is the same for all options. docs/models/advice.md eq. 8.
/// </summary>
internal static class ChanceOfTime
{
    private const int Worlds = 60, FlightsEach = 30;
    private const double LaunchScatter = 0.12; // of a launch's height, as the launch model has it
    private const double LiftScatter = 0.35;   // from thermal to thermal, of the logarithm; common practice, no source
    private const double LowestWorkedM = 12;   // nobody should circle lower, and the height to land with; common practice, no source
    private const double CeilingM = 300;       // beyond it a small model is hard to see; common practice, no source
    private const double WorthMps = 0.05;      // lift that hardly carries is passed by
    private const double AheadMps = 1;         // the least way made against the wind while looking for lift
    private const int TablePoints = 33;

    /// <summary>Shares of flights that make it, one an option.</summary>
    /// <param name="options">Drawn.</param>
    /// <param name="air">As asked.</param>
    /// <param name="launches">Launch heights.</param>
    /// <param name="met">How often lift is met.</param>
    /// <param name="timeS">To be made.</param>
    /// <param name="seed">Seed.</param>
    public static Band[] Of(DrawnOptions options, AskedAir air, LaunchHeights launches, LiftMet met, double timeS, int seed)
    {
        System.Random random = new(seed);
        int n = options.Options.Count, worlds = Math.Min(Worlds, options.Draws);
        int events = (int)Math.Clamp(timeS / 20, 12, 96);
        double[][] shares = [.. Enumerable.Range(0, n).Select(_ => new double[worlds])];
        Luck[] luck = [.. Enumerable.Range(0, FlightsEach).Select(_ => new Luck(events))];
        for (int w = 0; w < worlds; w++)
        {
            int d = (int)((long)w * options.Draws / worlds);
            AirDraw draw = air.Draws[d];
            double[] launch = launches.Draw(random);
            double meanWayM = 1000 / met.DrawRate(random);
            foreach (Luck flight in luck)
            {
                flight.Draw(random, meanWayM, met);
            }
            double strongest = draw.CoreMps * luck.Max(l => l.Strength.Max());
            for (int k = 0; k < n; k++)
            {
                Flown model = new(options, k, d, draw, air.Lifted ? strongest : 0);
                double height = LaunchHeights.HeightM(launch, options.MassRatio(k), draw.WindMps);
                shares[k][w] = luck.Count(l => MakesIt(model, l, height * l.Launch, draw, timeS)) / (double)FlightsEach;
            }
        }
        return [.. shares.Select(ShareOf)];
    }

    /// <summary>
    /// Mean and 90 % interval of the share that flights without number would have: of the scatter between worlds, what so few flights each
    /// make by chance alone is taken off.
    /// </summary>
    private static Band ShareOf(double[] shares)
    {
        double mean = shares.Average(), all = shares.Average(s => (s - mean) * (s - mean));
        double luck = shares.Average(s => s * (1 - s)) / (FlightsEach - 1);
        double keep = all > 0 ? Math.Sqrt(Math.Max(all - luck, 0) / all) : 0;
        Band band = Band.Of(shares.Select(s => mean + keep * (s - mean)));
        // Nor is the mean of so many flights known better than this.
        double own = 1.645 * Math.Sqrt(Math.Max(mean * (1 - mean), 0.25 / (FlightsEach * shares.Length)) / (FlightsEach * shares.Length));
        return new Band(mean, Math.Max(0, Math.Min(band.Low, mean - own)), Math.Min(1, Math.Max(band.High, mean + own)));
    }

    private static bool MakesIt(Flown model, Luck luck, double launchM, AirDraw draw, double timeS)
    {
        double t = 0, h = launchM, downwind = 0, wind = draw.WindMps;
        double toLift = luck.WayM[0];
        int next = 0;
        while (t < timeS)
        {
            double spare = h - model.NeedM(downwind) - LowestWorkedM;
            bool home = downwind > 0 && spare <= 1e-9;
            double v = home ? model.HomeMps : model.SearchMps, sink = home ? model.HomeSinkMps : model.SearchSinkMps;
            double ahead = v - wind;
            // In front of its place it flies to and fro across the wind.
            double drift = downwind > 0 || ahead < 0 ? -ahead : 0;
            double step = Math.Min(timeS - t, toLift / v);
            step = Math.Min(step, h / sink);
            if (downwind > 0 && drift < 0)
            {
                step = Math.Min(step, downwind / -drift);
            }
            double closing = sink + drift * model.NeedPerM;
            if (!home && downwind > 0 && closing > 0)
            {
                step = Math.Min(step, Math.Max(spare, 0) / closing + 1e-6);
            }
            (t, h, toLift) = (t + step, h - sink * step, toLift - v * step);
            downwind = Math.Max(0, downwind + drift * step);
            if (downwind < 1e-6)
            {
                downwind = 0;
            }
            if (h <= 1e-6 && t < timeS)
            {
                return false;
            }
            if (toLift > 1e-6 || t >= timeS)
            {
                continue;
            }
            double climb = model.ClimbMps(draw.CoreMps * luck.Strength[next]);
            spare = h - model.NeedM(downwind) - LowestWorkedM;
            if (climb > WorthMps && spare > 0)
            {
                double seconds = Math.Min(Math.Min(luck.DurationS[next], timeS - t), Math.Max(CeilingM - h, 0) / climb);
                double gaining = climb - wind * model.NeedPerM;
                seconds = gaining < 0 ? Math.Min(seconds, spare / -gaining) : seconds;
                (t, h, downwind) = (t + seconds, h + climb * seconds, downwind + wind * seconds);
            }
            next++;
            toLift = next < luck.WayM.Length ? luck.WayM[next] : double.PositiveInfinity;
        }
        return h >= model.NeedM(downwind) - 1e-3;
    }

    /// <summary>One option in one world, as its flights need it.</summary>
    private sealed class Flown
    {
        private readonly double[] _climbs = new double[TablePoints];
        private readonly double _step;

        public Flown(DrawnOptions options, int option, int draw, AirDraw air, double strongestMps)
        {
            SinkCurve level = options.Level(option, draw);
            double fastest = level.AirspeedMps[^1];
            SearchMps = Math.Min(Math.Max(level.BestGlide(0)!.Value.AirspeedMps, air.WindMps + AheadMps), fastest);
            SearchSinkMps = level.At(SearchMps);
            (double AirspeedMps, double Ratio)? home = level.BestGlide(air.WindMps);
            HomeMps = home?.AirspeedMps ?? fastest;
            HomeSinkMps = level.At(HomeMps);
            NeedPerM = home is { } glide ? 1 / glide.Ratio : double.PositiveInfinity;
            double kept = air.Lift.Centring(options.MassRatio(option));
            ClimbCurve circles = options.Climb(option, draw, new Lift(air.Lift.RadiusM, 0, 0, 1, 0));
            _step = strongestMps * kept / (TablePoints - 1);
            for (int i = 0; i < TablePoints && _step > 0; i++)
            {
                _climbs[i] = circles.At(i * _step).ClimbMps;
            }
            _step /= kept;
        }

        public double SearchMps { get; }

        public double SearchSinkMps { get; }

        public double HomeMps { get; }

        public double HomeSinkMps { get; }

        /// <summary>Height for each metre to come home.</summary>
        public double NeedPerM { get; }

        public double NeedM(double downwindM) => downwindM > 0 ? downwindM * NeedPerM : 0;

        public double ClimbMps(double coreMps)
        {
            if (!(_step > 0))
            {
                return double.NegativeInfinity;
            }
            double position = Math.Min(coreMps / _step, TablePoints - 1 - 1e-9);
            int i = (int)position;
            return _climbs[i] + (position - i) * (_climbs[i + 1] - _climbs[i]);
        }
    }

    /// <summary>What chance deals a flight.</summary>
    private sealed class Luck(int events)
    {
        public double Launch { get; private set; }

        public double[] WayM { get; } = new double[events];

        public double[] Strength { get; } = new double[events];

        public double[] DurationS { get; } = new double[events];

        public void Draw(System.Random random, double meanWayM, LiftMet met)
        {
            Launch = Math.Exp(LaunchScatter * Normal.Sample(random, 0, 1));
            for (int i = 0; i < WayM.Length; i++)
            {
                WayM[i] = -meanWayM * Math.Log(1 - random.NextDouble());
                Strength[i] = Math.Exp(LiftScatter * Normal.Sample(random, 0, 1) - LiftScatter * LiftScatter / 2);
                DurationS[i] = met.DrawDurationS(random);
            }
        }
    }
}
