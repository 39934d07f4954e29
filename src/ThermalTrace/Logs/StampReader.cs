namespace ThermalTrace.Logs;

/// <summary>How a log writes its stamps.</summary>
internal enum StampKind { Number, EpochNumber, Clock, CompactClock, DateTime }

/// <summary>
/// Reads the stamps of a log, decided on a sample of its rows: seconds, a clock with or without a date column, full
/// stamps, or a count since 1970. All become ticks of 100 ns, so that decimals stay exact.
/// </summary>
internal sealed class StampReader
{
    private const long HalfDayTicks = TimeSpan.TicksPerDay / 2;
    private readonly LogUnit _unit;
    private int _swappableDates, _sureDates;
    private readonly byte[] _lastDate = new byte[32];
    private int _lastDateLength = -1;
    private long _lastDayTicks;
    private long _previous = long.MinValue;
    private long _previousDate = long.MinValue;
    private long _rollover;

    private StampReader(StampKind kind, LogUnit unit, DateOrder order)
    {
        Kind = kind;
        _unit = unit;
        Order = order;
    }

    public StampKind Kind { get; }

    /// <summary>The unit of a numeric stamp, as it is reported.</summary>
    public string UnitText => Kind switch
    {
        StampKind.Number => _unit.Symbol,
        StampKind.EpochNumber => _unit.Symbol + " since 1970",
        StampKind.DateTime => "date and time",
        _ => "clock",
    };

    /// <summary>Order in which dates are being read; may turn once, see <see cref="Turned"/>.</summary>
    public DateOrder Order { get; private set; }

    /// <summary>True once a date could be read only the other way round, where none before was sure: those are to be swapped.</summary>
    public bool Turned { get; private set; }

    /// <summary>True where every date could be day or month first.</summary>
    public bool OrderUnsure => _swappableDates > 0 && _sureDates == 0;

    /// <summary>True where stamps carry a time of day.</summary>
    public bool HasClock => Kind != StampKind.Number;

    /// <summary>True where stamps carry a date, their own or a date column's.</summary>
    public bool HasDate { get; private set; }

    /// <summary>Zone of the first stamp that names one, minutes east of UTC.</summary>
    public int? OffsetMinutes { get; private set; }

    /// <summary>How often the clock passed midnight without a date to say so.</summary>
    public int Midnights { get; private set; }

