using ThermalTrace.Advice;

namespace ThermalTrace.Tests.Advice;

public sealed class SurfaceWindTests
{
    // Over grass the wind at 2 m is about 0.55 of that at flying height: the trade's rule, good to a tenth.
    [Fact]
    public void WindAtHeadHeight_OverGrass_IsAboutHalfOfThatAbove()
    {
        (double log, double spread) = SurfaceWind.ToFlyingHeight(2, Ground.Grass);
        Assert.InRange(Math.Exp(-log), 0.55 * 0.95, 0.55 * 1.05);
        Assert.InRange(0.55, Math.Exp(-log - spread), Math.Exp(-log + spread));
    }

    // The 1/7 power law, neutral over flat ground: 2 to 10 m is x 1.258499. Its ground is smooth: the exponent is 1/ln(z/z0) at the
    // mean height of sqrt(2 · 10) m, so z0 = 4.47 m/e^7 = 4.1 mm.
    [Fact]
    public void LogarithmicLaw_OverTheGroundOfTheSeventhRootLaw_AgreesWithIt() =>
        Assert.Equal(1.258499, SurfaceWind.Ratio(10, 2, Math.Sqrt(20) / Math.Exp(7)), 2);

    // u* = 0.4 · 5/ln(30/0.03) = 0.28953 m/s; ε = u*³/(0.4 · 30) = 0.0020225 m²/s³, by hand.
    [Fact]
    public void Edr_OfAFrictionVelocity_IsTheCubeRootOfTheShearProduction()
    {
        double friction = SurfaceWind.FrictionVelocityMps(5, 30, 0.03);
        Assert.Equal(0.28953, friction, 5);
        Assert.Equal(0.0020225, Math.Pow(SurfaceWind.Edr(friction, 30), 3), 7);
    }

    // Figures of the trade: 0.15 at 5 m/s and 0.25 at 8 m/s over grass at 30 m; 0.3 to 0.45 behind trees.
    [Theory]
    [InlineData(5, Ground.Grass, 0.15, 0.15)]
    [InlineData(8, Ground.Grass, 0.25, 0.25)]
    [InlineData(7, Ground.Trees, 0.30, 0.45)]
    [InlineData(9, Ground.Trees, 0.30, 0.45)]
    public void ExpectedEdr_LiesWithinItsSpreadOfWhatIsSeen(double wind, Ground ground, double low, double high)
    {
        double edr = SurfaceWind.ExpectedEdr(wind, ground);
        Assert.InRange(edr, low * Math.Exp(-SurfaceWind.EdrSpread), high * Math.Exp(SurfaceWind.EdrSpread));
    }

    [Fact]
    public void ExpectedEdr_GoesWithTheWind_AndRisesWithTheGround()
    {
        Assert.Equal(2, SurfaceWind.ExpectedEdr(8, Ground.Grass) / SurfaceWind.ExpectedEdr(4, Ground.Grass), 9);
        Assert.True(SurfaceWind.ExpectedEdr(5, Ground.Grass) < SurfaceWind.ExpectedEdr(5, Ground.Hedges));
        Assert.True(SurfaceWind.ExpectedEdr(5, Ground.Hedges) < SurfaceWind.ExpectedEdr(5, Ground.Trees));
        Assert.Equal(0.03, SurfaceWind.ExpectedEdr(0, Ground.Grass));
    }

    [Fact]
    public void FieldWind_WithoutReadings_IsTheLaw()
    {
        FieldWind none = FieldWind.From(2, Ground.Grass, "Moor", []);
        (double log, double spread) = SurfaceWind.ToFlyingHeight(2, Ground.Grass);
        Assert.Equal((log, spread, 0), (none.LogRatio, none.Spread, none.Readings));
        Assert.Equal(0, FieldWind.From(2, Ground.Grass, "Moor", [new FieldReading("Heath", 2, 2, 6)]).Readings);
        Assert.Equal(0, FieldWind.From(2, Ground.Grass, "Moor", [new FieldReading("Moor", 0.1, 2, 6)]).Readings);
    }

    [Fact]
    public void FieldWind_WithManyReadings_ComesToWhatTheyShow_AtAnyHeight()
    {
        // A field in a dip: the wind above is 2.6 times what is read at 2 m.
        FieldReading[] readings = [.. Enumerable.Range(0, 200).Select(i => new FieldReading("Moor", 2, 2, 5.2 * Math.Exp(0.2 * Math.Sin(i))))];
        FieldWind few = FieldWind.From(2, Ground.Grass, "moor ", readings[..3]), many = FieldWind.From(2, Ground.Grass, "Moor", readings);
        double law = SurfaceWind.ToFlyingHeight(2, Ground.Grass).LogRatio;
        Assert.Equal(2.6, Math.Exp(many.LogRatio), 1);
        Assert.InRange(few.LogRatio, law, Math.Log(2.6));
        Assert.True(many.Spread < few.Spread);
        // Higher up the reading is nearer to the wind above, at the same field by the same departure.
        FieldWind higher = FieldWind.From(4, Ground.Grass, "Moor", readings);
        Assert.Equal(many.LogRatio - law, higher.LogRatio - SurfaceWind.ToFlyingHeight(4, Ground.Grass).LogRatio, 2);
    }

    // Kolmogorov: a first-order wing that follows gusts slower than its lag and yields to none quicker. With the spectrum
    // S(f) = 4/3 · C1 (2π/V)^(-2/3) f^(-5/3) of unit dissipation the load is its second derivative; integrated here by itself.
    [Fact]
    public void LoadFactor_OfUnitTurbulence_IsTheSpectrumsOwnIntegral()
    {
        const double v = 8, z = 30, lag = 0.12 * v / 9.80665, c1 = 2.0 / 4.02;
        double sum = 0;
        const int steps = 20000;
        for (int i = 0; i < steps; i++)
        {
            double f = 1 / 3.0 + (1 / 0.3 - 1 / 3.0) * (i + 0.5) / steps, k = 2 * Math.PI * f / v, x = 5.3 * Math.Pow(k * z / (2 * Math.PI), 5.0 / 3);
            double s = 4.0 / 3 * c1 * Math.Pow(k, -5.0 / 3) * (2 * Math.PI / v) * x / (1 + x);
            double omega = 2 * Math.PI * f;
            sum += s * omega * omega / (1 + omega * omega * lag * lag) / (9.80665 * 9.80665) * (1 / 0.3 - 1 / 3.0) / steps;
        }
        Assert.Equal(Math.Sqrt(sum), Steadiness.LoadFactorRms(v, z), 3);
    }

    [Fact]
    public void LoadFactor_AtEqualLift_FallsALittleAsTheModelGrowsHeavier()
    {
        // The same lift coefficient: a third heavier flies 15 % faster. A sharp gust's load goes with V/m; but slower gusts, which the
        // heavier wing yields to later and meets quicker, nearly make up for it.
        double light = Steadiness.LoadFactorRms(7, 30), heavy = Steadiness.LoadFactorRms(7 * Math.Sqrt(1.33), 30);
        Assert.InRange(heavy / light, 1 / Math.Sqrt(1.33), 0.995);
    }
}
