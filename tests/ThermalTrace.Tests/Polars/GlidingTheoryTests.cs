using CsCheck;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Polars;

/// <summary>The polar code on drag curves whose answers are closed forms (Anderson, Aircraft Performance and Design, from memory).</summary>
public class GlidingTheoryTests
{
    // CD = 0.018 + CL²/(π 0.95 12), 25 g/dm²: w = 4.496948e-4 V³ + 1.117635/V, computed.
    private static readonly DragCurve Parabola = new(0.018, 0, 0, 0, 1 / 0.95, 0);
    private static readonly Planform Wing = new(1, 12, 0.29, 1e5);
    private const double MassKg = 2.5;

    [Fact]
    public void ParabolicDrag_AtTwentyFiveGramsASquareDecimetre_HasTheClosedFormsMinimumSinkAndBestGlide()
    {
        SinkCurve curve = Curve(Parabola, MassKg);
        (double slowMps, double sinkMps) = curve.LeastSink();
        (double fastMps, double ratio) = curve.BestGlide(0)!.Value;
        Assert.Equal(0.277762, sinkMps, 1e-6);
        Assert.Equal(5.364944, slowMps, SpeedStepMps);
        Assert.Equal(22.30289, ratio, 1e-4);
        Assert.Equal(7.060663, fastMps, SpeedStepMps);
        Assert.Equal(1.316074, fastMps / slowMps, 3e-4); // 3^(1/4)
        Assert.Equal(Math.Sqrt(3), Wing.Cl(slowMps, 1, MassKg, 1.225) / Wing.Cl(fastMps, 1, MassKg, 1.225), 1e-3);
        Assert.All([4.0, 8.0, 12.0], v => Assert.Equal(4.496948e-4 * v * v * v + 1.117635 / v, curve.At(v), 1e-6));
    }

    [Fact]
    public void ParabolicDrag_OfAnyCoefficients_GlidesBestAtTheFourthRootOfThreeTimesTheSpeedOfLeastSink() =>
        Gen.Select(Gen.Double[0.01, 0.03], Gen.Double[1, 1.4]).Sample((cd0, inverseEfficiency) =>
        {
            SinkCurve curve = Curve(Parabola with { Cd0 = cd0, InverseSpanEfficiency = inverseEfficiency }, MassKg);
            return Math.Abs(curve.BestGlide(0)!.Value.AirspeedMps / curve.LeastSink().AirspeedMps - Math.Pow(3, 0.25)) < 1e-3;
        });

    // Same CD at the same CL: speed and sink grow with the root of the mass, √1.3 = 1.140175; the glide ratio stays.
    [Fact]
    public void MassTimes1Point3_WithoutAReynoldsEffect_MovesSpeedAndSinkByItsRoot()
    {
        SinkCurve light = Curve(Parabola, MassKg), heavy = Curve(Parabola, 1.3 * MassKg);
        Assert.Equal(1.140175, heavy.LeastSink().SinkMps / light.LeastSink().SinkMps, 1e-5);
        Assert.Equal(1.140175, heavy.LeastSink().AirspeedMps / light.LeastSink().AirspeedMps, 4e-4);
        Assert.Equal(light.BestGlide(0)!.Value.Ratio, heavy.BestGlide(0)!.Value.Ratio, 1e-5);
    }

    [Fact]
    public void MoreMass_WhereDragFallsWithReynoldsNumber_RaisesTheGlideRatio()
    {
        DragCurve falling = Parabola with { ReynoldsExponent = 0.35 };
        Assert.True(Curve(falling, 1.3 * MassKg).BestGlide(0)!.Value.Ratio > 1.01 * Curve(falling, MassKg).BestGlide(0)!.Value.Ratio);
    }

