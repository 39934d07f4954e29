using ThermalTrace.Units;

namespace ThermalTrace.Air;

/// <summary>
/// What turbulence of unit strength (ε = 1) shows in the energy, or the height, of a model that flies through it: one-sided
/// power spectra over frequency, m²/s² for each Hz. docs/models/turbulence.md.
/// </summary>
internal static class TurbulenceSpectrum
{
    /// <summary>Kolmogorov's constant of the longitudinal structure function; Pope 2000, s. 6.2; Saddoughi and Veeravalli 1994.</summary>
    public const double C2 = 2.0;

    private const double C1 = C2 / 4.02;         // one-dimensional longitudinal spectrum; Monin and Yaglom 1975, s. 13
    private const double Transverse = 4.0 / 3;   // isotropy; Pope 2000, s. 6.5
    private const double GroundBend = 5.3;       // Kaimal et al. 1972, vertical spectrum of the neutral surface layer
    private const double HeaveShare = 0.12;      // lift coefficient over lift slope of a wing that glides: about 0.6 over 5
    private const double PathDamping = 1.6;      // of the phugoid, in units of g/V, pilot and elevator together: near critical; common practice, no source

    /// <summary>Vertical motion of the air met at a speed and a height, as far as the wing follows it.</summary>
    public static double Vertical(double frequencyHz, double speedMps, double heightM)
    {
        double k = 2 * Math.PI * frequencyHz / speedMps;
        // Eddies longer than the height are flat: f = height over wavelength.
        double f = k * heightM / (2 * Math.PI);
        double bend = GroundBend * Math.Pow(f, 5.0 / 3);
        return Transverse * Along(frequencyHz, speedMps) * bend / (1 + bend) * Heave(frequencyHz, speedMps);
    }

    /// <summary>Gusts along the path.</summary>
    public static double Along(double frequencyHz, double speedMps) =>
        C1 * 2 * Math.PI / speedMps * Math.Pow(2 * Math.PI * frequencyHz / speedMps, -5.0 / 3);

    /// <summary>
    /// Share of the power of gusts along the path that shows as climbing and sinking: more speed is more lift, until the
    /// path bends (Lanchester's phugoid, damped). In energy height it cancels.
    /// </summary>
    public static double GustClimb(double frequencyHz, double speedMps)
    {
        double v2 = Square(2 * Math.PI * frequencyHz * speedMps / PhysicalConstants.StandardGravityMps2);
        return 4 * v2 / (Square(2 - v2) + PathDamping * PathDamping * v2);
    }

    /// <summary>A first-order lag's share of the power.</summary>
    public static double Lagged(double frequencyHz, double lagS) => 1 / (1 + Square(2 * Math.PI * frequencyHz * lagS));

    private static double Heave(double frequencyHz, double speedMps) =>
        Lagged(frequencyHz, HeaveShare * speedMps / PhysicalConstants.StandardGravityMps2);

    private static double Square(double x) => x * x;
}
