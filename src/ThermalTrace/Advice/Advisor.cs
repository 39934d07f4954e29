using MathNet.Numerics.Interpolation;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>What advice says of one option beyond the comparison.</summary>
/// <param name="Choice">The option.</param>
/// <param name="Outcome">As compared.</param>
/// <param name="Rests">What it rests on.</param>
/// <param name="ReturnHeightM">Height needed for 100 m of return over the ground, m; unknown where the wind cannot be made way against.</param>
/// <param name="PenetrationMps">Speed for that; NaN where unknown.</param>
/// <param name="LoadFactorRms">How it will be thrown about, gliding.</param>
/// <param name="Chance">Of making the time; unknown where not asked.</param>
/// <param name="Reach">For lift.</param>
internal sealed record OptionAdvice(BallastChoice Choice, OptionOutcome Outcome, Rests Rests, Band ReturnHeightM, double PenetrationMps, Band LoadFactorRms,
    Band Chance, IReadOnlyList<ReachedLift> Reach);

/// <summary>Advice for a question, with all that it was worked out from.</summary>
internal sealed record Advised(AskedConditions Asked, AskedAir Air, FieldWind? Field, UsualLaunch Launch, LiftMet Met, BallastChoices Choices, ComparisonOutcome Comparison,
    IReadOnlyList<OptionAdvice> Options, (double LowG, double HighG)? RangeG, string Support, IReadOnlyList<SwitchPoint> WindSwitches, IReadOnlyList<SwitchPoint> LiftSwitches);

/// <summary>The choices compared in some air: what every answer begins with.</summary>
internal sealed record ComparedChoices(DrawnOptions Options, AskedAir Air, ComparisonOutcome Comparison, IReadOnlyList<Rests> Rests);

/// <summary>Answers a question from the season's model. docs/models/advice.md.</summary>
internal static class Advisor
{
    private const int Draws = 300;      // enough for 0.01 m/s between options that share them
    private const double MostWindMps = 15, WindStepMps = 0.5, MostLiftMps = 5, LiftStepMps = 0.25;
    private const int RangeSteps = 400, ReachDraws = 100;

    /// <summary>Answers.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="asked">What is asked.</param>
    /// <param name="readings">Of the wind near the ground, of any fields.</param>
    /// <param name="seed">Seed of every draw.</param>
    public static Advised Answer(SeasonModel model, AskedConditions asked, IReadOnlyList<FieldReading> readings, int seed)
    {
        BallastChoices choices = BallastChoices.Of(model, asked.ClimbMps is null ? null : asked.ClimbWithG);
        FieldWind? field = asked.WindHeightM is { } readAt ? FieldWind.From(readAt, asked.Ground, asked.Field, readings) : null;
        UsualLaunch launch = UsualLaunch.For(model, asked.FromHeightM);
        ComparedChoices compared = Compare(model, asked, choices, Prepare(model, choices, seed, asked.DensityKgM3), launch, field, seed);
        (DrawnOptions options, AskedAir air, ComparisonOutcome comparison, IReadOnlyList<Rests> rests) = compared;
        LiftMet met = LiftMet.Of(model);
        Band[]? chances = asked.TimeS is { } time ? ChanceOfTime.Of(options, air, launch.Heights, met, time, seed + 3) : null;
        OptionAdvice[] each = [.. Enumerable.Range(0, choices.All.Count).Select(k =>
        {
            (Band height, double speed) = Return(options, k, air);
            return new OptionAdvice(choices.All[k], comparison.Outcomes[k], rests[k], height, speed, Ride(options, k, air),
                chances?[k] ?? Band.Unknown, air.Lifted ? Reach(options, k, air, launch.Heights, seed + 4, asked.ArriveM) : []);
        })];
        bool[] allowed = [.. choices.All.Select(c => c.Option.Allowed)];
        double[] winds = Steps(MostWindMps, WindStepMps), cores = Steps(MostLiftMps, LiftStepMps);
        return new Advised(asked, air, field, launch, met, choices, comparison, each, Range(comparison, choices), SupportOf(comparison, rests),
            air.Lifted ? SwitchPoints.Of(SweptTrips.OverWind(options, air, asked, winds), allowed) : [],
            air.Lifted ? SwitchPoints.Of(SweptTrips.OverLift(options, air, cores), allowed) : []);
    }

    /// <summary>The choices in draws of all that is uncertain of the model: what every question begins with.</summary>
    public static DrawnOptions Prepare(SeasonModel model, BallastChoices choices, int seed, double densityKgM3)
    {
        (CurveMaker maker, double[][] draws) = model.Curves(choices.Options, seed, Draws);
        return new DrawnOptions(choices.Options, model.Airframe.UnballastedMassG / 1000, maker, draws, Draws, densityKgM3);
    }

