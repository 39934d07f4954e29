using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;
using DragCurve = ThermalTrace.Polars.DragCurve;

namespace ThermalTrace.Tests.Ballast;

public sealed class MassEffectsTests(ITestOutputHelper output)
{
    private static readonly SeasonModel Tansy = AdviceModels.Predicted(AdviceModels.Tansy);

    // √(2 · 0.308 kg · 9.80665 / (1.225 · 0.213 m² · 1.05)), by hand.
    [Fact]
    public void Stall_IsTheSpeedAtWhichTheLargestLiftCarriesTheWeight()
    {
        MassEffect effect = MassEffects.Of(Tansy, [60], 1)[0];
        Assert.Equal(4.69568, effect.StallMps.Value, 1e-5);
        Assert.Equal(4.69568 * Math.Sqrt(1.05 / 1.25), effect.StallMps.Low, 1e-5);
        Assert.Equal(4.69568 * Math.Sqrt(1.05 / 0.90), effect.StallMps.High, 1e-5);
    }

    // R = V²/(g tan φ), 8 m/s: 11.3037 m at 30°, 6.5262 m at 45° (mechanics, computed).
    [Theory]
    [InlineData(30, 11.3037)]
    [InlineData(45, 6.5262)]
    public void Circle_At8MetresASecond_HasTheRadiusOfMechanics(double bankDeg, double radiusM) => Assert.Equal(radiusM, MassEffects.TurnRadiusM(8, bankDeg), 5e-5);

    // At the level flight's lift coefficient the circle is flown at V cos^-1/2: the load factor 1/cos 30° = 1.154701 makes the radius larger by itself.
    [Fact]
    public void Circle_AtTheLiftCoefficientOfLevelFlight_IsWiderByTheLoadFactor()
    {
        Assert.Equal(1.154701 * 11.3037, MassEffects.TurnRadiusAtSameClM(8, 30), 1e-4);
        MassEffect effect = MassEffects.Of(Tansy, [0], 1)[0];
        Assert.Equal(MassEffects.TurnRadiusAtSameClM(effect.MinSinkAirspeedMps.Value, 30), effect.TurnRadiusM.Value, 1e-9);
    }

    // Closed forms (Anderson, Aircraft Performance and Design, from memory; computed): w = 4.496948e-4 V³ + 1.117635/V, and w = 0.01 V² - 0.12 V + 0.8.
    [Theory]
    [InlineData(4.496948e-4, 0, 0, 0, 1.117635, 5.364944, 7.060663)]
    [InlineData(0, 0.01, -0.12, 0.8, 0, 6, 8.944272)]
    public void Speeds_BetweenThePointsOfATable_AreThoseOfTheCurve(double cube, double square, double line, double level, double inverse, double minSinkMps, double bestGlideMps)
    {
        double[] speeds = [.. Enumerable.Range(0, 161).Select(i => 4 + 0.05 * i + 0.013)];
        double[] sinks = [.. speeds.Select(v => cube * v * v * v + square * v * v + line * v + level + inverse / v)];
        Assert.Equal(minSinkMps, MassEffects.MinSinkAirspeedMps(speeds, sinks), 1e-3);
        Assert.Equal(bestGlideMps, MassEffects.BestGlideAirspeedMps(speeds, sinks), 1e-3);
    }

    /// <summary>A drag curve without a Reynolds effect: CD = 0.008 + CL²/(π 0.95 12), 25 g/dm².</summary>
    private static SeasonModel Parabola()
    {
        SeasonModel model = AdviceModels.Predicted(AdviceModels.Tansy with { WingSpanMm = 1000 * Math.Sqrt(12), WingAreaDm2 = 100, UnballastedMassG = 2500, MaxFlyingMassG = null });
        Prediction prediction = new(model.Prediction.Planform, new DragCurve(0.008, 0, 0, 0, 1 / 0.95, 0), new DragCurve(1e-4, 1e-4, 1e-4, 1e-4, 1e-4, 1e-4));
        return model with { Prediction = prediction, Drag = DragPool.Now(DragPool.Add(prediction, [], []), 0) };
    }

