using ThermalTrace.Decisions;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace;

/// <summary>The <c>predict --json</c> document: polars as in results.json, from geometry alone.</summary>
public sealed record PredictionDocument
{
    /// <summary>Always thermaltrace.predict/1.</summary>
    public string Schema { get; init; } = "thermaltrace.predict/1";

    /// <summary>The model.</summary>
    public required AirframeEntry Airframe { get; init; }

    /// <summary>One polar for every ballast option; no part of it flown.</summary>
    public required IReadOnlyList<PolarEntry> Polars { get; init; }

    /// <summary>The drag curve's parameters; nothing is tuned, so both columns say the same.</summary>
    public required ModelEntry Model { get; init; }
}

/// <summary>Predicts polars from an airframe's geometry, with intervals from the prediction's own spread.</summary>
public static class PolarPrediction
{
    private const int Draws = 1000;

    /// <summary>Polars of every ballast option (of the bare airframe where none is given).</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="seed">Seed of the draws behind the intervals.</param>
    public static PredictionDocument Run(Airframe airframe, int seed = 1)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        Drag drag = Drag.Predicted(airframe, seed, Draws);
        return new PredictionDocument
        {
            Airframe = DocumentBuilder.Airframe(airframe),
            Polars = PolarEntries.Of([], drag, 0, predictedOnly: true),
            Model = PolarEntries.Model(drag),
        };
    }
}
