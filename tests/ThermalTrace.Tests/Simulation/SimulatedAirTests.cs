using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.Simulation;

public class SimulatedAirTests
{
    private static readonly SimulationOptions Still = new() { WindMps = 0, Edr = 0, LiftMps = 0, WavesMps = 0 };

    [Theory]
    [InlineData(5)]
    [InlineData(10)]
    [InlineData(20)]
    public void Turbulence_OverSeparationsOfTheInertialRange_HasTheDissipationAskedFor(double separationM)
    {
        // D_LL = C2 (ε r)^(2/3) with C2 = 2.0 and D_NN = 4/3 D_LL (Pope 2000, section 6.2); averaged over many fields.
        double along = 0, across = 0;
        int count = 0;
        for (int seed = 0; seed < 40; seed++)
        {
            TurbulenceField field = new(RandomStream.For(seed, "structure"));
            RandomStream random = RandomStream.For(seed, "places");
            for (int i = 0; i < 150; i++)
            {
                double x = random.Uniform(0, 3000), y = random.Uniform(0, 3000), z = random.Uniform(60, 150);
                (double sin, double cos) = Math.SinCos(random.Uniform(0, 2 * Math.PI));
                (double e0, double n0, _) = field.At(x, y, z, 0);
                (double e1, double n1, _) = field.At(x + separationM * sin, y + separationM * cos, z, 0);
                double l = (e1 - e0) * sin + (n1 - n0) * cos;
                double t = (e1 - e0) * cos - (n1 - n0) * sin;
                (along, across, count) = (along + l * l, across + t * t, count + 1);
            }
        }
        double kolmogorov = 2.0 * Math.Pow(separationM, 2.0 / 3);
        Assert.Equal(1, Math.Sqrt(along / count / kolmogorov), 0.08);
        Assert.Equal(1, Math.Sqrt(across / count / (kolmogorov * 4 / 3)), 0.08);
    }

    [Fact]
    public void Turbulence_AlongAFlightPathInTheWind_HasTheDissipationAskedFor()
    {
        List<double> found = [];
        for (int seed = 1; seed <= 12; seed++)
        {
            MovingAir air = new(Still with { Seed = seed, WindMps = 5, Edr = 0.15 }, 1000);
            double sum = 0, edr = 0;
            int count = 0;
            for (double t = 0; t < 900; t += 0.5)
            {
                // 10 m through the air, along a path that turns slowly, carried with the wind.
                (double windEast, double windNorth) = air.MeanWind(50, t);
                (double sin, double cos) = Math.SinCos(t / 40);
                double x = 8 * t + windEast * t, y = windNorth * t;
                AirSample a = air.At(x, y, 50, t), b = air.At(x + 10 * sin, y + 10 * cos, 50, t);
                double l = (b.EastMps - a.EastMps) * sin + (b.NorthMps - a.NorthMps) * cos;
                (sum, edr, count) = (sum + l * l, edr + a.Edr * a.Edr, count + 1);
            }
            double epsilon = Math.Pow(sum / count / 2.0, 1.5) / 10;
            found.Add(Math.Cbrt(epsilon) / Math.Sqrt(edr / count));
        }
        Assert.Equal(1, found.Average(), 0.08);
    }

    [Fact]
    public void Wind_WithAShearExponent_GrowsWithHeightByThePowerLaw()
    {
        // A seventh's power law from 2 to 10 m: 1.258499.
        MovingAir air = new(Still with { WindMps = 6, ShearExponent = 1.0 / 7 }, 600);
        (double lowEast, double lowNorth) = air.MeanWind(2, 100);
        (double highEast, double highNorth) = air.MeanWind(10, 100);
        double low = Math.Sqrt(lowEast * lowEast + lowNorth * lowNorth);
        double high = Math.Sqrt(highEast * highEast + highNorth * highNorth);
        Assert.Equal(1.258499, high / low, 1e-6);
    }

    [Fact]
    public void Wind_FromADirection_BlowsTheOtherWay()
    {
        double east = 0, north = 0;
        for (int seed = 0; seed < 60; seed++)
        {
            MovingAir air = new(Still with { Seed = seed, WindMps = 6, WindFromDeg = 270 }, 600);
            (double e, double n) = air.MeanWind(50, 0);
            (east, north) = (east + e / 60, north + n / 60);
        }
        Assert.Equal(6, east, 0.4);
        Assert.Equal(0, north, 0.4);
    }

    [Fact]
    public void Thermal_InItsPrime_FallsToOneOverEAtItsRadiusAndHasARingOfSink()
    {
        Thermal thermal = Prime(driftEastMps: 0);
        double core = thermal.UpMps(0, 0, 50, 150);
        Assert.Equal(2, core, 0.01);
        Assert.Equal(core / Math.E, thermal.UpMps(15, 0, 50, 150), 0.03);
        Assert.True(thermal.UpMps(30, 0, 50, 150) < -0.05);
        Assert.Equal(0, thermal.UpMps(100, 0, 50, 150));
    }

    [Fact]
    public void Thermal_DriftsWithTheWindAndDies()
    {
        Thermal thermal = Prime(driftEastMps: 3);
        Assert.Equal(2, thermal.UpMps(3 * 20, 0, 50, 150 + 20), 0.01);
        Assert.Equal(0, thermal.UpMps(3 * 160, 0, 50, 150 + 160));
        Assert.True(thermal.RadiusM(200) > 1.5 * thermal.RadiusM(20));
    }

    [Fact]
    public void StillAir_HasNoMotion()
    {
        AirSample air = new MovingAir(Still, 600).At(10, -20, 40, 300);
        Assert.Equal(new AirSample(0, 0, 0, 0), air);
    }

    private static Thermal Prime(double driftEastMps) => new()
    {
        BornS = 0, LifeS = 300, LiftMps = 2, RadiusAt50M = 15, MiddleEastM = 0, MiddleNorthM = 0, DriftEastMps = driftEastMps, DriftNorthMps = 0,
    };
}
