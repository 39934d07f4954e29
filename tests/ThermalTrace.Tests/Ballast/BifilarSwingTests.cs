using ThermalTrace.Ballast;
using ThermalTrace.Decisions;

namespace ThermalTrace.Tests.Ballast;

public sealed class BifilarSwingTests
{
    private const double HalfOfNinety = 1.644854; // standard deviations; any table of the normal distribution

    [Fact]
    public void Inertia_OfTheWorkedExample_IsFound() => // I = m g D² T²/(16 π² L), Jardin and Mueller 2007, from memory; by hand
        Assert.Equal(4.29244e-3, BifilarSwing.InertiaKgM2(0.3, 0.4, 1, 1.2), 5e-9);

    [Fact]
    public void Inertia_OfARodThatSwings_IsThatOfARod()
    {
        // The period from the equation of motion, I θ¨ = −m g D²/(4 L) θ, of a thin rod of 60 g and 60 mm: I = m l²/12 = 1.8e-5 kg m².
        double period = 2 * Math.PI * Math.Sqrt(1.8e-5 / (0.060 * 9.80665 * 0.05 * 0.05 / (4 * 0.5)));
        Assert.Equal(1.8e-5, BifilarSwing.InertiaKgM2(0.060, 0.05, 0.5, period), 1e-15);
    }

    // The whole motion, not that of small turns alone: energy of a body that two strings lift as it turns, put into the integral of the period.
    [Theory]
    [InlineData(5)]
    [InlineData(10)]
    public void Inertia_OfAWideSwing_ReadsHighByAsMuchAsIsSaid(double degrees)
    {
        const double mass = 0.3, spacing = 0.4, length = 1, inertia = 4.29244e-3, g = 9.80665;
        double amplitude = degrees * Math.PI / 180;
        double Height(double turn) => length - Math.Sqrt(length * length - spacing * spacing / 2 * (1 - Math.Cos(turn)));
        double Rise(double turn) => spacing * spacing / 4 * Math.Sin(turn) / (length - Height(turn)); // of height by turn
        double sum = 0;
        const int steps = 4000;
        for (int i = 0; i < steps; i++)
        {
            // θ = amplitude · sin u takes the ends out of the integral.
            double turn = amplitude * Math.Sin((i + 0.5) / steps * Math.PI / 2);
            double squared = 2 * mass * g * (Height(amplitude) - Height(turn)) / (inertia + mass * Rise(turn) * Rise(turn));
            sum += Math.Sqrt((amplitude * amplitude - turn * turn) / squared) * (Math.PI / 2 / steps);
        }
        double high = BifilarSwing.InertiaKgM2(mass, spacing, length, 4 * sum) / inertia - 1;
        // docs/models/balance.md eq. 9, and what is said of 10 degrees: half a per cent.
        double said = amplitude * amplitude / 8 * (1 + mass * Math.Pow(spacing, 4) / (4 * length * length * inertia) - 0.75 * spacing * spacing / (length * length));
        Assert.Equal(said, high, 1e-4);
        Assert.InRange(high, 0, 0.0055);
    }

    [Fact]
    public void Period_FromThreeTimings_HasStudentsInterval()
    {
        Band period = BifilarSwing.PeriodS(Swing(12.0, 12.1, 12.2));
        Assert.Equal(1.21, period.Value, 1e-12);
        // s = 0.1, t(0.95; 2) = 2.919986 (tables), over √3 and ten swings.
        Assert.Equal(2.919986 * 0.1 / Math.Sqrt(3) / 10, period.High - period.Value, 1e-7);
    }

    [Theory]
    [InlineData(0.1, new[] { 12.1 })]
    [InlineData(0.0707107, new[] { 12.1, 12.1 })]
    [InlineData(0.2828427, new[] { 11.9, 12.3 })]
    // Timings that agree to the last digit are not known better than to half of it.
    [InlineData(0.05, new[] { 12.1, 12.1, 12.1, 12.1 })]
    public void Period_FromFewOrLikeTimings_IsNoBetterThanAHandOnAWatch(double half, double[] times) =>
        Assert.Equal(half / 10, BifilarSwing.PeriodS(Swing(times)) is var p ? p.High - p.Value : 0, 1e-8);

    [Fact]
    public void Inertia_WithTheBallastTakenOut_IsThatOfTheBareModel()
    {
        // 60 g at 66 mm in a model of 260 g at 72 mm: m M/(m + M) d² = 1.755e-6 kg m² (parallel axes).
        Band bare = BifilarSwing.WithoutBallast(WeighedBalance.Around(4e-3 + 1.755e-6, 1e-4), 260, 60, WeighedBalance.Around(-6, 0.5));
        Assert.Equal(4e-3, bare.Value, 1e-12);
        Assert.True(bare.High - bare.Value >= 1e-4);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(5)]
    public void Interval_HoldsTheTruth_NineTimesInTen(int timings)
    {
        const int seed = 4711, repeats = 4000;
        Random random = new(seed + timings);
        double Drawn(double half) => half / HalfOfNinety * Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        const double mass = 262, spacing = 0.4, length = 1, inertia = 4e-3;
        double period = 4 * Math.PI * Math.Sqrt(inertia * length / (mass / 1000 * 9.80665)) / spacing;
        int held = 0;
        for (int i = 0; i < repeats; i++)
        {
            SwingAsked swing = new([.. Enumerable.Range(0, timings).Select(_ => new SwingTiming(10 * period + Drawn(0.1), 0.01))], 10, length + Drawn(0.004), spacing + Drawn(0.002), 0.004, 0.002);
            Band found = BifilarSwing.InertiaKgM2(swing, WeighedBalance.Around(mass + Drawn(2), 2));
            held += found.Low <= inertia && inertia <= found.High ? 1 : 0;
        }
        Assert.True(held is > 86 * repeats / 100 and < 94 * repeats / 100, $"seed {seed}, {timings} timings: the inertia was held {100.0 * held / repeats} times in 100");
    }

    private static SwingAsked Swing(params double[] times) => new([.. times.Select(t => new SwingTiming(t, 0.1))], 10, 1, 0.4);
}
