using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.Simulation;

public class SimulatedFlightTests
{
    private const double Gravity = 9.80665;

    private static readonly SimulationOptions Still = new() { WindMps = 0, Edr = 0, LiftMps = 0, WavesMps = 0, BallastSpread = 0 };

    [Fact]
    public void Energy_InStillAirWithoutDrag_IsConserved()
    {
        Glider glider = new(Model("discus-1500"), new Atmosphere(0, 0), new MovingAir(Still, 600), dragless: true);
        glider.Release(0, 0, 0, 100, 12, 0.2, 0);
        double before = EnergyHeightM(glider);
        for (int i = 0; i < 2400; i++)
        {
            double t = i * Glider.StepS;
            glider.Step(t, Controls.Trimmed(7 + 2 * Math.Sin(t / 3), 0.7 * Math.Sin(t / 7)));
        }
        Assert.Equal(before, EnergyHeightM(glider), 0.02);
    }

    [Theory]
    [InlineData(0, 1)]
    [InlineData(180, -1)]
    public void Energy_InAWindThatFreshens_GrowsIntoTheWindAndShrinksBeforeIt(double windFromDeg, int sign)
    {
        // The wind grows by 6 m/s in 60 s. With no drag dE/dt = -V·(dW/dt)/g: a model flying north into a north wind gains.
        MovingAir air = new(Still with { WindChangeMps = 6, WindFromDeg = windFromDeg, ShearExponent = 0 }, 60);
        Glider glider = new(Model("electric-3600"), new Atmosphere(0, 0), air, dragless: true);
        glider.Release(0, 0, 0, 50, 10, 0, 0);
        double before = EnergyHeightM(glider), expected = 0;
        for (int i = 0; i < 600; i++)
        {
            double t = i * Glider.StepS;
            (_, double north) = air.MeanWind(50, t);
            (_, double northNext) = air.MeanWind(50, t + Glider.StepS);
            expected -= glider.AirspeedMps * Math.Cos(glider.HeadingRad) * (northNext - north) / Gravity;
            glider.Step(t, Controls.Trimmed(10, Steering.OntoHeading(glider, 0, 0.5)));
        }
        Assert.True(sign * expected > 2, $"the work of the wind should show, and was {expected} m");
        Assert.Equal(expected, EnergyHeightM(glider) - before, 0.05 * Math.Abs(expected));
    }

    [Theory]
    [InlineData("discus-1500", 1.15)]
    [InlineData("discus-1500", 1.7)]
    [InlineData("electric-3600", 1.1)]
    [InlineData("winch-3000", 1.6)]
    public void Glide_InStillAir_SinksByTheTruePolar(string preset, double share)
    {
        Model model = Model(preset);
        Atmosphere atmosphere = new(0, 0);
        Glider glider = new(model, atmosphere, new MovingAir(Still, 600));
        double airspeed = model.MinSinkAirspeedMps * share;
        glider.Release(0, 0, 0, 120, airspeed, 0, 1);
        double t = 0;
        void Fly(double seconds)
        {
            for (double end = t + seconds; t < end; t += Glider.StepS)
            {
                glider.Step(t, Controls.Trimmed(airspeed, 0));
            }
        }
        Fly(15);
        double energy = EnergyHeightM(glider);
        Fly(40);
        double sink = (energy - EnergyHeightM(glider)) / 40;
        double seaLevel = Math.Sqrt(glider.DensityKgM3 / 1.225);
        // Half a per cent for the slope of the path and the Reynolds number at height.
        Assert.Equal(model.SinkMps(glider.AirspeedMps * seaLevel), sink * seaLevel, 0.01 * sink);
        Assert.Equal(airspeed, glider.AirspeedMps, 0.03 * airspeed);
    }

    [Fact]
    public void TrueSink_OfAHeavierModelAtTheSameAttitude_ScalesWithTheRootOfMassButForReynoldsNumber()
    {
        Model light = Model("electric-3600"), heavy = new(AirframePresets.Find("electric-3600"), AirframePresets.Find("electric-3600").Drag, 640);
        double scale = Math.Sqrt(heavy.MassKg / light.MassKg);
        double v = 1.2 * light.MinSinkAirspeedMps;
        double ratio = heavy.SinkMps(v * scale) / light.SinkMps(v);
        Assert.True(ratio < scale, "a higher Reynolds number has to drag less");
        Assert.Equal(scale, ratio, 0.08 * scale);
    }

