namespace ThermalTrace.Logs;

/// <summary>
/// Takes out values that no model can have flown: outside the sensor's range, or departing from their neighbours and back faster than
/// any glider moves. A step that stays is left alone.
/// </summary>
internal static class SpikeRepair
{
    /// <summary>A spike is over within this many rows and this time.</summary>
    private const int MostRows = 5;
    private const double MostS = 5;

    /// <summary>What a quantity can do.</summary>
    /// <param name="Low">Smallest possible value.</param>
    /// <param name="High">Largest possible value.</param>
    /// <param name="Floor">Departures smaller than this are noise.</param>
    /// <param name="Rate">Fastest change, per second.</param>
    /// <param name="Curve">Fastest change of that, per second squared.</param>
    private sealed record Bounds(double Low, double High, double Floor, double Rate, double Curve);

    // Rates: a steep dive or launch at 40 m/s, 15 g in a pull-up or throw. Ranges: the troposphere and the sensors' own.
    private static Bounds? For(Quantity quantity) => quantity switch
    {
        Quantity.Altitude => new(-600, 15_000, 3, 40, 150),
        Quantity.GpsAltitude => new(-600, 15_000, 8, 40, 150),
        Quantity.Pressure => new(10_000, 112_000, 36, 480, 1800),
        Quantity.ClimbRate => new(-100, 100, 5, 60, double.PositiveInfinity),
        Quantity.GroundSpeed => new(0, 200, 8, 80, double.PositiveInfinity),
        Quantity.Airspeed => new(-20, 200, 8, 80, double.PositiveInfinity),
        Quantity.Temperature => new(200, 345, 5, 5, double.PositiveInfinity),
        Quantity.VerticalAcceleration or Quantity.Acceleration => new(-2000, 2000, double.PositiveInfinity, 0, 0),
        Quantity.Latitude => new(-90, 90, double.PositiveInfinity, 0, 0),
        Quantity.Longitude => new(-180, 180, double.PositiveInfinity, 0, 0),
        _ => null,
    };

    // 20 m: a receiver's usual wander under trees.
    private static readonly Bounds Position = new(double.NegativeInfinity, double.PositiveInfinity, 20, 80, 200);

    public static void Apply(RawLog log, double[] timeS, ProblemList problems)
    {
        Quantity[] quantities = [.. log.Columns.Keys.Where(q => For(q) is not null)];
        foreach (Quantity quantity in quantities)
        {
            OutOfRange(log.Columns[quantity], For(quantity)!, log, quantity, problems);
        }
        // Each column is searched for itself; what is found is taken out and told in the columns' order.
        List<int>[] found = new List<int>[quantities.Length + 1];
        Parallel.For(0, found.Length, k =>
        {
            found[k] = k == quantities.Length ? FindJumps(log, timeS)
                : double.IsFinite(For(quantities[k])!.Floor) ? Find(timeS, log.Columns[quantities[k]], null, For(quantities[k])!) : [];
        });
        for (int k = 0; k < quantities.Length; k++)
        {
            TakeOut(log, found[k], quantities[k], NameOf(log, quantities[k]), [quantities[k]], problems);
        }
        TakeOut(log, found[^1], Quantity.Position, "position", [Quantity.Latitude, Quantity.Longitude], problems);
    }

    /// <summary>Rows whose position is a jump away and back.</summary>
    private static List<int> FindJumps(RawLog log, double[] timeS)
    {
        if (!log.Columns.TryGetValue(Quantity.Latitude, out double[]? latitude) || !log.Columns.TryGetValue(Quantity.Longitude, out double[]? longitude)
            || Array.FindIndex(latitude, double.IsFinite) is not (>= 0 and int first))
        {
            return [];
        }
        double cos = Math.Cos(latitude[first] * Math.PI / 180);
        double[] north = Array.ConvertAll(latitude, v => (v - latitude[first]) * MetresPerDegree);
        double[] east = Array.ConvertAll(longitude, v => ShortWay(v - longitude[first]) * MetresPerDegree * cos);
        return Find(timeS, north, east, Position);
    }

    /// <summary>A difference of longitudes, across the date line if that is shorter.</summary>
    private static double ShortWay(double degrees) => degrees > 180 ? degrees - 360 : degrees < -180 ? degrees + 360 : degrees;

    private static void TakeOut(RawLog log, List<int> rows, Quantity quantity, string column, Quantity[] from, ProblemList problems)
    {
        foreach (int i in rows)
        {
            problems.Count(ProblemKind.Spike, (int)quantity, log.Lines[i], default,
                (_, n) => $"{column}: {Words.Count(n, "value")} far from the rows before and after, out and back faster than a model can; left out");
            foreach (Quantity q in from)
            {
                log.Columns[q][i] = double.NaN;
            }
        }
    }

    /// <summary>Near enough to judge a jump by.</summary>
    private const double MetresPerDegree = 111_320;

    private static string NameOf(RawLog log, Quantity quantity) =>
        ColumnPlan.ProblemText(log.Channels.Find(c => c.Quantity == quantity)?.Column ?? Quantities.WordsFor(quantity));

