using MathNet.Numerics.Distributions;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Advice;

/// <summary>The air asked for, in one draw.</summary>
/// <param name="WindMps">At flying height.</param>
/// <param name="EdrDeparture">By what turbulence departs from what is usual in that wind; 1 where it was asked for.</param>
/// <param name="Edr">m^(2/3)/s.</param>
/// <param name="Habit">How lift is worked.</param>
/// <param name="HeightM">At which, over ground.</param>
/// <param name="CoreMps">Lift; 0 where there is none.</param>
internal sealed record AirDraw(double WindMps, double EdrDeparture, double Edr, ClimbHabit Habit, double HeightM, double CoreMps)
{
    /// <summary>The lift and how it is worked.</summary>
    public Lift Lift => Habit.At(HeightM, Edr, 0);

    /// <summary>The same draw in another wind.</summary>
    public AirDraw InWind(double windMps, AskedConditions asked) =>
        this with { WindMps = windMps, Edr = asked.Edr is null ? SurfaceWind.ExpectedEdr(windMps, asked.Ground) * EdrDeparture : Edr };
}

/// <summary>
/// The air that a pilot asks about, drawn: ranges evenly, a reading near the ground brought to flying height with what that leaves
/// open, turbulence from wind and ground where it is not given, lift from a climb that was seen. docs/models/advice.md.
/// </summary>
internal sealed class AskedAir
{
    private const double UsualClimbHeightM = 50; // of climbs where none was logged; common practice, no source
    private const double ClimbReadingSpread = 0.1; // of a climb read off by the pilot, one standard deviation; common practice, no source
    private const int MostSteps = 30;

    private AskedAir(IReadOnlyList<AirDraw> draws, bool lifted) => (Draws, Lifted) = (draws, lifted);

    /// <summary>As many as the options have.</summary>
    public IReadOnlyList<AirDraw> Draws { get; }

    /// <summary>False where no lift was asked for.</summary>
    public bool Lifted { get; }

    /// <summary>Mean wind, m/s.</summary>
    public double WindMps => Draws.Average(d => d.WindMps);

    /// <summary>Mean turbulence, m^(2/3)/s.</summary>
    public double Edr => Draws.Average(d => d.Edr);

    /// <summary>Draws it.</summary>
    /// <param name="asked">What was asked; lift or climb given.</param>
    /// <param name="model">The season's.</param>
    /// <param name="options">The options in draws, among them the one that a climb was seen with.</param>
    /// <param name="field">From a reading to flying height; not looked at where the wind is meant for flying height.</param>
    /// <param name="seed">Seed.</param>
    public static AskedAir Draw(AskedConditions asked, SeasonModel model, DrawnOptions options, FieldWind? field, int seed)
    {
        System.Random random = new(seed);
        int count = options.Draws;
        bool lifted = asked.ClimbMps is not null || asked.LiftMps is { High: > 0 };
        double height = ClimbHeightM(model);
        double[] winds = Strata(random, count), edrs = Strata(random, count), lifts = Strata(random, count);
        double[] ratios = Normals(random, count), departures = Normals(random, count), readings = Normals(random, count);
        int with = asked.ClimbMps is null ? -1 : Drag.IndexOf(options.Options, asked.ClimbWithG);
        AirDraw[] draws = new AirDraw[count];
        for (int d = 0; d < count; d++)
        {
            double wind = asked.WindMps.Part(winds[d]);
            if (asked.WindHeightM is not null && field is not null)
            {
                wind *= Math.Exp(field.LogRatio + field.Spread * ratios[d]);
            }
            double departure = asked.Edr is null ? Math.Exp(SurfaceWind.EdrSpread * departures[d]) : 1;
            double edr = asked.Edr?.Part(edrs[d]) ?? SurfaceWind.ExpectedEdr(wind, asked.Ground) * departure;
            ClimbHabit habit = model.Habits[(int)((long)d * model.Habits.Count / count)];
            AirDraw draw = new(wind, departure, edr, habit, height, asked.LiftMps?.Part(lifts[d]) ?? 0);
            draws[d] = asked.ClimbMps is { } seen
                ? draw with { CoreMps = CoreMps(options.Climb(with, d, draw.Lift), seen.Part(lifts[d]) * (1 + ClimbReadingSpread * readings[d])) }
                : draw;
        }
        return new AskedAir(draws, lifted);
    }

    /// <summary>The draws in turn, as a comparison asks for them: first a draw's wind, then its lift. Good for one comparison.</summary>
    public IDrawnAir Play() => new Playing(this);

    /// <summary>Mean height of the climbs flown, weighted by time, m; a usual one without any.</summary>
    internal static double ClimbHeightM(SeasonModel model)
    {
        ClimbFact[] climbs = [.. model.Sessions.SelectMany(s => s.Evidence.Climbs).Where(c => c.HeightM > 0 && c.Seconds > 0)];
        return climbs.Length == 0 ? UsualClimbHeightM : climbs.Sum(c => c.HeightM * c.Seconds) / climbs.Sum(c => c.Seconds);
    }

    /// <summary>The core in which the best circle climbs as was seen. Convex and rising, so Newton's steps come down to the root from above.</summary>
    internal static double CoreMps(ClimbCurve curve, double climbMps)
    {
        double core = Math.Max(climbMps, 0) + 1;
        for (int step = 0; step < MostSteps; step++)
        {
            (double climb, double gain) = curve.At(core);
            double change = (climbMps - climb) / gain;
            core = Math.Max(core + change, 0);
            if (!(Math.Abs(change) > 1e-9))
            {
                break;
            }
        }
        return core;
    }

    /// <summary>Even shares of 0 to 1 in random order: a range is covered whole by few draws.</summary>
    internal static double[] Strata(System.Random random, int count)
    {
        double[] shares = [.. Enumerable.Range(0, count).Select(i => (i + random.NextDouble()) / count)];
        random.Shuffle(shares);
        return shares;
    }

    /// <summary>Standard normal numbers from even shares, for the same reason.</summary>
    private static double[] Normals(System.Random random, int count) => [.. Strata(random, count).Select(s => Normal.InvCDF(0, 1, Math.Clamp(s, 1e-6, 1 - 1e-6)))];

    private sealed class Playing(AskedAir air) : IDrawnAir
    {
        private int _next = -1;

        public double WindMps => air.WindMps;

        public double Edr => air.Edr;

        public bool Lifted => air.Lifted;

        public double DrawWindMps(System.Random random) => air.Draws[++_next].WindMps;

        public DrawnLift DrawLift(System.Random random, ReadOnlySpan<double> coefficients) => new(air.Draws[_next].CoreMps, air.Draws[_next].Lift);
    }
}
