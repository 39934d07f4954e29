namespace ThermalTrace.Logs;

/// <summary>
/// Reads stamps of a decided format. All become ticks of 100 ns, so that decimals stay exact: since year 1, since midnight or
/// since power-on, as the stamps have it. Stamps with a zone become UTC.
/// </summary>
internal sealed class StampReader(StampFormat format)
{
    private readonly double _ticksPerUnit = TimeSpan.TicksPerSecond / format.Unit.Divide * format.Unit.Multiply;
    private readonly byte[] _lastDate = new byte[32];
    private int _lastDateLength = -1;
    private long _lastDayTicks;

    /// <summary>What the dates told about the order of their parts.</summary>
    public DateCounts Dates { get; } = new();

    /// <summary>Zone of the first stamp that names one, minutes east of UTC.</summary>
    public int? OffsetMinutes { get; private set; }

    /// <summary>Reads a stamp, with its date where there is a date column.</summary>
    public bool TryRead(ReadOnlySpan<byte> stamp, ReadOnlySpan<byte> date, out long ticks)
    {
        ticks = 0;
        int? offset = null;
        switch (format.Kind)
        {
            case StampKind.Number:
            case StampKind.EpochNumber:
                if (!NumberText.TryParse(stamp, out double value, out _))
                {
                    return false;
                }
                double inTicks = Math.Round(value * _ticksPerUnit);
                if (!(Math.Abs(inTicks) < 4e17))
                {
                    return false;
                }
                ticks = (long)inTicks + (format.Kind == StampKind.EpochNumber ? DateTime.UnixEpoch.Ticks : 0);
                return true;
            case StampKind.DateTime:
                if (!TryReadFull(NumberText.Trim(stamp), out ticks, out offset))
                {
                    return false;
                }
                break;
            default:
                stamp = NumberText.Trim(stamp);
                if (!(format.Kind == StampKind.Clock ? TimeText.TryClock(stamp, out ticks, out offset) : TimeText.TryCompactClock(stamp, out ticks)))
                {
                    return false;
                }
                if (format.HasDate)
                {
                    if (!TryDay(NumberText.Trim(date)))
                    {
                        return false;
                    }
                    ticks += _lastDayTicks;
                }
                break;
        }
        if (offset is int minutes)
        {
            OffsetMinutes ??= minutes;
            ticks -= minutes * TimeSpan.TicksPerMinute;
        }
        return true;
    }

    private bool TryReadFull(ReadOnlySpan<byte> stamp, out long ticks, out int? offset)
    {
        // The usual ISO stamp: its first ten characters rarely change from one row to the next.
        if (stamp.Length > 11 && stamp[4] == '-' && stamp[10] is (byte)'T' or (byte)' ' && TryDay(stamp[..10]) && TimeText.TryClock(stamp[11..], out long clock, out offset))
        {
            ticks = _lastDayTicks + clock;
            return true;
        }
        if (TimeText.TryDateTime(stamp, format.Order, out ticks, out offset, out bool swappable))
        {
            Dates.Count(swappable, inOrder: true);
            return true;
        }
        if (TimeText.TryDateTime(stamp, Other, out ticks, out offset, out swappable))
        {
            Dates.Count(swappable, inOrder: false);
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
        if (date.Length > _lastDate.Length)
        {
            return false;
        }
        bool inOrder = TimeText.TryDate(date, format.Order, out int days, out bool swappable);
        if (!inOrder && !TimeText.TryDate(date, Other, out days, out swappable))
        {
            return false;
        }
        Dates.Count(swappable, inOrder);
        date.CopyTo(_lastDate);
        _lastDateLength = date.Length;
        _lastDayTicks = days * TimeSpan.TicksPerDay;
        return true;
    }

    private DateOrder Other => format.Order == DateOrder.DayMonthYear ? DateOrder.MonthDayYear : DateOrder.DayMonthYear;
}

/// <summary>What the dates of a log tell about the order of day and month.</summary>
internal sealed class DateCounts
{
    /// <summary>Dates that are one in either order.</summary>
    public int Swappable { get; private set; }

    /// <summary>Dates that are one only in the order assumed.</summary>
    public int InOrder { get; private set; }

    /// <summary>Dates that are one only in the other order.</summary>
    public int Turned { get; private set; }

    public void Count(bool swappable, bool inOrder)
    {
        Swappable += swappable ? 1 : 0;
        InOrder += !swappable && inOrder ? 1 : 0;
        Turned += !swappable && !inOrder ? 1 : 0;
    }

    public void Add(DateCounts other)
    {
        Swappable += other.Swappable;
        InOrder += other.InOrder;
        Turned += other.Turned;
    }
}