    private static void OutOfRange(double[] values, Bounds bounds, RawLog log, Quantity quantity, ProblemList problems)
    {
        string column = NameOf(log, quantity);
        for (int i = 0; i < values.Length; i++)
        {
            if (values[i] < bounds.Low || values[i] > bounds.High)
            {
                problems.Count(ProblemKind.OutOfRange, (int)quantity, log.Lines[i], System.Text.Encoding.ASCII.GetBytes(values[i].ToString("G6", System.Globalization.CultureInfo.InvariantCulture)),
                    (example, n) => $"{column}: {Words.Count(n, "value")} no {Quantities.WordsFor(quantity)} can have (the first is {example} in SI); left out");
                values[i] = double.NaN;
            }
        }
    }

    /// <summary>Rows that depart from the line between the good rows around them, and return.</summary>
    private static List<int> Find(double[] timeS, double[] x, double[]? y, Bounds bounds)
    {
        List<int> spikes = [];
        double floor = Math.Max(bounds.Floor, 10 * NoiseOf(x));
        int before = -1;
        for (int i = 0; i < x.Length; i++)
        {
            if (double.IsNaN(x[i]))
            {
                continue;
            }
            if (before < 0 || !(Distance(x, y, i, before) > floor) || timeS[i] - timeS[before] > MostS)
            {
                before = i;
                continue;
            }
            int back = Return(timeS, x, y, bounds, floor, before, i);
            if (back < 0)
            {
                before = i;
                continue;
            }
            for (int k = i; k < back; k++)
            {
                if (!double.IsNaN(x[k]))
                {
                    spikes.Add(k);
                }
            }
            before = back;
            i = back;
        }
        AddFirst(timeS, x, y, bounds, floor, spikes);
        return spikes;
    }

    /// <summary>The first row after <paramref name="from"/> that fits the last good one, where all between do not; else −1.</summary>
    private static int Return(double[] timeS, double[] x, double[]? y, Bounds bounds, double floor, int before, int from)
    {
        int seen = 0, last = from;
        for (int j = from + 1; j < x.Length && seen < MostRows && timeS[j] - timeS[before] < MostS; j++)
        {
            if (double.IsNaN(x[j]))
            {
                continue;
            }
            seen++;
            last = j;
            double span = timeS[j] - timeS[before];
            double home = Distance(x, y, j, before);
            if (home > Math.Max(floor, bounds.Rate * span))
            {
                continue;
            }
            bool all = true;
            for (int k = from; k < j && all; k++)
            {
                double share = (timeS[k] - timeS[before]) / span;
                double dx = x[k] - (x[before] + share * (x[j] - x[before]));
                double dy = y is null ? 0 : y[k] - (y[before] + share * (y[j] - y[before]));
                double away = Math.Sqrt(dx * dx + dy * dy);
                double near = Math.Min(timeS[k] - timeS[before], timeS[j] - timeS[k]);
                all = double.IsNaN(x[k]) || away > Math.Max(Math.Max(floor, 2 * home), Math.Min(bounds.Curve * near * near / 2, bounds.Rate * near));
            }
            if (all)
            {
                return j;
            }
        }
        // The very last row has nothing to return to: only the grossly impossible goes.
        bool isLast = last == from && from == x.Length - 1;
        double step = timeS[from] - timeS[before];
        return isLast && Distance(x, y, from, before) > Math.Max(10 * floor, 2 * bounds.Rate * step) ? x.Length : -1;
    }

    /// <summary>The first row can only be judged by those after it.</summary>
    private static void AddFirst(double[] timeS, double[] x, double[]? y, Bounds bounds, double floor, List<int> spikes)
    {
        int[] rows = [.. Enumerable.Range(0, Math.Min(x.Length, 50)).Where(i => !double.IsNaN(x[i])).Take(4)];
        if (rows.Length < 4 || timeS[rows[3]] - timeS[rows[0]] > MostS || spikes.Contains(rows[1]))
        {
            return;
        }
        double jump = Distance(x, y, rows[0], rows[1]), calm = Distance(x, y, rows[1], rows[3]);
        if (jump > Math.Max(10 * floor, 2 * bounds.Rate * (timeS[rows[1]] - timeS[rows[0]])) && calm < jump / 4)
        {
            spikes.Insert(0, rows[0]);
        }
    }

    private static double Distance(double[] x, double[]? y, int i, int j)
    {
        double dx = x[i] - x[j];
        if (y is null)
        {
            return Math.Abs(dx);
        }
        double dy = y[i] - y[j];
        return Math.Sqrt(dx * dx + dy * dy);
    }

    /// <summary>Standard deviation of the noise from row to row, by the median of second differences (6 = 1 + 4 + 1).</summary>
    private static double NoiseOf(double[] x)
    {
        const int most = 5000;
        int stride = Math.Max(1, x.Length / most);
        List<double> seconds = [];
        for (int i = 1; i + 1 < x.Length; i += stride)
        {
            double d = x[i - 1] - 2 * x[i] + x[i + 1];
            if (!double.IsNaN(d))
            {
                seconds.Add(Math.Abs(d));
            }
        }
        if (seconds.Count == 0)
        {
            return 0;
        }
        seconds.Sort();
        return seconds[seconds.Count / 2] / 0.6745 / Math.Sqrt(6);
    }
}
