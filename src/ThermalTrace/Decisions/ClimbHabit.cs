using MathNet.Numerics.Distributions;

namespace ThermalTrace.Decisions;

/// <summary>
/// How lift is worked, whatever the day: one draw of what makes η and the thermal's radius. The season narrows it.
/// docs/models/climb.md.
/// </summary>
/// <param name="RadiusFactor">Thermal radius over what is usual at its height.</param>
/// <param name="SearchLoss">Share of the core lost by finding it and by uneven circles, whatever the mass.</param>
/// <param name="GustLoss">Share that turbulence of <see cref="UsualEdr"/> loses at the bare wing loading; it goes with EDR.</param>
/// <param name="LoadingPower">How much less that is at a higher wing loading.</param>
internal sealed record ClimbHabit(double RadiusFactor, double SearchLoss, double GustLoss, double LoadingPower)
{
    /// <summary>At which <see cref="GustLoss"/> is meant, m^(2/3)/s; also taken where turbulence is not known.</summary>
    public const double UsualEdr = 0.1;

    private const double RadiusAtGroundM = 13, RadiusPerM = 0.05, RadiusSpread = 0.25; // of its logarithm; method: 10–20 m low down, 30 m and more high up
    private const double Search = 0.1, SearchSpread = 0.5; // of its logarithm; common practice, no source
    private const double Gust = 0.05, GustSpread = 0.7;    // common practice, no source
    private const double LeastPower = 0.3, MostPower = 1.2;

    /// <summary>From the prior.</summary>
    public static ClimbHabit Draw(System.Random random)
    {
        double Spread(double sd) => Math.Exp(sd * Normal.Sample(random, 0, 1));
        return new ClimbHabit(Spread(RadiusSpread), Search * Spread(SearchSpread), Gust * Spread(GustSpread), LeastPower + (MostPower - LeastPower) * random.NextDouble());
    }

    /// <summary>Usual radius at a height over ground, m.</summary>
    public static double UsualRadiusM(double heightM) => RadiusAtGroundM + RadiusPerM * heightM;

    /// <summary>The lift at a height in some turbulence.</summary>
    /// <param name="heightM">Over ground.</param>
    /// <param name="edr">m^(2/3)/s; NaN for <see cref="UsualEdr"/>.</param>
    /// <param name="shortfall">By what the lift met falls short of the best circle's, as a logarithm.</param>
    public Lift At(double heightM, double edr, double shortfall) =>
        new(UsualRadiusM(heightM) * RadiusFactor, SearchLoss, GustLoss * (double.IsNaN(edr) ? 1 : edr / UsualEdr), LoadingPower, shortfall);
}
