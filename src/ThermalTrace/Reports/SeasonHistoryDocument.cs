using ThermalTrace.Learning;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports;

/// <summary>What was known of the model when so many sessions had been flown.</summary>
/// <param name="Sessions">How many, of those that tell of drag; 0 for geometry alone.</param>
/// <param name="Session">The last of them by its name in the logbook; null for geometry alone.</param>
/// <param name="Day">Its day, yyyy-MM-dd; null for geometry alone and where its logs have no date.</param>
/// <param name="BestGlide">Ratio in still air.</param>
/// <param name="LeastSinkMps">At sea level.</param>
/// <param name="SinkShare">By how much more than predicted it sinks at the speed of the predicted best glide; 0.06 is 6 %.</param>
/// <param name="ParasiteDrag">Coefficient.</param>
/// <param name="InducedDrag">Over the ideal wing's.</param>
public sealed record TuningPointEntry(int Sessions, string? Session, string? Day, Interval BestGlide, Interval LeastSinkMps, Interval SinkShare, Interval ParasiteDrag, Interval InducedDrag);

/// <summary>How the model's tuning went over the sessions.</summary>
public sealed record SeasonHistoryDocument
{
    public required AirframeEntry Airframe { get; init; }
    /// <summary>With which glide and sink are reckoned.</summary>
    public required double BallastG { get; init; }
    /// <summary>Sessions that tell nothing of drag: none of their flights had airspeed.</summary>
    public required int SessionsWithoutDrag { get; init; }
    /// <summary>Geometry alone, then session by session; of very many, such as lie evenly.</summary>
    public required IReadOnlyList<TuningPointEntry> Points { get; init; }
    /// <summary>When the airframe changed, as far as all sessions together tell.</summary>
    public required IReadOnlyList<ModelChangeEntry> Changes { get; init; }

    internal static SeasonHistoryDocument Of(Airframe airframe, TuningHistory history) => new()
    {
        Airframe = DocumentBuilder.Airframe(airframe),
        BallastG = history.BallastG,
        SessionsWithoutDrag = history.Untold,
        Points = [.. history.Points.Select(p => new TuningPointEntry(p.Sessions, p.Last?.Id, p.Last?.Evidence.Date, PolarEntries.Interval(p.BestGlide), PolarEntries.Interval(p.LeastSinkMps),
            PolarEntries.Interval(p.SinkShare), PolarEntries.Interval(p.ParasiteDrag), PolarEntries.Interval(p.InducedDrag)))],
        Changes = SuggestionEntries.Changes(history.Changes),
    };
}
