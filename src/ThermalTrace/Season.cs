using ThermalTrace.Learning;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>What all sessions of an airframe tell of it: the start of every piece of advice.</summary>
public sealed class Season
{
    private const int Seed = 1;

    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static Season() => MathNet.Numerics.Control.UseSingleThread();

    private Season(SeasonModel model) => Model = model;

    internal SeasonModel Model { get; }

    /// <summary>The model.</summary>
    public Airframe Airframe => Model.Airframe;

    /// <summary>Number of sessions.</summary>
    public int Sessions => Model.Sessions.Count;

    /// <summary>Tunes the airframe by its sessions, and learns from them what physics misses where they are enough: some seconds.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="sessions">Any number, also none; in any order.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    public static Season Tune(Airframe airframe, IReadOnlyList<SeasonSession> sessions, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(sessions);
        SeasonModel model = SeasonModel.Tune(airframe, sessions, Seed, cancel: cancel);
        return new Season(model with { Learned = model.Learn(Seed, cancel) });
    }

    /// <summary>What <see cref="ToMemory"/> kept; null where it was kept for another airframe or by another program.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="memory">The bytes.</param>
    public static Season? FromMemory(Airframe airframe, byte[] memory)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(memory);
        return SeasonMemory.Read(airframe, memory) is { } model ? new Season(model) : null;
    }

    /// <summary>The tuned model as bytes: tuning anew gives the same, only later. What planning needs beyond it is not in them.</summary>
    public byte[] ToMemory() => SeasonMemory.Write(Model);
}
