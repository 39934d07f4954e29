using System.Globalization;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Ballast;

/// <summary>What has to be known, and must not be exceeded, before anything is built.</summary>
internal static class StickChecks
{
    /// <summary>The tube.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The ballast asked for is not more than 0.</exception>
    /// <exception cref="UnusableInputException">No tube, heavier than the model may fly, or a wish for the centre of gravity that cannot be met.</exception>
    public static BallastTube Tube(Airframe airframe, StickAsked asked)
    {
        if (!(asked.BallastG > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(asked), asked.BallastG, "the ballast has to be more than 0 g");
        }
        PieceCheck.RequireMass(airframe, asked.BallastG);
        BallastTube tube = airframe.BallastTube ?? throw new UnusableInputException(
            "airframe.json: has no ballast_tube; a stick is built for its bore, length and place: add \"ballast_tube\": { \"bore_mm\": …, \"length_mm\": …, \"centre_mm\": … }, centre_mm being that of the tube's middle aft of the wing root's leading edge");
        PieceCheck.RequireWish(airframe, -asked.CgForwardMm);
        return StickMaker.UsableMm(tube) > 0 ? tube : throw new UnusableInputException(string.Create(CultureInfo.InvariantCulture,
            $"airframe.json: ballast_tube.length_mm is {tube.LengthMm:0.##}; with {StickMaker.EndPlayMm:0.##} mm of play for the lock nothing goes into it"));
    }
}
