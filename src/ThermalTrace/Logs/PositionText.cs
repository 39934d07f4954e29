using System.Buffers;

namespace ThermalTrace.Logs;

/// <summary>Coordinates as logs write them: decimal degrees, degrees and minutes, hemisphere letters, one field or two.</summary>
internal static class PositionText
{
    private static readonly SearchValues<byte> Digits = SearchValues.Create("0123456789.,"u8);

    /// <summary>
    /// Reads one coordinate: <c>47.137</c>, <c>-9,88</c>, <c>47 08.220 N</c>, <c>47°08'13.3"N</c>, <c>N47.137</c>. A bare number
    /// is given as it stands; the caller knows whether it is degrees.
    /// </summary>
    /// <param name="hemisphere">'N', 'S', 'E', 'W' or 0.</param>
    public static bool TryCoordinate(ReadOnlySpan<byte> text, out double value, out byte hemisphere)
    {
        hemisphere = 0;
        if (NumberText.TryParse(text, out value, out _))
        {
            return true;
        }
        value = double.NaN;
        Span<double> parts = stackalloc double[3];
        int count = 0;
        bool negative = false;
        text = NumberText.Trim(text);
        if (text.Length > 40)
        {
            return false;
        }
        while (text.Length > 0)
        {
            byte c = text[0];
            if ((uint)(c - '0') <= 9)
            {
                if (count == 3)
                {
                    return false;
                }
                int end = text.IndexOfAnyExcept(Digits);
                end = end < 0 ? text.Length : end;
                if (!NumberText.TryParse(text[..end].TrimEnd((byte)','), out parts[count++], out _))
                {
                    return false;
                }
                text = text[end..];
                continue;
            }
            byte upper = (byte)(c & ~32);
            if (upper is (byte)'N' or (byte)'S' or (byte)'E' or (byte)'W' or (byte)'O' && hemisphere == 0)
            {
                hemisphere = upper == 'O' ? (byte)'E' : upper;
            }
            else if (c == '-' && count == 0 && !negative)
            {
                negative = true;
            }
            else if (c is not ((byte)' ' or (byte)'\'' or (byte)'"' or (byte)':' or (byte)'+') && c < 0x80 && upper is not ((byte)'D' or (byte)'M'))
            {
                return false;
            }
            text = text[1..];
        }
        if (count == 0 || count > 1 && !(parts[1] < 60) || count > 2 && !(parts[2] < 60) || hemisphere != 0 && negative)
        {
            return false;
        }
        value = parts[0] + (count > 1 ? (parts[1] + (count > 2 ? parts[2] / 60 : 0)) / 60 : 0);
        value = negative ? -value : value;
        return true;
    }

    /// <summary>Makes south and west negative.</summary>
    public static double Signed(double value, byte hemisphere) => hemisphere is (byte)'S' or (byte)'W' ? -Math.Abs(value) : value;

    /// <summary>Degrees and minutes run together, <c>4708.220</c>, as satellite receivers write them.</summary>
    public static double FromDegreesAndMinutes(double value)
    {
        double sign = value < 0 ? -1 : 1;
        double degrees = Math.Floor(Math.Abs(value) / 100);
        return sign * (degrees + (Math.Abs(value) - degrees * 100) / 60);
    }

    /// <summary>
    /// Reads two coordinates from one field: <c>47.137 9.883</c>, <c>47.137,9.883</c>, <c>47,137 9,883</c>, <c>N47.1 E9.8</c>,
    /// <c>47 08.220 N 9 52.980 E</c>. First and second as written; letters, where there are any, put latitude first.
    /// </summary>
    public static bool TryPair(ReadOnlySpan<byte> text, out double first, out double second)
    {
        first = second = double.NaN;
        text = NumberText.Trim(text).Trim("()[]"u8);
        // The usual form first: two plain numbers and one space.
        int space = text.IndexOf((byte)' ');
        if (space > 0 && NumberText.TryParse(text[..space].TrimEnd((byte)','), out first, out _) && NumberText.TryParse(text[(space + 1)..].TrimStart((byte)' '), out second, out _))
        {
            return true;
        }
        if (!TrySplit(text, out int end, out int start)
            || !TryCoordinate(text[..end], out first, out byte h1) || !TryCoordinate(text[start..], out second, out byte h2))
        {
            return false;
        }
        first = Signed(first, h1);
        second = Signed(second, h2);
        if (h1 is (byte)'E' or (byte)'W' || h2 is (byte)'N' or (byte)'S')
        {
            (first, second) = (second, first);
        }
        return true;
    }

    private static bool TrySplit(ReadOnlySpan<byte> text, out int end, out int start)
    {
        foreach (byte mark in "/;|"u8)
        {
            int at = text.IndexOf(mark);
            if (at > 0)
            {
                (end, start) = (at, at + 1);
                return true;
            }
        }
        // After a closing hemisphere letter, or before the second opening one.
        int letters = 0;
        for (int i = 0; i < text.Length; i++)
        {
            if ((text[i] & ~32) is 'N' or 'S' or 'E' or 'W')
            {
                letters++;
                bool leading = i == 0;
                if (letters == 1 && !leading)
                {
                    (end, start) = (i + 1, i + 1);
                    while (start < text.Length && text[start] is (byte)' ' or (byte)',')
                    {
                        start++;
                    }
                    return start < text.Length;
                }
                if (letters == 2)
                {
                    (end, start) = (i, i);
                    while (end > 0 && text[end - 1] is (byte)' ' or (byte)',')
                    {
                        end--;
                    }
                    return true;
                }
            }
        }
        int comma = text.IndexOf((byte)','), space = text.IndexOf((byte)' ');
        int commas = text.Count((byte)',');
        int cut = commas == 1 ? comma : space > 0 ? space : commas == 3 ? comma + 1 + text[(comma + 1)..].IndexOf((byte)',') : -1;
        if (commas == 1 && space > 0 && text[..comma].Contains((byte)' '))
        {
            cut = comma;
        }
        end = cut;
        start = cut + 1;
        return cut > 0 && start < text.Length;
    }
}
