using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>What added pitch inertia means: how much longer the model takes to answer in pitch. docs/models/pieces.md.</summary>
internal static class PitchResponse
{
    // Radius of gyration in pitch over the span, from short fuselages full of gear to long light ones. Common practice, no source.
    private const double UsualGyration = 0.10, UsualFactor = 1.5;

    // A swing on two strings is good to about a twentieth; with what was changed since, a tenth. Common practice, no source.
    private const double MeasuredShare = 0.10;

    /// <summary>The bare model's pitch inertia, kg m², with its interval: as given, or else the usual for the span, wide.</summary>
    public static Band BareKgM2(Airframe airframe)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        if (airframe.PitchInertiaKgM2 is { } given)
        {
            return new Band(given, given * (1 - MeasuredShare), given * (1 + MeasuredShare));
        }
        double radius = UsualGyration * airframe.WingSpanM, usual = airframe.UnballastedMassG / 1000 * radius * radius;
        return new Band(usual, usual / (UsualFactor * UsualFactor), usual * UsualFactor * UsualFactor);
    }

    /// <summary>
    /// Period of the quick oscillation in pitch with ballast over that without, at the same speed and static margin: the square root of the inertias' ratio.
    /// </summary>
    /// <param name="airframe">The model.</param>
    /// <param name="addedKgM2">What ballast adds, kg m².</param>
    public static Band PeriodRatio(Airframe airframe, double addedKgM2)
    {
        Band bare = BareKgM2(airframe);
        double Ratio(double inertia) => Math.Sqrt(1 + addedKgM2 / inertia);
        return new Band(Ratio(bare.Value), Ratio(bare.High), Ratio(bare.Low));
    }
}
