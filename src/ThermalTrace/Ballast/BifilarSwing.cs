using MathNet.Numerics.Distributions;
using ThermalTrace.Decisions;
using ThermalTrace.Units;

namespace ThermalTrace.Ballast;

/// <summary>
/// Moment of inertia about the vertical from a swing on two strings of one length, hung at equal distances from the centre of gravity. docs/models/balance.md;
/// Jardin and Mueller 2007, from memory.
/// </summary>
internal static class BifilarSwing
{
    private const int EnoughTimings = 3; // from here their own scatter says how well they were timed
    private const double NormalHalf = 1.6448536269514722; // half of a 90 % interval in standard deviations

    /// <summary>I = m g D² T² / (16 π² L), kg m²; swings so small that they keep time.</summary>
    /// <param name="massKg">What hangs, kg.</param>
    /// <param name="spacingM">Between the strings, m.</param>
    /// <param name="stringM">Length of a string, m.</param>
    /// <param name="periodS">One swing there and back again, s.</param>
    public static double InertiaKgM2(double massKg, double spacingM, double stringM, double periodS) =>
        massKg * PhysicalConstants.StandardGravityMps2 * spacingM * spacingM * periodS * periodS / (16 * Math.PI * Math.PI * stringM);

    /// <summary>
    /// One swing there and back again, s. Three timings or more tell by their scatter (Student's t) how well they were taken, though never better than
    /// half of their last digit; fewer are as good as a hand on a watch, or as they differ. docs/models/balance.md eq. 6.
    /// </summary>
    public static Band PeriodS(SwingAsked swing)
    {
        Spread spread = PeriodSpread(swing);
        return WeighedBalance.Around(swing.Timings.Average(t => t.TimeS) / swing.Swings, spread.Half);
    }

    /// <summary>
    /// The inertia with its interval, kg m²: the relative errors of mass, spacing (twice), period (twice) and length, independent of each other. Few
    /// timings know their own scatter badly, and count by what they are of the whole (Welch and Satterthwaite). docs/models/balance.md eq. 7.
    /// </summary>
    /// <param name="swing">What was timed and measured.</param>
    /// <param name="massG">What hung, g.</param>
    public static Band InertiaKgM2(SwingAsked swing, Band massG)
    {
        Band period = PeriodS(swing);
        double value = InertiaKgM2(massG.Value / 1000, swing.SpacingM, swing.StringM, period.Value);
        Spread timed = PeriodSpread(swing);
        double ofPeriod = 2 * timed.Deviation / period.Value, ofRest = Math.Sqrt(Square(Half(massG) / massG.Value)
            + Square(2 * (swing.SpacingErrorM ?? UsualErrors.StringM) / swing.SpacingM)
            + Square((swing.StringErrorM ?? UsualErrors.StringM) / swing.StringM)) / NormalHalf;
        double all = Math.Sqrt(Square(ofPeriod) + Square(ofRest));
        double share = all > 0 ? new Spread(all, timed.Freedom * Math.Pow(all / ofPeriod, 4)).Half : 0;
        // To first order the interval may reach below nought where hardly anything was measured; no mass turns that easily.
        return new Band(value, Math.Max(0, value * (1 - share)), value * (1 + share));
    }

    /// <summary>A standard deviation and how many degrees of freedom it was found with; none but infinitely many where it was given.</summary>
    private readonly record struct Spread(double Deviation, double Freedom)
    {
        /// <summary>Half of the 90 % interval.</summary>
        public double Half => Deviation * (Freedom < 1e4 ? StudentT.InvCDF(0, 1, Freedom, 0.95) : NormalHalf);
    }

    private static Spread PeriodSpread(SwingAsked swing)
    {
        double[] times = [.. swing.Timings.Select(t => t.TimeS)];
        double root = Math.Sqrt(times.Length);
        if (times.Length < EnoughTimings)
        {
            return new Spread(Math.Max(UsualErrors.ReactionS, times.Max() - times.Min()) / NormalHalf / root / swing.Swings, double.PositiveInfinity);
        }
        double mean = times.Average(), scatter = Math.Sqrt(times.Sum(t => (t - mean) * (t - mean)) / (times.Length - 1));
        Spread seen = new(scatter / root / swing.Swings, times.Length - 1), digit = new(swing.Timings.Max(t => t.LastDigitS) / 2 / NormalHalf / swing.Swings, double.PositiveInfinity);
        return seen.Half > digit.Half ? seen : digit;
    }

    /// <summary>
    /// The bare model's, from that with ballast in: less what the ballast, taken as a point, adds about the common centre of gravity. docs/models/balance.md eq. 8.
    /// </summary>
    /// <param name="withKgM2">As swung, kg m².</param>
    /// <param name="bareMassG">Without ballast, g.</param>
    /// <param name="ballastG">g.</param>
    /// <param name="distanceMm">From the bare model's centre of gravity to the ballast, mm, with its interval.</param>
    public static Band WithoutBallast(Band withKgM2, double bareMassG, double ballastG, Band distanceMm)
    {
        double together = bareMassG * ballastG / (bareMassG + ballastG) * 1e-9; // g mm² to kg m²
        double added = together * Square(distanceMm.Value), half = 2 * together * Math.Abs(distanceMm.Value) * Half(distanceMm);
        return WeighedBalance.Around(withKgM2.Value - added, Math.Sqrt(Square(Half(withKgM2)) + Square(half)));
    }

    private static double Half(Band band) => (band.High - band.Low) / 2;

    private static double Square(double x) => x * x;
}
