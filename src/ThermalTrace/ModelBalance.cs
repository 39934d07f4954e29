using ThermalTrace.Ballast;
using ThermalTrace.Reports.Balance;
using ThermalTrace.Sessions;

namespace ThermalTrace;

/// <summary>What a model weighs, where its centre of gravity lies and how it turns in pitch, from what was measured on the bench. docs/balance.md.</summary>
public static class ModelBalance
{
    /// <summary>Works it out.</summary>
    /// <param name="airframe">The model, to compare with and for what was not measured.</param>
    /// <param name="asked">What was measured.</param>
    /// <exception cref="ArgumentException">Neither readings at two places, nor a balance, nor a swing; readings and a balance; masses or lengths that are not above nought.</exception>
    public static BalanceDocument Run(Airframe airframe, BalanceAsked asked)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(asked);
        return asked.Complaint() is { } wrong ? throw new ArgumentException(wrong, nameof(asked)) : BalanceEntries.Of(airframe, asked);
    }
}
