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
    private const double VeryNoisy = 0.9;

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
        Frozen frozen = new("the barometer", [Quantity.Altitude, Quantity.Pressure]);
        foreach ((int from, int to) in Runs(timeS, values))
        {
            bool climbed = Math.Abs(Climbed(log, timeS, from, to)) > 4;
            bool receiver = log.Columns.ContainsKey(Quantity.GroundSpeed) || log.Columns.ContainsKey(Quantity.Latitude);
            if (climbed || Moved(log, from, to) && (Range(log, Quantity.GpsAltitude, from, to) > 10 || Alone(values, timeS, from, to, atRestToo: !receiver)))
            {
                frozen.TakeOut(log, timeS, from, to);
            }
        }
        frozen.Report(problems);
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
        Frozen frozen = new("the GPS", [Quantity.Latitude, Quantity.Longitude, Quantity.GpsAltitude, Quantity.GroundSpeed, Quantity.Track]);
        foreach ((int from, int to) in Runs(timeS, both))
        {
            bool moved = Mean(log, Quantity.GroundSpeed, from, to) > 3 || Mean(log, Quantity.Airspeed, from, to) > 4 || Range(log, Quantity.Altitude, from, to) > 12;
            if (moved)
            {
                frozen.TakeOut(log, timeS, from, to);
            }
        }
        frozen.Report(problems);
    }

    private static void Single(RawLog log, double[] timeS, Quantity quantity, ProblemList problems, Func<int, int, bool> witnessed)
    {
        if (!log.Columns.TryGetValue(quantity, out double[]? values))
        {
            return;
        }
        Frozen frozen = new(Quantities.WordsFor(quantity), [quantity]);
        foreach ((int from, int to) in Runs(timeS, values))
        {
            // Speeds of nothing are what a sensor with a dead band writes at rest.
            bool alone = Math.Abs(values[from]) > 2 && Alone(values, timeS, from, to);
            if (alone || witnessed(from, to))
            {
                frozen.TakeOut(log, timeS, from, to);
            }
        }
        frozen.Report(problems);
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

    /// <summary>True where the sensor's own noise says that it is stuck.</summary>
    /// <param name="atRestToo">True where nothing tells rest from flight: at rest a filtered sensor repeats itself for longer.</param>
    private static bool Alone(double[] values, double[] timeS, int from, int to, bool atRestToo = false)
    {
        int longer = atRestToo ? 3 : 1;
        if (to - from + 1 < longer * AloneRows || timeS[to] - timeS[from] < longer * AloneS)
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
        return outside > 100 && change > (atRestToo ? VeryNoisy : Noisy) * outside;
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

    /// <summary>What one sensor wrote while frozen.</summary>
    private sealed class Frozen(string who, Quantity[] quantities)
    {
        private int _count, _rows, _line;
        private double _seconds;

        public void TakeOut(RawLog log, double[] timeS, int from, int to)
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
            _line = _count++ == 0 ? log.Lines[from] : _line;
            _rows += to - from;
            _seconds += timeS[to] - timeS[from];
        }

        public void Report(ProblemList problems)
        {
            if (_count > 0)
            {
                string times = _count == 1 ? $"for {_seconds:0.#} s ({Words.Count(_rows, "row")})" : $"{_count:N0} times, {_seconds:0.#} s and {Words.Count(_rows, "row")} in all";
                problems.Add(_line, $"{who} is stuck {times}; left out");
            }
        }
    }
}
