namespace ThermalTrace.Logs;

/// <summary>Brings channels whose zero and sign differ from logger to logger into the one frame that the later stages expect.</summary>
internal static class SensorFrame
{
    private const double StandardGravityMps2 = Units.PhysicalConstants.StandardGravityMps2;

    public static void Apply(RawLog log, ProblemList problems)
    {
        Turn(log);
        Gravity(log, problems);
        Motor(log, problems);
    }

    /// <summary>Directions into 0 to 360 degrees.</summary>
    private static void Turn(RawLog log)
    {
        if (log.Columns.TryGetValue(Quantity.Track, out double[]? track))
        {
            for (int i = 0; i < track.Length; i++)
            {
                if (!(track[i] >= 0 && track[i] <= 360))
                {
                    double turned = Math.IEEERemainder(track[i], 360);
                    track[i] = turned < 0 ? turned + 360 : turned;
                }
            }
        }
    }

    /// <summary>A vertical accelerometer shows +g or −g at rest, or 0 where gravity is taken out already.</summary>
    private static void Gravity(RawLog log, ProblemList problems)
    {
        if (!log.Columns.TryGetValue(Quantity.VerticalAcceleration, out double[]? values))
        {
            return;
        }
        double[] finite = Array.FindAll(values, double.IsFinite);
        double median = finite.Length == 0 ? 0 : Median.Of(finite);
        // Half of g lies as far from "at rest" as from "gravity taken out".
        if (Math.Abs(median) < StandardGravityMps2 / 2)
        {
            return;
        }
        double sign = Math.Sign(median);
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = sign * values[i] - StandardGravityMps2;
        }
        LogChannel channel = log.Channels.Find(c => c.Quantity == Quantity.VerticalAcceleration)!;
        problems.Add(0, $"{ColumnPlan.ProblemText(channel.Column)} includes gravity{(sign < 0 ? " and counts downwards" : "")} (median {median:0.0} m/s²); gravity taken out, up is positive");
    }

    /// <summary>A motor channel is 0 when off: pulse widths and stick positions are moved and scaled to 0 to 1.</summary>
    private static void Motor(RawLog log, ProblemList problems)
    {
        if (!log.Columns.TryGetValue(Quantity.Motor, out double[]? values))
        {
            return;
        }
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (double v in values)
        {
            low = v < low ? v : low;
            high = v > high ? v : high;
        }
        (double off, double full, string what)? scale = (low, high) switch
        {
            // Servo pulses last 1 to 2 ms; transmitters log sticks as ±1024 or ±100.
            ( >= 850, <= 2200) when low <= 1250 => (Math.Max(low, 900), 2000, "pulse widths in µs"),
            ( < -900, >= -1100 and <= 1100) when low >= -1100 => (-1024, 1024, "stick positions of ±1024"),
            ( < -90, >= -110 and <= 110) when low >= -110 => (-100, 100, "stick positions of ±100"),
            _ => null,
        };
        if (scale is not (double off, double full, string what))
        {
            return;
        }
        for (int i = 0; i < values.Length; i++)
        {
            double share = (values[i] - off) / (full - off);
            // The last few per cent of a stick or pulse are trim, not thrust.
            values[i] = double.IsNaN(share) ? double.NaN : share < 0.05 ? 0 : Math.Min(share, 1);
        }
        LogChannel channel = log.Channels.Find(c => c.Quantity == Quantity.Motor)!;
        problems.Add(0, $"{ColumnPlan.ProblemText(channel.Column)} holds {what}; read as 0 (off) to 1");
    }
}
