using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>How the model's tuning went over the sessions: what was known of it after the first, the first two, and so on.</summary>
public static class SeasonHistory
{
    private const int Seed = 1;

    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static SeasonHistory() => MathNet.Numerics.Control.UseSingleThread();

    /// <summary>Tunes again and again: some ten milliseconds a session where they are few, some seconds for hundreds.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="sessions">Any number, also none; in any order.</param>
    /// <param name="ballastG">With which glide and sink are reckoned; null for what was flown in most sessions.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static SeasonHistoryDocument Run(Airframe airframe, IReadOnlyList<SeasonSession> sessions, double? ballastG = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(sessions);
        return SeasonHistoryDocument.Of(airframe, TuningHistory.Of(airframe, sessions, ballastG, Seed, cancel));
    }
}