    /// <summary>The choices against each other in the air asked for.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="asked">What is asked.</param>
    /// <param name="choices">What may be fitted.</param>
    /// <param name="options">Of <see cref="Prepare"/>.</param>
    /// <param name="launch">Heights to begin at.</param>
    /// <param name="field">Of a reading near the ground; null without one.</param>
    /// <param name="seed">Seed of every draw.</param>
    public static ComparedChoices Compare(SeasonModel model, AskedConditions asked, BallastChoices choices, DrawnOptions options, UsualLaunch launch, FieldWind? field, int seed)
    {
        AskedAir air = AskedAir.Draw(asked, model, options, field, seed + 1);
        if (model.Learned.Kind != "physics" && air.Lifted)
        {
            // What was learned is asked at the middle of the conditions; the air is drawn once more, for a climb that was seen had it in.
            double lift = air.Draws.Average(d => d.CoreMps);
            options = options.WithGains(choices.Options.Select(o => model.Gain(o.MassKg, air.Edr, air.WindMps, lift)));
            air = AskedAir.Draw(asked, model, options, field, seed + 1);
        }
        return new ComparedChoices(options, air, Comparison.Run(options, air.Play(), launch.Heights, seed + 2), Overlap.Of(model, choices, air));
    }

    private static double[] Steps(double most, double step) => [.. Enumerable.Range(0, (int)Math.Round(most / step) + 1).Select(i => i * step)];

    private static IReadOnlyList<ReachedLift> Reach(DrawnOptions options, int option, AskedAir air, LaunchHeights launches, int seed, double arriveM)
    {
        // Whole metres are told: fewer draws do.
        int[] draws = [.. Enumerable.Range(0, Math.Min(ReachDraws, options.Draws)).Select(i => (int)((long)i * options.Draws / Math.Min(ReachDraws, options.Draws)))];
        System.Random random = new(seed);
        double[] heights = [.. draws.Select(d => LaunchHeights.HeightM(launches.Draw(random), options.MassRatio(option), air.Draws[d].WindMps))];
        double[] climbs = [.. draws.Select(d => options.Climb(option, d, air.Draws[d].Lift).At(air.Draws[d].CoreMps).ClimbMps)];
        return ReachForLift.Of(options, option, draws, climbs, heights, arriveM);
    }

    private static (Band HeightM, double SpeedMps) Return(DrawnOptions options, int option, AskedAir air)
    {
        Band height = Band.Of(Enumerable.Range(0, options.Draws).Select(d => 100 / (options.Level(option, d).BestGlide(air.Draws[d].WindMps)?.Ratio ?? double.NaN)));
        return (height, height.IsKnown ? options.MeanLevel(option).BestGlide(air.WindMps)?.AirspeedMps ?? double.NaN : double.NaN);
    }

    private static Band Ride(DrawnOptions options, int option, AskedAir air)
    {
        double unit = Steadiness.LoadFactorRms(options.MeanLevel(option).BestGlide(0)!.Value.AirspeedMps, SurfaceWind.FlyingHeightM);
        // The lift slope and the height are open in every draw alike for all options: even shares of a normal stand for them.
        int count = options.Draws;
        return Band.Of(Enumerable.Range(0, count).Select(d =>
            unit * air.Draws[d].Edr * Math.Exp(Steadiness.Spread * MathNet.Numerics.Distributions.Normal.InvCDF(0, 1, ((d * 7919L % count) + 0.5) / count))));
    }

    /// <summary>All ballast within what is felt of the best, on a smooth curve through the options that may be suggested.</summary>
    private static (double LowG, double HighG)? Range(ComparisonOutcome comparison, BallastChoices choices)
    {
        if (comparison.Best < 0)
        {
            return null;
        }
        Band Measure(int k) => comparison.RoundTrip ? comparison.Outcomes[k].RoundTripMps : comparison.Outcomes[k].StillAirS;
        double best = Measure(comparison.Best).Value, at = choices.All[comparison.Best].Option.BallastG;
        double felt = comparison.RoundTrip ? Comparison.FeltMps
            : Comparison.FeltMps * best * best / Math.Max(comparison.Outcomes[comparison.Best].LaunchHeightM.Value, 1);
        int[] known = [.. Enumerable.Range(0, choices.All.Count).Where(k => choices.All[k].Option.Allowed && Measure(k).IsKnown)];
        if (known.Length < 2)
        {
            return (at, at);
        }
        double[] ballasts = [.. known.Select(k => choices.All[k].Option.BallastG)];
        CubicSpline curve = CubicSpline.InterpolateNaturalSorted(ballasts, [.. known.Select(k => Measure(k).Value)]);
        double Edge(double end)
        {
            double edge = at;
            for (int step = 1; step <= RangeSteps; step++)
            {
                double ballast = at + (end - at) * step / RangeSteps;
                if (!(curve.Interpolate(ballast) >= best - felt))
                {
                    break;
                }
                edge = ballast;
            }
            return edge;
        }
        return (Edge(ballasts[0]), Edge(ballasts[^1]));
    }

    private static string SupportOf(ComparisonOutcome comparison, IReadOnlyList<Rests> rests) =>
        comparison.Best < 0 ? "predicted"
        : comparison.Rival < 0 ? rests[comparison.Best].Support
        : Overlap.Weaker(rests[comparison.Best].Support, rests[comparison.Rival].Support);
}
