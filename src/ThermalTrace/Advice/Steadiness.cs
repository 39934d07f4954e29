using ThermalTrace.Air;
using ThermalTrace.Units;

namespace ThermalTrace.Advice;

/// <summary>
/// How a model will be thrown about: root mean square of the load factor gliding, from 0.3 to 3 s. A sharp gust w gives
/// Δn = ρ V CLα w S/(2 m g); from slower ones the wing gives way with the lag τ = 2 m/(ρ V S CLα). docs/models/advice.md eq. 7.
/// </summary>
internal static class Steadiness
{
    private const double SlowestHz = 1 / 3.0, QuickestHz = 1 / 0.3;
    private const int Steps = 40;

    /// <summary>By what the lift slope, and the height that is glided at, leave it open: one standard deviation of its logarithm; common practice, no source.</summary>
    public const double Spread = 0.2;

    /// <summary>Of air with an eddy dissipation rate^(1/3) of 1 m^(2/3)/s; it goes with EDR.</summary>
    /// <param name="airspeedMps">Of the glide, at a lift coefficient of about 0.6.</param>
    /// <param name="heightM">Over ground.</param>
    public static double LoadFactorRms(double airspeedMps, double heightM)
    {
        double sum = 0, step = Math.Log(QuickestHz / SlowestHz) / Steps;
        for (int i = 0; i < Steps; i++)
        {
            double f = SlowestHz * Math.Exp((i + 0.5) * step), rate = 2 * Math.PI * f / PhysicalConstants.StandardGravityMps2;
            // The load is the acceleration of the motion that follows the gusts.
            sum += TurbulenceSpectrum.Vertical(f, airspeedMps, heightM) * rate * rate * f * step;
        }
        return Math.Sqrt(sum);
    }
}
