namespace ThermalTrace.Logs;

/// <summary>
/// Takes out what a frozen sensor went on writing: the same value for long, while the sensor usually changes or others say that
/// the model moved. The first row of a frozen stretch is kept: it was measured.
/// </summary>
internal static class StuckSensors
{
    private const int LeastRows = 8;
    private const double LeastS = 3;

    /// <summary>Without another witness a noisy sensor must repeat itself this long.</summary>
    private const int AloneRows = 20;
    private const double AloneS = 4;

    private const int LongestCounted = 1000;

    /// <summary>Share of rows that differ from the row before, above which a sensor is noisy enough to judge alone.</summary>
    private const double Noisy = 0.7;

    public static void Apply(RawLog log, double[] timeS, ProblemList problems)
    {
        Barometer(log, timeS, problems);
        Single(log, timeS, Quantity.ClimbRate, problems, (from, to) => Range(log, Quantity.Altitude, from, to) > 4 + Math.Abs(log.Columns[Quantity.ClimbRate][from]) * 1.5 * (timeS[to] - timeS[from]));
        Receiver(log, timeS, problems);
        Single(log, timeS, Quantity.GroundSpeed, problems, (_, _) => false);
        Single(log, timeS, Quantity.Airspeed, problems, (_, _) => false);
    }

    private static void Barometer(RawLog log, double[] timeS, ProblemList problems)
    {
        Quantity quantity = log.Columns.ContainsKey(Quantity.Altitude) ? Quantity.Altitude : Quantity.Pressure;
        if (!log.Columns.TryGetValue(quantity, out double[]? values))
        {
            return;
        }
        foreach ((int from, int to) in Runs(timeS, values))
        {
            bool climbed = Math.Abs(Climbed(log, timeS, from, to)) > 4;
            if (climbed || Moved(log, from, to) && (Range(log, Quantity.GpsAltitude, from, to) > 10 || Alone(values, timeS, from, to)))
            {
                TakeOut(log, [Quantity.Altitude, Quantity.Pressure], from, to, timeS, "the barometer", problems);
            }
        }
    }

    private static void Receiver(RawLog log, double[] timeS, ProblemList problems)
    {
        if (!log.Columns.TryGetValue(Quantity.Latitude, out double[]? latitude) || !log.Columns.TryGetValue(Quantity.Longitude, out double[]? longitude))
        {
            return;
        }
        double[] both = new double[latitude.Length];
        for (int i = 0; i < both.Length; i++)
        {
            // One number that changes when either coordinate does.
            both[i] = latitude[i] * 1024 + longitude[i];
        }
        foreach ((int from, int to) in Runs(timeS, both))
        {
            bool moved = Mean(log, Quantity.GroundSpeed, from, to) > 3 || Mean(log, Quantity.Airspeed, from, to) > 4 || Range(log, Quantity.Altitude, from, to) > 12;
            if (moved)
            {
                TakeOut(log, [Quantity.Latitude, Quantity.Longitude, Quantity.GpsAltitude, Quantity.GroundSpeed, Quantity.Track], from, to, timeS, "the GPS", problems);
            }
        }
    }

    private static void Single(RawLog log, double[] timeS, Quantity quantity, ProblemList problems, Func<int, int, bool> witnessed)
    {
        if (!log.Columns.TryGetValue(quantity, out double[]? values))
        {
            return;
        }
        foreach ((int from, int to) in Runs(timeS, values))
        {
            // Speeds of nothing are what a sensor with a dead band writes at rest.
            bool alone = Math.Abs(values[from]) > 2 && Alone(values, timeS, from, to);
            if (alone || witnessed(from, to))
            {
                TakeOut(log, [quantity], from, to, timeS, Quantities.WordsFor(quantity), problems);
            }
        }
    }

