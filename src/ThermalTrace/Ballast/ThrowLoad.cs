using ThermalTrace.Decisions;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Ballast;

/// <summary>What ballast pulls sideways with in a discus launch. docs/models/stick.md eq. 4.</summary>
/// <param name="SpeedMps">Of the fuselage at release, m/s.</param>
/// <param name="RadiusM">Of its circle, m.</param>
/// <param name="ForceN">m v²/r, N.</param>
/// <param name="Weights">The same as multiples of the ballast's own weight.</param>
internal sealed record ThrowLoad(Band SpeedMps, Band RadiusM, Band ForceN, Band Weights)
{
    // Throws from easy to hard; the thrower's reach. Common practice, no source.
    private static readonly Band UsualSpeedMps = new(30, 25, 35);
    private const double UsualReachM = 0.7, ReachSpreadM = 0.1;

    // What one number that a pilot gives is good to. Common practice, no source.
    private const double SpeedShare = 0.1;

    // Of the speed at release so much, as energy, becomes height; the rest goes into drag on the way up and speed at the top. Common practice, no source.
    private const double UsualKept = 0.75, LeastKept = 0.6, MostKept = 0.9;

    /// <summary>The load; null where the model is not launched so.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="asked">How heavy, and how it is thrown if the pilot says.</param>
    /// <param name="heightM">Launch height seen of such a mass, m; null where none was.</param>
    public static ThrowLoad? Of(Airframe airframe, StickAsked asked, Band? heightM)
    {
        if (airframe.Launch != LaunchKind.Discus)
        {
            return null;
        }
        Band speed = asked.ThrowSpeedMps is { } v ? Given(v, SpeedShare * v.Low) : heightM is { } height ? ReleaseMps(height) : UsualSpeedMps;
        double usual = airframe.WingSpanM / 2 + UsualReachM;
        Band radius = Given(asked.ThrowRadiusM ?? (usual, usual), ReachSpreadM);
        double kg = asked.BallastG / 1000, weight = kg * PhysicalConstants.StandardGravityMps2;
        Band force = new(PullN(kg, speed.Value, radius.Value), PullN(kg, speed.Low, radius.High), PullN(kg, speed.High, radius.Low));
        return new ThrowLoad(speed, radius, force, new Band(force.Value / weight, force.Low / weight, force.High / weight));
    }

    /// <summary>Speed at release that throws so high: √(2 g h / share kept), m/s.</summary>
    public static Band ReleaseMps(Band heightM)
    {
        static double Speed(double height, double kept) => Math.Sqrt(2 * PhysicalConstants.StandardGravityMps2 * Math.Max(height, 0) / kept);
        return new Band(Speed(heightM.Value, UsualKept), Speed(heightM.Low, MostKept), Speed(heightM.High, LeastKept));
    }

    /// <summary>F = m v²/r, N.</summary>
    public static double PullN(double massKg, double speedMps, double radiusM) => massKg * speedMps * speedMps / radiusM;

    private static Band Given((double Low, double High) range, double spread)
    {
        double middle = (range.Low + range.High) / 2;
        return range.Low < range.High ? new Band(middle, range.Low, range.High) : new Band(middle, middle - spread, middle + spread);
    }
}