    [Fact]
    public void ParabolicDrag_GlidesBestAtTheFourthRootOfThreeTimesTheSpeedOfLeastSink()
    {
        MassEffect effect = MassEffects.Of(Parabola(), [0], 1)[0];
        Assert.Equal(1.316074, effect.BestGlideAirspeedMps.Value / effect.MinSinkAirspeedMps.Value, 1e-3);
        // CL of least sink √(3 π e A CD0), by hand.
        double cl = Math.Sqrt(3 * Math.PI * 0.95 * 12 * 0.008);
        Assert.Equal(Math.Sqrt(2 * 2.5 * 9.80665 / (1.225 * cl)), effect.MinSinkAirspeedMps.Value, 0.005);
    }

    // √1.3 = 1.140175 in every speed, 1.3 in the radius.
    [Fact]
    public void MassTimes1Point3_WithoutAReynoldsEffect_MovesEverySpeedByItsRoot()
    {
        IReadOnlyList<MassEffect> effects = MassEffects.Of(Parabola(), [0, 750], 1);
        (MassEffect bare, MassEffect heavy) = (effects[0], effects[1]);
        Assert.Equal(1.140175, heavy.SpeedRatio, 1e-6);
        Assert.All<Func<MassEffect, Band>>([e => e.StallMps, e => e.MinSinkAirspeedMps, e => e.BestGlideAirspeedMps], of =>
        {
            Assert.Equal(1.140175, of(heavy).Value / of(bare).Value, 1e-5);
            // The same draws for both: the bounds move as one.
            Assert.Equal(1.140175, of(heavy).Low / of(bare).Low, 1e-3);
            Assert.Equal(1.140175, of(heavy).High / of(bare).High, 1e-3);
        });
        Assert.Equal(1.3, heavy.TurnRadiusM.Value / bare.TurnRadiusM.Value, 1e-5);
    }

    [Fact]
    public void Heavier_IsFasterInEveryWay_ByAGramAlready()
    {
        IReadOnlyList<MassEffect> effects = MassEffects.Of(Tansy, [.. Enumerable.Range(0, 31).Select(g => (double)g)], 1);
        Assert.All(effects.Zip(effects.Skip(1)), pair =>
        {
            Assert.True(pair.Second.StallMps.Value > pair.First.StallMps.Value);
            Assert.True(pair.Second.MinSinkAirspeedMps.Value > pair.First.MinSinkAirspeedMps.Value);
            Assert.True(pair.Second.BestGlideAirspeedMps.Value > pair.First.BestGlideAirspeedMps.Value);
            Assert.True(pair.Second.TurnRadiusM.Value > pair.First.TurnRadiusM.Value);
            Assert.True(pair.Second.LaunchHeightM.Value < pair.First.LaunchHeightM.Value);
        });
    }

    [Fact]
    public void AnEffect_DoesNotDependOnWhatElseIsAsked() =>
        Assert.Equal(MassEffects.Of(Tansy, [60], 1)[0], MassEffects.Of(Tansy, [0, 20, 60, 90], 1)[2]);

    [Fact]
    public void NoBallastAsked_HasNoEffects() => Assert.Empty(MassEffects.Of(Tansy, [], 1));

    // m g h = the arm's work: h ~ 1/m; ½ V² = g h: the same h. What nobody has measured lies between and may be either.
    [Theory]
    [InlineData(LaunchKind.Discus)]
    [InlineData(LaunchKind.Hand)]
    public void Launch_OfWhichNothingIsKnown_CoversFixedWorkAndFixedSpeed(LaunchKind kind)
    {
        IReadOnlyList<MassEffect> effects = MassEffects.Of(AdviceModels.Predicted(AdviceModels.Tansy with { Launch = kind }), [0, 62], 1);
        Assert.Equal(new Band(1, 1, 1), effects[0].LaunchHeightRatio);
        Assert.True(effects[1].LaunchHeightRatio.Low < 1 / 1.25, $"{effects[1].LaunchHeightRatio}");
        Assert.True(effects[1].LaunchHeightRatio.High > 1, $"{effects[1].LaunchHeightRatio}");
        Assert.InRange(effects[1].LaunchHeightRatio.Value, 1 / 1.25, 1);
        Assert.InRange(effects[1].LaunchHeightM.Value, effects[1].LaunchHeightM.Low, effects[1].LaunchHeightM.High);
    }

