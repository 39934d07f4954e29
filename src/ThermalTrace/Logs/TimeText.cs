using System.Buffers;
using System.Buffers.Text;

namespace ThermalTrace.Logs;

/// <summary>Order of the parts of a written date.</summary>
internal enum DateOrder { DayMonthYear, MonthDayYear }

/// <summary>Clocks and dates as logs write them, read from UTF-8; times in ticks of 100 ns, as <see cref="DateTime"/> has them.</summary>
internal static class TimeText
{
    private static readonly SearchValues<byte> Letters = SearchValues.Create("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"u8);
    private static readonly string[] Months = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

    /// <summary>Reads <c>hh:mm</c>, <c>hh:mm:ss</c> or <c>hh:mm:ss.fff</c>, with am or pm and a zone where there is one.</summary>
    /// <param name="ticks">Ticks after midnight (above a day for an elapsed time).</param>
    /// <param name="offsetMinutes">Zone east of UTC; null where none is written.</param>
    public static bool TryClock(ReadOnlySpan<byte> text, out long ticks, out int? offsetMinutes)
    {
        ticks = 0;
        offsetMinutes = null;
        if (!TryInt(ref text, 3, out int first) || text.Length < 3 || text[0] != ':')
        {
            return false;
        }
        text = text[1..];
        if (!TryInt(ref text, 2, out int second) || second > 59)
        {
            return false;
        }
        int hours = first, minutes = second, seconds = 0;
        if (text.Length > 0 && text[0] == ':')
        {
            text = text[1..];
            if (!TryInt(ref text, 2, out seconds) || seconds > 60)
            {
                return false;
            }
        }
        else if (text.Length > 0 && text[0] is (byte)'.' or (byte)',')
        {
            // Two parts and a fraction can only be minutes and seconds.
            (hours, minutes, seconds) = (0, first, second);
        }
        long fraction = 0;
        if (text.Length > 0 && text[0] is (byte)'.' or (byte)',' or (byte)':')
        {
            text = text[1..];
            long unit = TimeSpan.TicksPerSecond;
            int digits = 0;
            while (text.Length > 0 && (uint)(text[0] - '0') <= 9)
            {
                unit /= 10;
                fraction += unit * (text[0] - '0');
                text = text[1..];
                digits++;
            }
            if (digits == 0)
            {
                return false;
            }
        }
        if (text.Length > 0 && !TryTail(text, ref hours, out offsetMinutes))
        {
            return false;
        }
        ticks = ((hours * 60L + minutes) * 60 + seconds) * TimeSpan.TicksPerSecond + fraction;
        return true;
    }

    /// <summary>Reads a clock written without colons: <c>hhmmss</c> or <c>hhmmss.fff</c>, as satellite receivers do.</summary>
    public static bool TryCompactClock(ReadOnlySpan<byte> text, out long ticks)
    {
        ticks = 0;
        int point = text.IndexOfAny((byte)'.', (byte)',');
        int whole = point < 0 ? text.Length : point;
        if (whole is < 5 or > 6 || !Utf8Parser.TryParse(text[..whole], out int number, out int used) || used != whole || number < 0)
        {
            return false;
        }
        int hours = number / 10000, minutes = number / 100 % 100, seconds = number % 100;
        if (hours > 23 || minutes > 59 || seconds > 60)
        {
            return false;
        }
        long fraction = 0, unit = TimeSpan.TicksPerSecond;
        for (int i = whole + 1; i < text.Length; i++)
        {
            if ((uint)(text[i] - '0') > 9)
            {
                return false;
            }
            unit /= 10;
            fraction += unit * (text[i] - '0');
        }
        ticks = ((hours * 60L + minutes) * 60 + seconds) * TimeSpan.TicksPerSecond + fraction;
        return true;
    }

    /// <summary>Reads a date; <paramref name="order"/> decides where the parts are numbers with the year last.</summary>
    /// <param name="days">Days since 0001-01-01.</param>
    /// <param name="swappable">True where day and month could change places.</param>
    public static bool TryDate(ReadOnlySpan<byte> text, DateOrder order, out int days, out bool swappable)
    {
        days = 0;
        swappable = false;
        if (text.Length is < 6 or > 20)
        {
            return false;
        }
        if (text.IndexOfAnyExceptInRange((byte)'0', (byte)'9') < 0)
        {
            return TryCompactDate(text, out days);
        }
        Span<int> parts = stackalloc int[3];
        Span<int> lengths = stackalloc int[3];
        int count = 0, named = -1;
        // With points the day comes first wherever that is written; slashes and dashes are used both ways.
        bool points = text.Contains((byte)'.');
        while (text.Length > 0 && count < 3)
        {
            int start = text.Length;
            if (TryInt(ref text, 4, out int number))
            {
                parts[count] = number;
            }
            else if (text.Length >= 3 && MonthOf(text[..3]) is > 0 and int month)
            {
                parts[count] = month;
                named = count;
                text = text[text.IndexOfAnyExcept(Letters) is >= 0 and int end ? end.. : text.Length..];
            }
            else
            {
                return false;
            }
            lengths[count++] = start - text.Length;
            while (text.Length > 0 && text[0] is (byte)'-' or (byte)'/' or (byte)'.' or (byte)' ' or (byte)',')
            {
                text = text[1..];
            }
        }
        if (count != 3 || text.Length > 0)
        {
            return false;
        }
        if (lengths[0] == 4)
        {
            return TryDays(parts[0], parts[1], parts[2], out days);
        }
        int year = lengths[2] == 4 ? parts[2] : 2000 + parts[2];
        if (named >= 0)
        {
            return named == 1 ? TryDays(year, parts[1], parts[0], out days) : named == 0 && TryDays(year, parts[0], parts[1], out days);
        }
        swappable = !points && parts[0] <= 12 && parts[1] <= 12 && parts[0] != parts[1];
        return order == DateOrder.DayMonthYear ? TryDays(year, parts[1], parts[0], out days) : TryDays(year, parts[0], parts[1], out days);
    }

