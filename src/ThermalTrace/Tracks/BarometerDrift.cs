using ThermalTrace.Logs;

namespace ThermalTrace.Tracks;

/// <summary>How fast a log's barometric altitude creeps away from its satellite altitude.</summary>
/// <param name="RateMps">Creep, m/s, up is positive: as much sink is hidden in every glide.</param>
/// <param name="StandardErrorMps">Of that.</param>
/// <param name="Corrected">True where it was large and sure enough to be taken out of the altitudes.</param>
internal sealed record BarometerDrift(double RateMps, double StandardErrorMps, bool Corrected)
{
    private const double BlockS = 120;      // satellite altitude wanders for a minute or two: a block is one look at it
    private const int LeastBlocks = 6;
    private const double LeastRateMps = 8 / 3600.0; // weather changes pressure by about 1 hPa in an hour, 8 m; smaller is left alone
    private const double LeastSigns = 4;
    private const double WanderM = 4;       // of satellite altitude from block to block, where a log is too short to show it; common practice, no source

    /// <summary>Finds it; null where the log has no satellite altitude beside its barometer, or is too short to tell.</summary>
    public static BarometerDrift? Of(FlightLog log)
    {
        if (!log.Has(Quantity.GpsAltitude) || !log.Has(Quantity.Altitude))
        {
            return null;
        }
        ReadOnlySpan<double> time = log.TimeS, barometer = log[Quantity.Altitude], satellite = log[Quantity.GpsAltitude];
        List<(double TimeS, double Difference)> blocks = [];
        List<double> inside = [];
        double from = time.Length > 0 ? time[0] : 0;
        for (int i = 0; i <= time.Length; i++)
        {
            if (i == time.Length || time[i] - from > BlockS)
            {
                // A middle value: a fix that jumps and a receiver that lags through a launch do not move it.
                if (inside.Count >= 20)
                {
                    inside.Sort();
                    blocks.Add((from + BlockS / 2, inside[inside.Count / 2]));
                }
                inside.Clear();
                from = i < time.Length ? time[i] : from;
            }
            if (i < time.Length && !double.IsNaN(barometer[i]) && !double.IsNaN(satellite[i]))
            {
                inside.Add(barometer[i] - satellite[i]);
            }
        }
        return blocks.Count < LeastBlocks ? null : Line(blocks);
    }

    /// <summary>The altitudes with the drift taken out, from the log's beginning on.</summary>
    /// <param name="altitude">m, on an even grid.</param>
    /// <param name="startS">Of the grid, s from the log's earliest stamp.</param>
    /// <param name="stepS">s.</param>
    public void TakeFrom(double[] altitude, double startS, double stepS)
    {
        for (int i = 0; Corrected && i < altitude.Length; i++)
        {
            altitude[i] -= RateMps * (startS + i * stepS);
        }
    }

    private static BarometerDrift Line(List<(double TimeS, double Difference)> blocks)
    {
        double middle = blocks.Average(b => b.TimeS), level = blocks.Average(b => b.Difference);
        double spread = blocks.Sum(b => (b.TimeS - middle) * (b.TimeS - middle));
        double rate = blocks.Sum(b => (b.TimeS - middle) * (b.Difference - level)) / spread;
        double[] left = [.. blocks.Select(b => b.Difference - level - rate * (b.TimeS - middle))];
        // Neighbouring blocks wander together: with the correlation r of neighbours a line is (1 + r)/(1 − r) less sure. Few
        // blocks show little of either, so a usual wander stands beside them with the weight of six.
        double square = (left.Sum(x => x * x) + 6 * WanderM * WanderM) / (blocks.Count - 2 + 6);
        double neighbours = Math.Clamp(left.Skip(1).Zip(left, (a, b) => a * b).Sum() / Math.Max(left.Sum(x => x * x), 1e-9) + 1.0 / blocks.Count, 0, 0.8);
        double error = Math.Sqrt(square / spread * (1 + neighbours) / (1 - neighbours));
        return new BarometerDrift(rate, error, Math.Abs(rate) > LeastRateMps && Math.Abs(rate) > LeastSigns * error);
    }
}
