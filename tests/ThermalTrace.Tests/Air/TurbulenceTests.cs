using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Air;

public class TurbulenceTests
{
    private const double StepS = 0.2, SpeedMps = 8;

    // D_LL = C2 (ε r)^(2/3), C2 = 2.0 (Pope 2000, s. 6.2; Saddoughi and Veeravalli 1994); figures computed.
    [Theory]
    [InlineData(0.1, 10, 0.0928318)]
    [InlineData(0.232079, 10, 0.5)]
    public void StructureFunction_AlongThePath_IsKolmogorovs(double edr, double separationM, double expectedM2ps2) =>
        Assert.Equal(expectedM2ps2, TurbulenceEstimator.LongitudinalM2ps2(edr, separationM), 2e-6 * expectedM2ps2 / 0.5);

    // D(r) = 2 ∫ S(f) (1 − cos(2π f r/V)) df: the spectrum must hold the structure function of the same ε. The part above the
    // last frequency, where the cosine averages out, is 2 ∫ S df = 3 f S.
    [Fact]
    public void Spectrum_AlongThePath_HoldsTheStructureFunction()
    {
        const double separationM = 10, stepHz = 2e-4, lastHz = 40;
        double sum = 0;
        for (double f = stepHz / 2; f < lastHz; f += stepHz)
        {
            sum += 2 * stepHz * TurbulenceSpectrum.Along(f, SpeedMps) * (1 - Math.Cos(2 * Math.PI * f * separationM / SpeedMps));
        }
        sum += 3 * lastHz * TurbulenceSpectrum.Along(lastHz, SpeedMps);
        Assert.Equal(1, sum / TurbulenceEstimator.LongitudinalM2ps2(1, separationM), 0.01);
    }

    [Fact]
    public void Spectrum_OfVerticalMotion_IsFourThirdsOfThatAlongHighUp_AndLessNearTheGround()
    {
        double along = TurbulenceSpectrum.Along(0.4, SpeedMps), wing = 1 + Math.Pow(2 * Math.PI * 0.4 * 0.12 * SpeedMps / 9.80665, 2);
        Assert.Equal(4.0 / 3, TurbulenceSpectrum.Vertical(0.4, SpeedMps, 1e6) * wing / along, 1e-4);
        Assert.InRange(TurbulenceSpectrum.Vertical(0.4, SpeedMps, 10) / TurbulenceSpectrum.Vertical(0.4, SpeedMps, 1e6), 0.3, 0.8);
    }

    // v' = −g c/V, c' = (2 g/V)(v + u) − d c: at the phugoid's own frequency √2 g/V what is left is damping, c = (2 g/V) u/d.
    [Fact]
    public void GustsAlongThePath_LiftMostNearThePhugoid_AndNothingFarAboveIt()
    {
        double phugoidHz = Math.Sqrt(2) * 9.80665 / SpeedMps / (2 * Math.PI);
        Assert.Equal(Math.Pow(2 / 1.6, 2), TurbulenceSpectrum.GustClimb(phugoidHz, SpeedMps), 1e-9);
        Assert.InRange(TurbulenceSpectrum.GustClimb(20 * phugoidHz, SpeedMps), 0, 0.01);
    }

    [Theory]
    [InlineData(0.12)]
    [InlineData(0.3)]
    public void Turbulence_OfMadeUpAir_IsFoundWithinItsInterval(double edr)
    {
        Random random = new(5);
        Flight[] flights = [.. Enumerable.Range(0, 4).Select(_ => Gliding(random, edr, 240, 0.1))];
        IReadOnlyList<Turbulence> found = TurbulenceEstimator.Estimate(flights, [.. flights.Select(Steady)], [.. flights.Select(_ => SpeedMps)]);
        Assert.InRange(found.Average(t => Math.Log(t.Edr / edr)), -0.2, 0.2);
        Assert.All(found, t => Assert.InRange(edr, t.Low, t.High));
    }