    /// <summary>Reads date, then <c>T</c> or space, then clock.</summary>
    public static bool TryDateTime(ReadOnlySpan<byte> text, DateOrder order, out long ticks, out int? offsetMinutes, out bool swappable)
    {
        ticks = 0;
        offsetMinutes = null;
        swappable = false;
        int colon = text.IndexOf((byte)':');
        if (colon < 8)
        {
            return false;
        }
        int cut = text[..colon].LastIndexOfAny((byte)'T', (byte)'t', (byte)' ');
        if (cut < 6)
        {
            // dd.mm.yyyy-hh:mm:ss and dd.mm.yyyy,hh:mm:ss are seen too.
            cut = text[..colon].LastIndexOfAny((byte)'-', (byte)',', (byte)'_');
        }
        if (cut < 6 || !TryDate(text[..cut].TrimEnd(", "u8), order, out int days, out swappable)
            || !TryClock(text[(cut + 1)..].TrimStart((byte)' '), out long clock, out offsetMinutes))
        {
            return false;
        }
        ticks = days * TimeSpan.TicksPerDay + clock;
        return true;
    }

    /// <summary>The same instant with day and month read the other way round, where that is a date.</summary>
    public static bool TrySwapDayAndMonth(long ticks, out long swapped)
    {
        DateTime t = new(ticks);
        swapped = ticks;
        if (t.Day > 12)
        {
            return false;
        }
        swapped = new DateTime(t.Year, t.Day, t.Month).Ticks + ticks % TimeSpan.TicksPerDay;
        return true;
    }

    private static bool TryTail(ReadOnlySpan<byte> text, ref int hours, out int? offsetMinutes)
    {
        offsetMinutes = null;
        text = text.Trim(" "u8);
        if (text.Length == 0)
        {
            return true;
        }
        if (text.Length >= 2 && (text[0] | 32) is (int)'a' or (int)'p' && (text[1] | 32) == 'm' || text.Length == 4 && (text[0] | 32) is (int)'a' or (int)'p' && text[1] == '.')
        {
            if (hours is < 1 or > 12)
            {
                return false;
            }
            hours = hours % 12 + ((text[0] | 32) == 'p' ? 12 : 0);
            return text.Length == 2 || text.Length == 4 && text[1] == '.';
        }
        if (text.Length == 1 && (text[0] | 32) == 'z' || text.SequenceEqual("UTC"u8) || text.SequenceEqual("GMT"u8))
        {
            offsetMinutes = 0;
            return true;
        }
        if (text[0] is (byte)'+' or (byte)'-')
        {
            int sign = text[0] == '-' ? -1 : 1;
            text = text[1..];
            if (!TryInt(ref text, 2, out int h) || h > 14)
            {
                return false;
            }
            if (text.Length > 0 && text[0] == ':')
            {
                text = text[1..];
            }
            int m = 0;
            if (text.Length > 0 && (!TryInt(ref text, 2, out m) || m > 59 || text.Length > 0))
            {
                return false;
            }
            offsetMinutes = sign * (h * 60 + m);
            return true;
        }
        return false;
    }

    /// <summary><c>yyyymmdd</c> or, as satellite receivers write it, <c>ddmmyy</c>.</summary>
    private static bool TryCompactDate(ReadOnlySpan<byte> text, out int days)
    {
        days = 0;
        if (!Utf8Parser.TryParse(text, out int n, out int used) || used != text.Length)
        {
            return false;
        }
        return text.Length switch
        {
            8 => TryDays(n / 10000, n / 100 % 100, n % 100, out days),
            6 => TryDays(2000 + n % 100, n / 100 % 100, n / 10000, out days),
            _ => false,
        };
    }

    private static bool TryDays(int year, int month, int day, out int days)
    {
        days = 0;
        if (year is < 1970 or > 2199 || month is < 1 or > 12 || day < 1 || day > DateTime.DaysInMonth(year, month))
        {
            return false;
        }
        days = new DateOnly(year, month, day).DayNumber;
        return true;
    }

    private static int MonthOf(ReadOnlySpan<byte> text)
    {
        for (int m = 0; m < 12; m++)
        {
            string name = Months[m];
            if ((text[0] | 32) == name[0] && (text[1] | 32) == name[1] && (text[2] | 32) == name[2])
            {
                return m + 1;
            }
        }
        return 0;
    }

    private static bool TryInt(ref ReadOnlySpan<byte> text, int most, out int value)
    {
        int i = 0;
        value = 0;
        while (i < text.Length && i < most && (uint)(text[i] - '0') <= 9)
        {
            value = value * 10 + (text[i++] - '0');
        }
        text = text[i..];
        return i > 0 && (text.Length == 0 || (uint)(text[0] - '0') > 9 || most == 2);
    }
}