    /// <summary>Decides how stamps are written; null where the sample is not understood.</summary>
    /// <param name="unit">The unit that the header or a note gives; null where it gives none.</param>
    /// <param name="sample">Stamps of the first rows.</param>
    /// <param name="dates">Date fields of the same rows; empty where there is no date column.</param>
    /// <param name="assumed">What was assumed about the unit; null where nothing had to be.</param>
    public static StampReader? Decide(LogUnit? unit, bool clockName, IReadOnlyList<byte[]> sample, IReadOnlyList<byte[]> dates, out string? assumed)
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
            return new StampReader(StampKind.DateTime, UnitWords.None, order) { HasDate = true };
        }
        if (clocks == most)
        {
            return new StampReader(StampKind.Clock, UnitWords.None, order) { HasDate = dates.Count > 0 };
        }
        if (compact == numbers && unit is null && (clockName || dates.Count > 0) && LooksCompact(values))
        {
            return new StampReader(StampKind.CompactClock, UnitWords.None, order) { HasDate = dates.Count > 0 };
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
                return new StampReader(StampKind.EpochNumber, epoch, order) { HasDate = true };
            }
        }
        if (unit is null)
        {
            unit = GuessUnit(values);
            assumed = unit.Symbol;
        }
        double first = values[0] * unit.Multiply / unit.Divide;
        return first is >= 9e8 and < 4.2e9
            ? new StampReader(StampKind.EpochNumber, unit, order) { HasDate = true }
            : new StampReader(StampKind.Number, unit, order);
    }

    /// <summary>Reads a stamp (with its date where there is a date column); ticks since year 1, midnight or power-on.</summary>
    public bool TryRead(ReadOnlySpan<byte> stamp, ReadOnlySpan<byte> date, out long ticks)
    {
        ticks = 0;
        int? offset = null;
        switch (Kind)
        {
            case StampKind.Number:
            case StampKind.EpochNumber:
                if (!NumberText.TryParse(stamp, out double value, out _))
                {
                    return false;
                }
                double inTicks = Math.Round(value * _unit.Multiply * (TimeSpan.TicksPerSecond / _unit.Divide));
                if (!(Math.Abs(inTicks) < 4e17))
                {
                    return false;
                }
                ticks = (long)inTicks + (Kind == StampKind.EpochNumber ? DateTime.UnixEpoch.Ticks : 0);
                OffsetMinutes ??= Kind == StampKind.EpochNumber ? 0 : null;
                return true;
            case StampKind.DateTime:
                stamp = NumberText.Trim(stamp);
                if (!TryReadFull(stamp, out ticks, out offset))
                {
                    return false;
                }
                break;
            default:
                stamp = NumberText.Trim(stamp);
                if (!(Kind == StampKind.Clock ? TimeText.TryClock(stamp, out ticks, out offset) : TimeText.TryCompactClock(stamp, out ticks)))
                {
                    return false;
                }
                if (HasDate)
                {
                    if (!TryDay(NumberText.Trim(date)))
                    {
                        return false;
                    }
                    ticks += _lastDayTicks;
                }
                ticks = Unwrap(ticks);
                break;
        }
        if (offset is int minutes)
        {
            OffsetMinutes ??= minutes;
            ticks += (OffsetMinutes.Value - minutes) * TimeSpan.TicksPerMinute;
        }
        return true;
    }

    private bool TryReadFull(ReadOnlySpan<byte> stamp, out long ticks, out int? offset)
    {
        // The usual ISO stamp: its first ten characters rarely change from one row to the next.
        if (stamp.Length > 11 && stamp[4] == '-' && stamp[10] is (byte)'T' or (byte)' ')
        {
            if (TryDay(stamp[..10]) && TimeText.TryClock(stamp[11..], out long clock, out offset))
            {
                ticks = _lastDayTicks + clock;
                return true;
            }
        }
        if (TimeText.TryDateTime(stamp, Order, out ticks, out offset, out bool swappable)
            || MayTurn && TimeText.TryDateTime(stamp, Other, out ticks, out offset, out swappable))
        {
            CountDate(swappable, TimeText.TryDateTime(stamp, Order, out _, out _, out _));
            return true;
        }
        return false;
    }

    private bool TryDay(ReadOnlySpan<byte> date)
    {
        if (_lastDateLength == date.Length && date.SequenceEqual(_lastDate.AsSpan(0, _lastDateLength)))
        {
            return true;
        }
        int days = 0;
        bool swappable = false;
        if (date.Length > _lastDate.Length || !TimeText.TryDate(date, Order, out days, out swappable) && !(MayTurn && TimeText.TryDate(date, Other, out days, out swappable)))
        {
            return false;
        }
        CountDate(swappable, TimeText.TryDate(date, Order, out _, out _));
        date.CopyTo(_lastDate);
        _lastDateLength = date.Length;
        _lastDayTicks = days * TimeSpan.TicksPerDay;
        return true;
    }

    private DateOrder Other => Order == DateOrder.DayMonthYear ? DateOrder.MonthDayYear : DateOrder.DayMonthYear;

    private bool MayTurn => _sureDates == 0;

    private void CountDate(bool swappable, bool inOrder)
    {
        if (!inOrder)
        {
            Order = Other;
            Turned = _swappableDates > 0;
            _previous = long.MinValue;
            _rollover = 0;
        }
        _swappableDates += swappable ? 1 : 0;
        _sureDates += swappable ? 0 : 1;
    }

    /// <summary>A clock that falls by more than half a day has passed midnight; a date column may say so late or never.</summary>
    private long Unwrap(long ticks)
    {
        long date = HasDate ? _lastDayTicks : 0;
        if (_previous != long.MinValue)
        {
            if (_rollover > 0 && date > _previousDate)
            {
                _rollover = Math.Max(0, _rollover - (date - _previousDate));
            }
            if (ticks + _rollover < _previous - HalfDayTicks)
            {
                _rollover += TimeSpan.TicksPerDay;
                Midnights++;
            }
        }
        _previousDate = date;
        _previous = ticks + _rollover;
        return _previous;
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