    /// <summary>Stretches of one value, first and last row, well longer than the sensor's usual repeats.</summary>
    private static List<(int From, int To)> Runs(double[] timeS, double[] values)
    {
        List<(int From, int To)> runs = [];
        int[] lengths = new int[LongestCounted + 1];
        int start = 0, all = 0;
        for (int i = 1; i <= values.Length; i++)
        {
            if (i < values.Length && values[i] == values[start])
            {
                continue;
            }
            int length = i - start;
            if (!double.IsNaN(values[start]))
            {
                lengths[Math.Min(length, LongestCounted)]++;
                all++;
                if (length >= LeastRows && timeS[i - 1] - timeS[start] >= LeastS)
                {
                    runs.Add((start, i - 1));
                }
            }
            start = i;
        }
        int usual = 0;
        for (int passed = 0; usual < LongestCounted && passed <= 0.8 * all; passed += lengths[usual])
        {
            usual++;
        }
        return runs.FindAll(r => r.To - r.From + 1 >= 4 * usual);
    }

    /// <summary>True unless the receiver says that the model stood still: at rest a barometer may well repeat itself.</summary>
    private static bool Moved(RawLog log, int from, int to)
    {
        const double degreesOf15M = 15 / 111_320.0;
        return log.Columns.ContainsKey(Quantity.GroundSpeed) ? Mean(log, Quantity.GroundSpeed, from, to) > 2
            : !log.Columns.ContainsKey(Quantity.Latitude) || Range(log, Quantity.Latitude, from, to) > degreesOf15M || Range(log, Quantity.Longitude, from, to) > degreesOf15M;
    }

    private static bool Alone(double[] values, double[] timeS, int from, int to)
    {
        if (to - from + 1 < AloneRows || timeS[to] - timeS[from] < AloneS)
        {
            return false;
        }
        int change = 0, outside = 0;
        for (int i = 1; i < values.Length; i++)
        {
            if ((i <= from || i > to) && !double.IsNaN(values[i]) && !double.IsNaN(values[i - 1]))
            {
                outside++;
                change += values[i] != values[i - 1] ? 1 : 0;
            }
        }
        return outside > 100 && change > Noisy * outside;
    }

    private static void TakeOut(RawLog log, Quantity[] quantities, int from, int to, double[] timeS, string who, ProblemList problems)
    {
        foreach (Quantity quantity in quantities)
        {
            if (log.Columns.TryGetValue(quantity, out double[]? values))
            {
                double frozen = values[from];
                for (int i = from + 1; i <= to; i++)
                {
                    values[i] = values[i] == frozen ? double.NaN : values[i];
                }
            }
        }
        problems.Add(log.Lines[from], $"{who} is stuck for {timeS[to] - timeS[from]:0.#} s ({Words.Count(to - from, "row")}); left out");
    }

    private static double Range(RawLog log, Quantity quantity, int from, int to)
    {
        if (!log.Columns.TryGetValue(quantity, out double[]? values))
        {
            return 0;
        }
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        for (int i = from; i <= to; i++)
        {
            low = values[i] < low ? values[i] : low;
            high = values[i] > high ? values[i] : high;
        }
        return high > low ? high - low : 0;
    }

    private static double Mean(RawLog log, Quantity quantity, int from, int to)
    {
        if (!log.Columns.TryGetValue(quantity, out double[]? values))
        {
            return 0;
        }
        double sum = 0;
        int n = 0;
        for (int i = from; i <= to; i++)
        {
            if (!double.IsNaN(values[i]))
            {
                sum += values[i];
                n++;
            }
        }
        return n > 0 ? sum / n : 0;
    }

    /// <summary>Height change that the variometer saw, m.</summary>
    private static double Climbed(RawLog log, double[] timeS, int from, int to)
    {
        if (!log.Columns.TryGetValue(Quantity.ClimbRate, out double[]? climb))
        {
            return 0;
        }
        double sum = 0, most = 0;
        for (int i = from + 1; i <= to; i++)
        {
            sum += double.IsNaN(climb[i]) ? 0 : climb[i] * (timeS[i] - timeS[i - 1]);
            most = Math.Abs(sum) > Math.Abs(most) ? sum : most;
        }
        return most;
    }
}
