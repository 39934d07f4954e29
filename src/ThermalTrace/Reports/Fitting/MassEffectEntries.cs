using ThermalTrace.Ballast;
using ThermalTrace.Learning;

namespace ThermalTrace.Reports.Fitting;

/// <summary>What masses do to the model, as the document lists it.</summary>
internal static class MassEffectEntries
{
    /// <summary>One entry for each ballast, in the order given.</summary>
    /// <param name="model">The season's, or the prediction where nothing was flown.</param>
    /// <param name="ballastsG">g, 0 for the bare model.</param>
    /// <param name="seed">Seed of every draw.</param>
    public static IReadOnlyList<MassEffectEntry> Of(SeasonModel model, IReadOnlyList<double> ballastsG, int seed) => Of(model, MassEffects.Of(model, ballastsG, seed));

    /// <summary>One entry for each effect that was worked out.</summary>
    public static IReadOnlyList<MassEffectEntry> Of(SeasonModel model, IReadOnlyList<MassEffect> effects)
    {
        // A session without airspeed has no part in the drag: the model is then still the prediction.
        string from = model.Drag.BallastsG.Count > 0 ? "logbook" : "prediction", launch = model.Launches is null ? "usual" : "logbook";
        return [.. effects.Select(e => new MassEffectEntry(e.BallastG, e.FlyingMassG,
            PolarEntries.Interval(e.StallMps), PolarEntries.Interval(e.MinSinkAirspeedMps), PolarEntries.Interval(e.BestGlideAirspeedMps),
            PolarEntries.Interval(e.TurnRadiusM), PolarEntries.Interval(e.LaunchHeightM), from)
        {
            SpeedRatio = e.SpeedRatio,
            LaunchHeightRatio = PolarEntries.Interval(e.LaunchHeightRatio),
            LaunchFrom = e.LaunchHeightM.IsKnown ? launch : null,
        })];
    }
}
