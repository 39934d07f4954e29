namespace ThermalTrace.Ballast;

/// <summary>How near is near enough. docs/models/pieces.md.</summary>
internal static class FitTolerances
{
    /// <summary>No scale on a field shows less, g. Common practice, no source.</summary>
    public const double ScaleG = 0.1;

    /// <summary>No balancing on a field shows less, mm. Common practice, no source.</summary>
    public const double BalanceMm = 0.1;

    /// <summary>Within this of the wish the centre of gravity is where it was wanted, mm: half of the least shift that pilots ask for (0.5 mm, common practice, no source).</summary>
    public const double RightCgMm = 0.25;

    /// <summary>
    /// Within this of what was asked the mass is right, g: a half per cent of the bare mass and at least half a gram. Every speed of the model goes with the square root of
    /// its mass, so that it changes by a quarter of a per cent.
    /// </summary>
    public static double RightMassG(double bareMassG) => Math.Max(0.5, 0.005 * bareMassG);
}
