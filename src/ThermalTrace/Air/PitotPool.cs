namespace ThermalTrace.Air;

/// <summary>The pitot's factor over the session: one instrument, many flights.</summary>
/// <param name="Factor">By which it reads high; 1 is right.</param>
/// <param name="StandardError">Of that.</param>
/// <param name="Flights">That told it.</param>
internal sealed record PitotPool(double Factor, double StandardError, int Flights)
{
    private const double PriorSpread = 0.08; // what each flight's estimate begins from: plumbing and calibration, common practice, no source
    private const double FlightSpread = 0.006; // of what the wind's own error leaves in a flight beyond its account
    private const double CommonSpread = 0.02;  // that all flights share: airspeed from satellites alone runs 1 to 3 % low where circles are tight, by simulation

    /// <summary>Pools the flights' factors; null where none has a pitot.</summary>
    public static PitotPool? Of(IEnumerable<FlightAir?> flights)
    {
        (double Factor, double StandardError)[] found = [.. flights.Where(f => f?.PitotFactor is not null).Select(f => f!.PitotFactor!.Value)];
        if (found.Length == 0)
        {
            return null;
        }
        double precision = 1 / (PriorSpread * PriorSpread), sum = precision;
        int told = 0;
        foreach ((double factor, double error) in found)
        {
            // Each flight began from the same prior: it must count once, not once a flight.
            double own = 1 / (error * error) - 1 / (PriorSpread * PriorSpread);
            if (own > 1e-3 / (PriorSpread * PriorSpread))
            {
                double alone = 1 + (factor - 1) / (error * error) / own;
                double weight = 1 / (1 / own + FlightSpread * FlightSpread);
                precision += weight;
                sum += weight * alone;
                told++;
            }
        }
        return new PitotPool(sum / precision, Math.Sqrt(1 / precision + CommonSpread * CommonSpread), told);
    }
}
