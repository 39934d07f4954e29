namespace ThermalTrace.Logs;

/// <summary>A log as read and before repair: rows in file order, values in SI, NaN where missing.</summary>
internal sealed class RawLog
{
    /// <summary>Stamps in ticks of 100 ns from <see cref="BaseTicks"/>; whole numbers, so differences are exact.</summary>
    public required double[] Ticks { get; set; }

    /// <summary>Ticks of the first row: since year 1, since midnight or since power-on, as the stamps have it.</summary>
    public required long BaseTicks { get; init; }

    /// <summary>Line of each row, counted from 1.</summary>
    public required int[] Lines { get; set; }

    public required Dictionary<Quantity, double[]> Columns { get; init; }

    public required List<LogChannel> Channels { get; init; }

    public IReadOnlyList<string> CamberLabels { get; init; } = [];

    /// <summary>True where the stamps carry a time of day.</summary>
    public bool HasClock { get; init; }

    /// <summary>True where the stamps carry a date.</summary>
    public bool HasDate { get; init; }

    /// <summary>Minutes east of UTC, where the log says.</summary>
    public int? OffsetMinutes { get; init; }

    /// <summary>Lines at which the clock began anew; the pause before them is assumed, not logged.</summary>
    public HashSet<int> Restarts { get; } = [];

    public int Rows => Ticks.Length;

    /// <summary>Keeps these rows, in this order.</summary>
    public void Take(int[] order)
    {
        Ticks = Pick(Ticks, order);
        Lines = Pick(Lines, order);
        foreach (Quantity quantity in Columns.Keys.ToArray())
        {
            Columns[quantity] = Pick(Columns[quantity], order);
        }
    }

    private static T[] Pick<T>(T[] values, int[] order)
    {
        T[] picked = new T[order.Length];
        for (int i = 0; i < order.Length; i++)
        {
            picked[i] = values[order[i]];
        }
        return picked;
    }
}
