using MathNet.Numerics.Distributions;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Tests.Learning;

/// <summary>Climbs of a season as a pilot with known habits would fly them.</summary>
internal sealed record MadeUpClimbs
{
    private const double BareLoadingKgM2 = 0.248 / 0.213;

    /// <summary>How lift is worked; by default as the prior has it in the middle.</summary>
    public ClimbHabit Habit { get; init; } = new(1, 0.1, 0.05, 0.75);

    /// <summary>Number of sessions.</summary>
    public int Sessions { get; init; } = 20;

    /// <summary>Of each mass in a session.</summary>
    public int Climbs { get; init; } = 6;

    /// <summary>Flown in each session, over the bare mass.</summary>
    public IReadOnlyList<double> MassRatios { get; init; } = [1, 1.3];

    /// <summary>Of a climb about its session's lift, as a logarithm.</summary>
    public double Scatter { get; init; } = 0.15;

    /// <summary>By how much the logarithm of the air met grows with that of mass, whatever the habits: heavier only worked in stronger lift.</summary>
    public double ChoiceSlope { get; init; }

    /// <summary>What is kept beside the habits, as a factor, by mass ratio and wind.</summary>
    public Func<double, double, double> Kept { get; init; } = (_, _) => 1;

    /// <summary>Seed.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>The rows.</summary>
    public IReadOnlyList<ClimbRow> Rows()
    {
        System.Random random = new(Seed);
        List<ClimbRow> rows = [];
        int flight = 0;
        for (int s = 0; s < Sessions; s++)
        {
            // Wind and turbulence change from day to day each for itself: calm and rough days with little and much wind.
            double lift = 1.5 + random.NextDouble() * 1.5, wind = 0.5 + 8 * ((s * 7 + 3) % 20) / 19.0, edr = 0.04 + 0.26 * (s * 11 % 20) / 19.0;
            foreach (double mass in MassRatios)
            {
                for (int c = 0; c < Climbs; c++)
                {
                    flight += c % 2;
                    double inside = 0.6 * mass * (1 + 0.1 * Normal.Sample(random, 0, 1));
                    double logAir = Math.Log(lift) + Math.Log(Habit.At(0, edr, 0).Centring(mass)) - Math.Pow(inside / Habit.RadiusFactor, 2)
                        + ChoiceSlope * Math.Log(mass) + Math.Log(Kept(mass, wind)) + Scatter * Normal.Sample(random, 0, 1);
                    rows.Add(new ClimbRow(s, flight, Math.Exp(logAir), 0.5 * Math.Sqrt(mass), inside, mass, mass * BareLoadingKgM2, edr, wind, double.NaN, 40));
                }
                flight++;
            }
        }
        return rows;
    }
}
