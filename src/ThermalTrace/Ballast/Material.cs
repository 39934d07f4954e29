namespace ThermalTrace.Ballast;

/// <summary>What ballast is made of.</summary>
/// <param name="Name">As it is written; one that a pilot named is untrusted.</param>
/// <param name="DensityGCm3">Of what is usually meant, g/cm³ at 20 °C.</param>
/// <param name="LowGCm3">The least that what is sold under the name may have, g/cm³.</param>
/// <param name="HighGCm3">The most, g/cm³.</param>
internal sealed record Material(string Name, double DensityGCm3, double LowGCm3, double HighGCm3)
{
    // A density that a pilot weighed and measured. Common practice, no source.
    private const double TypedShare = 0.01;

    /// <summary>A material by its density, good to one per cent where one number is all that is known.</summary>
    public static Material Of(string name, double lowGCm3, double highGCm3) => lowGCm3 == highGCm3
        ? new(name, lowGCm3, lowGCm3 * (1 - TypedShare), lowGCm3 * (1 + TypedShare))
        : new(name, (lowGCm3 + highGCm3) / 2, lowGCm3, highGCm3);
}