    [Theory]
    [InlineData(-1, 0.8)]
    [InlineData(0, 1)]
    public void Launches_ThatShowFixedWorkOrFixedSpeed_AreBelieved(double power, double ratioAt62G)
    {
        (double, double, double)[] seen = [.. from round in Enumerable.Range(0, 60) from ratio in new[] { 1.0, 1.2, 1.4 } select (45 * Math.Pow(ratio, power), ratio, 0.0)];
        MassEffect effect = MassEffects.Of(Tansy with { Launches = LaunchHeights.Fit(seen, LaunchKind.Discus) }, [62], 1)[0];
        Assert.Equal(ratioAt62G, effect.LaunchHeightRatio.Value, 0.02);
        Assert.Equal(45 * ratioAt62G, effect.LaunchHeightM.Value, 1.0);
    }

    [Theory]
    [InlineData(LaunchKind.Winch)]
    [InlineData(LaunchKind.Bungee)]
    [InlineData(LaunchKind.Tow)]
    [InlineData(LaunchKind.Electric)]
    [InlineData(null)]
    public void Launch_ThatIsNoThrow_IsNotToldFromMass(LaunchKind? kind)
    {
        MassEffect effect = MassEffects.Of(AdviceModels.Predicted(AdviceModels.Tansy with { Launch = kind }), [40], 1)[0];
        Assert.False(effect.LaunchHeightM.IsKnown);
        Assert.False(effect.LaunchHeightRatio.IsKnown);
    }

    // The truth: airframes of the simulator, each drawn about its design 25 times, whose drag has other terms than ours.
    [Fact]
    public void Bands_OfThePrediction_HoldTheTruthOfSimulatedAirframesNineTimesInTen()
    {
        const int airframes = 25;
        int minSink = 0, bestGlide = 0, stall = 0, all = 0;
        double sinkOff = 0, glideOff = 0, stallOff = 0;
        foreach (AirframePreset preset in AirframePresets.Names.Select(AirframePresets.Find))
        {
            Airframe airframe = new() { Name = preset.Name, WingSpanMm = 1000 * preset.SpanM, WingAreaDm2 = 100 * preset.AreaM2, UnballastedMassG = 1000 * preset.MassKg };
            double[] ballasts = [0, preset.BallastsG[^1]];
            IReadOnlyList<MassEffect> effects = MassEffects.Of(AdviceModels.Predicted(airframe), ballasts, 1);
            for (int seed = 1; seed <= airframes; seed++)
            {
                TrueAirframe truth = TrueAirframe.Of(new SimulationOptions { Preset = preset.Key, Seed = 7100 + seed, BallastsG = ballasts });
                for (int b = 0; b < ballasts.Length; b++, all++)
                {
                    (double slowest, double fastest) = truth.SpeedsMps(b);
                    double[] speeds = [.. Enumerable.Range(0, 2001).Select(i => slowest + (fastest - slowest) * i / 2000)];
                    double[] sinks = [.. speeds.Select(v => truth.SinkMps(b, v))];
                    minSink += Holds(effects[b].MinSinkAirspeedMps, MassEffects.MinSinkAirspeedMps(speeds, sinks), ref sinkOff);
                    bestGlide += Holds(effects[b].BestGlideAirspeedMps, MassEffects.BestGlideAirspeedMps(speeds, sinks), ref glideOff);
                    stall += Holds(effects[b].StallMps, slowest / 1.03, ref stallOff); // the simulator's slowest speed is 3 % above its stall
                }
            }
        }
        output.WriteLine($"held, of {all}: least sink {minSink}, best glide {bestGlide}, stall {stall}");
        output.WriteLine($"mean error of the value: least sink {100 * sinkOff / all:0.0} %, best glide {100 * glideOff / all:0.0} %, stall {100 * stallOff / all:0.0} %");
        Assert.All([minSink, bestGlide, stall], held => Assert.True(held >= 0.9 * all, $"{minSink} {bestGlide} {stall} of {all}"));
    }

    private static int Holds(Band band, double truth, ref double off)
    {
        off += band.Value / truth - 1;
        return truth >= band.Low && truth <= band.High ? 1 : 0;
    }
}