    [Theory]
    [InlineData(SimulatedLaunch.Discus, 40, 62)]
    [InlineData(SimulatedLaunch.Hand, 9, 17)]
    [InlineData(SimulatedLaunch.Electric, 90, 180)]
    [InlineData(SimulatedLaunch.Winch, 100, 190)]
    [InlineData(SimulatedLaunch.Bungee, 50, 90)]
    [InlineData(SimulatedLaunch.Tow, 130, 250)]
    public void Launch_OfEachKind_ReachesABelievableHeight(SimulatedLaunch launch, double lowM, double highM)
    {
        foreach (SimulatedFlight flight in Flights(new() { Launch = launch, LiftMps = 0 }, "discus-1500", 0, 3))
        {
            Assert.InRange(flight.LaunchHeightM, lowM, highM);
        }
    }

    [Fact]
    public void Throw_OfAHeavierModel_GoesLessHigh()
    {
        double light = Flights(Still, "discus-1500", 0, 6).Average(f => f.LaunchHeightM);
        double heavy = Flights(Still, "discus-1500", 140, 6).Average(f => f.LaunchHeightM);
        Assert.InRange(heavy, 0.6 * light, 0.95 * light);
    }

    [Theory]
    [InlineData("discus-1000")]
    [InlineData("hand-1200")]
    [InlineData("electric-2000")]
    [InlineData("winch-3000")]
    [InlineData("bungee-2500")]
    [InlineData("tow-4000")]
    public void Flight_OfEveryPreset_LaunchesGlidesLandsAndStands(string preset)
    {
        foreach (SimulatedFlight flight in Flights(new() { WindMps = 4, Edr = 0.12, LiftMps = 2 }, preset, 0, 3))
        {
            Assert.Equal(Phase.Ground, flight.Moments[0].Phase);
            Assert.Equal(Phase.Ground, flight.Moments[^1].Phase);
            foreach (Phase phase in new[] { Phase.Launch, Phase.Glide, Phase.Landing })
            {
                Assert.Contains(flight.Moments, m => m.Phase == phase);
            }
            Assert.All(flight.Moments, m => Assert.True(double.IsFinite(m.HeightM + m.AirspeedMps + m.GroundEastMps + m.GroundNorthMps + m.LoadFactor)));
            Assert.All(flight.Moments.Where(m => m.Phase is Phase.Glide or Phase.Climb), m => Assert.InRange(m.AirspeedMps, 1.5, 45));
            Assert.All(flight.Moments.Zip(flight.Moments.Skip(1)), pair => Assert.Equal(Glider.StepS, pair.Second.TimeS - pair.First.TimeS, 1e-6));
            Moment last = flight.Moments[^1];
            Assert.Equal(0, last.GroundEastMps * last.GroundEastMps + last.GroundNorthMps * last.GroundNorthMps);
        }
    }

    [Fact]
    public void Climb_AsFlown_IsOnAverageWhatTheTruthSaysThatThePilotGets()
    {
        SimulationOptions options = new() { WindMps = 3, Edr = 0.1, LiftMps = 2 };
        double gained = 0, promised = 0, seconds = 0;
        foreach (SimulatedFlight flight in Flights(options, "discus-1500", 0, 24))
        {
            foreach (Moment m in flight.Moments.Where(m => m.Phase == Phase.Climb && m.CoreLiftMps > 0.2))
            {
                gained += m.ClimbMps * Glider.StepS;
                promised += Lookup(flight.Model, m, options.Edr) * Glider.StepS;
                seconds += Glider.StepS;
            }
        }
        Assert.True(seconds > 600, $"there should have been more than ten minutes of climbing, not {seconds} s");
        Assert.Equal(promised / seconds, gained / seconds, 0.2);
    }

    private static readonly Dictionary<(int, int), double> Known = [];

    private static double Lookup(Model model, Moment m, double edr)
    {
        (int, int) key = ((int)(m.CoreLiftMps * 10), (int)m.CoreRadiusM);
        if (!Known.TryGetValue(key, out double climb))
        {
            Known[key] = climb = Circling.Best(model, (key.Item1 + 0.5) / 10, key.Item2 + 0.5, edr).ClimbMps;
        }
        return climb;
    }

    private static Model Model(string preset) => new(AirframePresets.Find(preset), AirframePresets.Find(preset).Drag, 0);

    private static double EnergyHeightM(Glider glider) => glider.HeightM + glider.AirspeedMps * glider.AirspeedMps / (2 * Gravity);

    private static List<SimulatedFlight> Flights(SimulationOptions options, string preset, double ballastG, int count)
    {
        Model model = new(AirframePresets.Find(preset), AirframePresets.Find(preset).Drag, ballastG);
        MovingAir air = new(options, 30_000);
        List<SimulatedFlight> flights = [];
        double clockS = 0;
        for (int i = 0; i < count; i++)
        {
            air.Grow(RandomStream.For(i, "thermals"), clockS, clockS + 800);
            flights.Add(FlightSimulation.Fly(options, air, new Atmosphere(100, 0), model, isTest: i % 2 == 1, RandomStream.For(i, "flight"), clockS, 300));
            clockS = flights[^1].Moments[^1].TimeS;
        }
        return flights;
    }
}