    // w = 0.01 V² − 0.12 V + 0.8, worked: least sink 0.44 at 6; best glide 16.98213 at √80 = 8.944272.
    [Fact]
    public void QuadraticPolar_HasItsTangentsSpeeds()
    {
        SinkCurve curve = Quadratic();
        Assert.Equal(0.44, curve.LeastSink().SinkMps, 1e-6);
        Assert.Equal(6, curve.LeastSink().AirspeedMps, SpeedStepMps);
        Assert.Equal(16.98213, curve.BestGlide(0)!.Value.Ratio, 1e-5);
        Assert.Equal(8.944272, curve.BestGlide(0)!.Value.AirspeedMps, SpeedStepMps);
    }

    // The tangent from W on the speed axis: V = W + √(W² + (b W + c)/a); W = 5: 11.708204, ratio 8.759323.
    [Fact]
    public void QuadraticPolar_IntoAHeadWindOfFive_IsFlownAtTheTangentFromTheWind()
    {
        (double airspeedMps, double ratio) = Quadratic().BestGlide(5)!.Value;
        Assert.Equal(11.708204, airspeedMps, SpeedStepMps);
        Assert.Equal(8.759323, ratio, 1e-5);
    }

    [Fact]
    public void Polar_IntoAWindBeyondItsFastestSpeed_HasNoGlideOverTheGround() =>
        Assert.Null(Quadratic().BestGlide(20.5));

    // A turn at the same lift coefficient: load factor 1/cos φ, speed × cos^−½, sink × cos^−1.5; 30°: 1.240806, 45°: 1.681793.
    [Theory]
    [InlineData(30, 1.154701, 1.240806)]
    [InlineData(45, 1.414214, 1.681793)]
    public void Circling_AtTheSameLiftCoefficient_SinksByTheCosinesPowerOfMinusOneAndAHalf(double bankDeg, double loadFactor, double sinkRatio)
    {
        double n = 1 / Math.Cos(double.DegreesToRadians(bankDeg));
        Assert.Equal(loadFactor, n, 1e-6);
        const double level = 8;
        double turning = level * Math.Sqrt(n);
        double[] sinks = Sinks(Parabola, [level], MassKg, 1), turnSinks = Sinks(Parabola, [turning], MassKg, n);
        Assert.Equal(Wing.Cl(level, 1, MassKg, 1.225), Wing.Cl(turning, n, MassKg, 1.225), 1e-12);
        Assert.Equal(sinkRatio, turnSinks[0] / sinks[0], 1e-6);
    }

    // Lift coefficient and speed are each other's inverse at sea level; 1.225 kg/m³ is ISO 2533's.
    [Fact]
    public void Airspeed_OfALiftCoefficient_CarriesTheWeight() =>
        Gen.Select(Gen.Double[0.1, 1.2], Gen.Double[0.1, 5]).Sample((cl, massKg) =>
        {
            double v = Wing.AirspeedMps(cl, massKg);
            return Math.Abs(Wing.Cl(v, 1, massKg, 1.225) - cl) < 1e-12
                && Math.Abs(0.5 * 1.225 * v * v * Wing.AreaM2 * cl - massKg * 9.80665) < 1e-9;
        });

    private const double SpeedStepMps = 0.001;

    private static SinkCurve Quadratic()
    {
        double[] speeds = [.. Enumerable.Range(0, 17_001).Select(i => 3 + i * SpeedStepMps)];
        return new SinkCurve(speeds, [.. speeds.Select(v => 0.01 * v * v - 0.12 * v + 0.8)]);
    }

    private static SinkCurve Curve(DragCurve drag, double massKg)
    {
        double[] speeds = [.. Enumerable.Range(0, 12_001).Select(i => 3 + i * SpeedStepMps)];
        return new SinkCurve(speeds, Sinks(drag, speeds, massKg, 1));
    }

    private static double[] Sinks(DragCurve drag, double[] speeds, double massKg, double loadFactor)
    {
        DragTerms terms = new(new Prediction(Wing, drag, new DragCurve(0.01, 0.1, 0.01, 0.1, 0.1, 0.1)), 0, 1, 0, 0.05);
        return CurveMaker.Sinks(new CurveMaker(terms, Wing, 1).Factors(speeds, massKg, -1, loadFactor), speeds, terms.PriorMean.ToArray());
    }
}
