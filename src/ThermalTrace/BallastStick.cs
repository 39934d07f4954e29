using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Reports.Stick;
using ThermalTrace.Sessions;

namespace ThermalTrace;

/// <summary>What to build for the ballast tube. docs/stick.md.</summary>
public static class BallastStick
{
    private const int Seed = 1;

    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static BallastStick() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Looks for sticks.</summary>
    /// <param name="season">What is known of the model: its speeds come from it.</param>
    /// <param name="asked">How heavy, and what of.</param>
    /// <exception cref="Units.UnusableInputException">No tube, heavier than the model may fly, or a wish for the centre of gravity that cannot be met.</exception>
    public static StickDocument Run(Season season, StickAsked asked)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(asked);
        Airframe airframe = season.Airframe;
        BallastTube tube = StickChecks.Tube(airframe, asked);
        IReadOnlyList<MassEffect> effects = MassEffects.Of(season.Model, [0, asked.BallastG], Seed);
        Band? thrown = season.Model.Launches is null ? null : effects[^1].LaunchHeightM;
        return StickEntries.Of(airframe, tube, asked, StickMaker.Make(airframe, tube, asked), ThrowLoad.Of(airframe, asked, thrown), thrown is not null,
            MassEffectEntries.Of(season.Model, effects));
    }
}
