using ThermalTrace.Ballast;
using ThermalTrace.Reports.Stick;
using ThermalTrace.Sessions;

namespace ThermalTrace;

/// <summary>What to build for the ballast tube. docs/stick.md.</summary>
public static class BallastStick
{
    /// <summary>Looks for sticks.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="asked">How heavy, and what of.</param>
    /// <exception cref="Units.UnusableInputException">No tube, or heavier than the model may fly.</exception>
    public static StickDocument Run(Airframe airframe, StickAsked asked)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(asked);
        BallastTube tube = StickChecks.Tube(airframe, asked);
        return StickEntries.Of(airframe, tube, asked, StickMaker.Make(airframe, tube, asked), ThrowLoad.Of(airframe, asked));
    }
}
