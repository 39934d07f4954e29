namespace ThermalTrace.Logs;

/// <summary>How a log writes its stamps.</summary>
internal enum StampKind { Number, EpochNumber, Clock, CompactClock, DateTime }

/// <summary>
/// How the stamps of a log are written, decided on a sample of its rows: seconds, a clock with or without a date column, full
/// stamps, or a count since 1970.
/// </summary>
/// <param name="Kind">The kind.</param>
/// <param name="Unit">Unit of a numeric stamp.</param>
/// <param name="Order">Order of a date's parts, as far as the sample tells.</param>
/// <param name="HasDate">True where stamps carry a date, their own or a date column's.</param>
internal sealed record StampFormat(StampKind Kind, LogUnit Unit, DateOrder Order, bool HasDate)
{
    /// <summary>The unit of the stamps, as it is reported.</summary>
    public string UnitText => Kind switch
    {
        StampKind.Number => Unit.Symbol,
        StampKind.EpochNumber => Unit.Symbol + " since 1970",
        StampKind.DateTime => "date and time",
        _ => "clock",
    };

    /// <summary>True where stamps carry a time of day.</summary>
    public bool HasClock => Kind != StampKind.Number;

    /// <summary>Decides how stamps are written; null where the sample is not understood.</summary>
    /// <param name="unit">The unit that the header or a note gives; null where it gives none.</param>
    /// <param name="sample">Stamps of the first rows.</param>
    /// <param name="dates">Date fields of the same rows; empty where there is no date column.</param>
    /// <param name="assumed">What was assumed about the unit; null where nothing had to be.</param>
    public static StampFormat? Decide(LogUnit? unit, bool clockName, IReadOnlyList<byte[]> sample, IReadOnlyList<byte[]> dates, out string? assumed)
    {
        assumed = null;
        DateOrder order = OrderOf(dates.Count > 0 ? dates : sample);
        int numbers = 0, clocks = 0, full = 0, compact = 0, any = 0;
        List<double> values = [];
        foreach (byte[] field in sample)
        {
            ReadOnlySpan<byte> text = NumberText.Trim(field);
            if (NumberText.IsMissing(text))
            {
                continue;
            }
            any++;
            if (NumberText.TryParse(text, out double v, out _))
            {
                numbers++;
                values.Add(v);
            }
            clocks += TimeText.TryClock(text, out _, out _) ? 1 : 0;
            full += TimeText.TryDateTime(text, order, out _, out _, out _) ? 1 : 0;
            compact += TimeText.TryCompactClock(text, out _) ? 1 : 0;
        }
        if (any == 0)
        {
            return null;
        }
        int most = Math.Max(numbers, Math.Max(clocks, full));
        // Rubbish among the first rows must not hide the rest; it is skipped and counted when read.
        if (most < 0.3 * any)
        {
            return null;
        }
        if (full == most)
        {
            return new StampFormat(StampKind.DateTime, UnitWords.None, order, true);
        }
        if (clocks == most)
        {
            return new StampFormat(StampKind.Clock, UnitWords.None, order, dates.Count > 0);
        }
        if (compact == numbers && unit is null && (clockName || dates.Count > 0) && LooksCompact(values))
        {
            return new StampFormat(StampKind.CompactClock, UnitWords.None, order, dates.Count > 0);
        }
        double largest = values.Max(Math.Abs);
        // From 2001 to 2100 the seconds since 1970 lie between 1e9 and 4.1e9; no power-on clock counts so far.
        if (unit is null || unit == UnitWords.Second && largest > 4e9)
        {
            LogUnit? epoch = largest switch
            {
                >= 9e8 and < 4.2e9 => UnitWords.Second,
                >= 9e11 and < 4.2e12 => UnitWords.Millisecond,
                >= 9e14 and < 4.2e15 => UnitWords.Microsecond,
                >= 9e17 and < 4.2e18 => UnitWords.Find("ns", Dimension.Time),
                _ => null,
            };
            if (epoch is not null)
            {
                return new StampFormat(StampKind.EpochNumber, epoch, order, true);
            }
        }
        if (unit is null)
        {
            unit = GuessUnit(values);
            assumed = unit.Symbol;
        }
        double first = values[0] * unit.Multiply / unit.Divide;
        return first is >= 9e8 and < 4.2e9
            ? new StampFormat(StampKind.EpochNumber, unit, order, true)
            : new StampFormat(StampKind.Number, unit, order, false);
    }

    private static DateOrder OrderOf(IReadOnlyList<byte[]> sample)
    {
        int dayFirst = 0, monthFirst = 0;
        foreach (byte[] field in sample)
        {
            ReadOnlySpan<byte> text = NumberText.Trim(field);
            int cut = text.IndexOfAny((byte)' ', (byte)'T');
            text = cut >= 6 ? text[..cut] : text;
            dayFirst += TimeText.TryDate(text, DateOrder.DayMonthYear, out _, out _) ? 1 : 0;
            monthFirst += TimeText.TryDate(text, DateOrder.MonthDayYear, out _, out _) ? 1 : 0;
        }
        return monthFirst > dayFirst ? DateOrder.MonthDayYear : DateOrder.DayMonthYear;
    }

    /// <summary>True where numbers behave like hhmmss: never 60 to 99 in the last four digits, and steps of a clock.</summary>
    private static bool LooksCompact(List<double> values) =>
        values.TrueForAll(v => v >= 0 && v < 240000 && v % 100 < 61 && Math.Floor(v / 100) % 100 < 60) && values[0] >= 1000;

    /// <summary>Milliseconds where whole numbers step by more than a second would, else seconds.</summary>
    private static LogUnit GuessUnit(List<double> values)
    {
        List<double> steps = [];
        for (int i = 1; i < values.Count; i++)
        {
            if (values[i] > values[i - 1])
            {
                steps.Add(values[i] - values[i - 1]);
            }
        }
        if (steps.Count == 0)
        {
            return UnitWords.Second;
        }
        steps.Sort();
        double step = steps[steps.Count / 2];
        bool whole = values.TrueForAll(v => v == Math.Floor(v));
        return whole && step >= 20_000 ? UnitWords.Microsecond : whole && step >= 20 ? UnitWords.Millisecond : UnitWords.Second;
    }
}
