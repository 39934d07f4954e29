namespace ThermalTrace.Decisions;

/// <summary>
/// What the speed of circling says of a flight's mass. A model trimmed alike circles at the same lift coefficient, so V² over the
/// load factor goes with the mass; pilots change their speed, so a habit alone never settles it. docs/models/checks.md eq. 2.
/// </summary>
internal static class CirclingHabit
{
    private const double LogSpread = 0.10;    // of ln V² from log to log: five per cent of speed
    private const double FlightSpread = 0.08; // the same from flight to flight, where few show it
    private const double FlightWeight = 4;    // flights that this is worth
    private const double Freedom = 4;         // of the heavy-tailed law: a pilot may circle quite differently for once

    /// <summary>ln(ρ V² / n), weighted by time over a flight's climbs; NaN without any.</summary>
    public static double Of(FlownFlight flight)
    {
        FlownClimb[] climbs = [.. flight.Climbs.Where(c => c.AirspeedMps > 1)];
        return climbs.Length == 0 ? double.NaN
            : climbs.Sum(c => c.Seconds * Math.Log(c.DensityKgM3 * c.AirspeedMps * c.AirspeedMps / c.LoadFactor)) / climbs.Sum(c => c.Seconds);
    }

    /// <summary>Log Bayes factor of another mass for some flights; 0 where circling tells nothing.</summary>
    /// <param name="habits">Of all flights, NaN where not known.</param>
    /// <param name="massesKg">As noted.</param>
    /// <param name="group">Indices of the flights in question.</param>
    /// <param name="otherKg">The other mass.</param>
    public static double LogFactor(IReadOnlyList<double> habits, IReadOnlyList<double> massesKg, IReadOnlyList<int> group, double otherKg)
    {
        int[] own = [.. group.Where(k => !double.IsNaN(habits[k]))];
        double[] rest = [.. Enumerable.Range(0, habits.Count).Where(k => !group.Contains(k) && !double.IsNaN(habits[k])).Select(k => habits[k] - Math.Log(massesKg[k]))];
        if (own.Length == 0 || rest.Length < 2)
        {
            return 0;
        }
        double usual = rest.Average();
        double variance = (rest.Sum(x => (x - usual) * (x - usual)) + FlightWeight * FlightSpread * FlightSpread) / (rest.Length - 1 + FlightWeight);
        double scale = LogSpread * LogSpread + variance * (1.0 / own.Length + 1.0 / rest.Length);
        double Log(Func<int, double> mass)
        {
            double away = own.Average(k => habits[k] - Math.Log(mass(k))) - usual;
            return -0.5 * (Freedom + 1) * Math.Log(1 + away * away / (Freedom * scale));
        }
        return Log(_ => otherKg) - Log(k => massesKg[k]);
    }
}
