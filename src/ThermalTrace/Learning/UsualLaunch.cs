using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Learning;

/// <summary>Launch heights to reckon with: those of the logbook, the height asked for, or what is usual for the kind of launch.</summary>
/// <param name="Heights">Of draws.</param>
/// <param name="UsualM">The height taken as usual; null where launches were seen or a height was given.</param>
internal sealed record UsualLaunch(LaunchHeights Heights, double? UsualM)
{
    // Common practice, no source.
    private static double UsualHeightM(LaunchKind? kind) => kind switch
    {
        LaunchKind.Discus => 40,
        LaunchKind.Hand => 12,
        LaunchKind.Bungee => 80,
        LaunchKind.Winch => 120,
        LaunchKind.Electric or LaunchKind.Tow => 100,
        _ => 40,
    };

    /// <summary>For a model.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="fromHeightM">A height that the pilot chooses, m, or null.</param>
    public static UsualLaunch For(SeasonModel model, double? fromHeightM)
    {
        // A height that is given is chosen: every ballast begins at it.
        if (fromHeightM is { } given)
        {
            return new UsualLaunch(LaunchHeights.Fit([.. Enumerable.Repeat((given, 1.0, 0.0), 1000)], LaunchKind.Tow)!, null);
        }
        if (model.Launches is { } seen)
        {
            return new UsualLaunch(seen, null);
        }
        double usual = UsualHeightM(model.Airframe.Launch);
        // Half as much or twice as much would surprise nobody: as two launches, one of each.
        return new UsualLaunch(LaunchHeights.Fit([(usual / 2, 1, 0), (usual * 2, 1, 0)], model.Airframe.Launch)!, usual);
    }
}