    [Fact]
    public void Flight_WithoutAGlideToUse_BorrowsFromTheOthers_WithAWiderInterval()
    {
        Random random = new(6);
        Flight[] flights = [Gliding(random, 0.15, 240, 0.1), Gliding(random, 0.15, 240, 0.1), Gliding(random, 0.15, 6, 0.1)];
        IReadOnlyList<Turbulence> found = TurbulenceEstimator.Estimate(flights, [.. flights.Select(Steady)], [.. flights.Select(_ => SpeedMps)]);
        Assert.InRange(found[2].Edr, 0.11, 0.2);
        Assert.True(found[2].High / found[2].Low > found[0].High / found[0].Low);
    }

    [Fact]
    public void Session_WithoutAGlideToUse_HasNone()
    {
        Flight flight = Gliding(new Random(7), 0.1, 6, 0.1);
        Assert.False(Assert.Single(TurbulenceEstimator.Estimate([flight], [Steady(flight)], [SpeedMps])).IsKnown);
    }

    [Fact]
    public void VarioLag_IsFoundFromHeight()
    {
        const double lagS = 0.5;
        Flight flight = Gliding(new Random(8), 0.2, 200, 0.05, lagS);
        Assert.Equal(lagS, TurbulenceWindows.VarioLagS([flight])!.Value, 0.05);
    }

    /// <summary>A straight glide at one speed: air of <see cref="TurbulenceSpectrum.Vertical"/> as a sum of waves, white noise on height.</summary>
    private static Flight Gliding(Random random, double edr, double seconds, double noiseM, double varioLagS = 0)
    {
        const double bandHz = 0.004;
        int count = (int)(seconds / StepS);
        double[] height = new double[count], vario = new double[count];
        (double Omega, double Amplitude, double Phase)[] waves = [.. Enumerable.Range(1, 600).Select(n => (2 * Math.PI * n * bandHz,
            edr * Math.Sqrt(2 * bandHz * TurbulenceSpectrum.Vertical(n * bandHz, SpeedMps, 50)), 2 * Math.PI * random.NextDouble()))];
        for (int i = 0; i < count; i++)
        {
            double t = i * StepS;
            height[i] = 50 + noiseM * Math.Sqrt(12) * (random.NextDouble() - 0.5);
            foreach ((double omega, double amplitude, double phase) in waves)
            {
                height[i] += amplitude / omega * Math.Sin(omega * t + phase);
                double lag = Math.Atan(omega * varioLagS);
                vario[i] += amplitude * Math.Cos(lag) * Math.Cos(omega * t + phase - lag);
            }
        }
        double[] still = new double[count], level = new double[count];
        Array.Fill(level, 50);
        Track track = new()
        {
            Log = 0,
            StartS = 0,
            StepS = StepS,
            AltitudeM = height,
            AltitudeNoiseM = noiseM,
            SmoothAltitudeM = level,
            VerticalSpeedMps = still,
            VarioMps = varioLagS > 0 ? vario : null,
            PitotMps = null,
            Motor = null,
            LoadFactorDeparture = null,
            Camber = null,
            CamberLabels = [],
            BallastG = null,
            Ground = new GroundMotion(still, still, still, still, still, 0, true, true),
            Density = new AirDensity(0, 1.2, 288, false),
        };
        return new Flight(track, 1, [new Segment(PhaseKind.Glide, 0, count, 1)], 0);
    }

    private static FlightAir Steady(Flight flight)
    {
        double[] still = new double[flight.End], speed = new double[flight.End], level = new double[flight.End];
        Array.Fill(level, 1);
        // A receiver's velocity wanders: 0.06 m/s, 4 s.
        Random random = new(flight.End);
        double wander = 0, keep = Math.Exp(-StepS / 4);
        for (int i = 0; i < speed.Length; i++)
        {
            wander = keep * wander + 0.06 * Math.Sqrt((1 - keep * keep) * 12) * (random.NextDouble() - 0.5);
            speed[i] = SpeedMps + wander;
        }
        return new FlightAir
        {
            Flight = flight,
            WindEastMps = still,
            WindNorthMps = still,
            InertialSpeedMps = speed,
            AirspeedMps = speed,
            AirspeedVarianceM2ps2 = still,
            HeadingRad = still,
            LoadFactor = level,
            Circling = new bool[flight.End],
            Wind = new MeanWind(0, 0, 1, 1, 0),
            PitotFactor = null,
        };
    }
}
