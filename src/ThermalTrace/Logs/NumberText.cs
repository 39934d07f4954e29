using System.Buffers.Text;
using System.Globalization;

namespace ThermalTrace.Logs;

/// <summary>Numbers as logs write them, read from UTF-8 without making strings.</summary>
internal static class NumberText
{
    private static readonly double[] PowersOfTen =
    [
        1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
    ];

    /// <summary>
    /// Reads a number with a decimal point or comma. Exactly rounded: up to 2^53 over a power of ten up to 10^22 a single
    /// division is exact (Clinger 1990); everything else goes to the framework's parser.
    /// </summary>
    /// <param name="mark">The decimal mark seen: '.', ',' or 0.</param>
    public static bool TryParse(ReadOnlySpan<byte> text, out double value, out byte mark)
    {
        ulong mantissa = 0;
        int digits = 0, before = 0, i = 0;
        mark = 0;
        bool negative = false;
        if (text.Length > 0 && text[0] == '-')
        {
            negative = true;
            i = 1;
        }
        for (; i < text.Length; i++)
        {
            byte c = text[i];
            uint digit = (uint)(c - '0');
            if (digit <= 9)
            {
                mantissa = mantissa * 10 + digit;
                digits++;
            }
            else if (c is (byte)'.' or (byte)',' && mark == 0)
            {
                mark = c;
                before = digits;
            }
            else
            {
                return TryParseSlowly(text, out value, out mark);
            }
        }
        if (digits is 0 or > 18 || mantissa > 1UL << 53)
        {
            return TryParseSlowly(text, out value, out mark);
        }
        value = mark == 0 ? mantissa : mantissa / PowersOfTen[digits - before];
        if (negative)
        {
            value = -value;
        }
        return true;
    }

    /// <summary>True for what loggers write where they have no value.</summary>
    public static bool IsMissing(ReadOnlySpan<byte> text)
    {
        text = Trim(text);
        if (text.Length == 0)
        {
            return true;
        }
        if (text.Length > 9)
        {
            return false;
        }
        Span<byte> lower = stackalloc byte[text.Length];
        bool dashes = true;
        for (int i = 0; i < text.Length; i++)
        {
            byte c = text[i];
            dashes &= c is (byte)'-' or (byte)'*' or (byte)'_' or (byte)'?' or (byte)'.' or (byte)':';
            lower[i] = c is >= (byte)'A' and <= (byte)'Z' ? (byte)(c + 32) : c;
        }
        return dashes || lower.SequenceEqual("nan"u8) || lower.SequenceEqual("na"u8) || lower.SequenceEqual("n/a"u8)
            || lower.SequenceEqual("#n/a"u8) || lower.SequenceEqual("#na"u8) || lower.SequenceEqual("null"u8)
            || lower.SequenceEqual("none"u8) || lower.SequenceEqual("nil"u8) || lower.SequenceEqual("invalid"u8)
            || lower.SequenceEqual("inf"u8) || lower.SequenceEqual("-inf"u8) || lower.SequenceEqual("+inf"u8)
            || lower.SequenceEqual("infinity"u8) || lower.SequenceEqual("-infinity"u8) || lower.SequenceEqual("-nan"u8)
            || lower.SequenceEqual("ind"u8) || lower.SequenceEqual("1.#qnan"u8) || lower.SequenceEqual("1.#inf"u8);
    }

    /// <summary>Without spaces, tabs, no-break spaces and a leftover quote at either end.</summary>
    public static ReadOnlySpan<byte> Trim(ReadOnlySpan<byte> text)
    {
        while (text.Length > 0)
        {
            if (text[0] is (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'"' or (byte)'\'')
            {
                text = text[1..];
            }
            else if (text[^1] is (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'"' or (byte)'\'')
            {
                text = text[..^1];
            }
            else if (text.StartsWith("\u00a0"u8))
            {
                text = text[2..];
            }
            else if (text.EndsWith("\u00a0"u8))
            {
                text = text[..^2];
            }
            else
            {
                break;
            }
        }
        return text;
    }

    /// <summary>Spaces, signs, exponents, digit grouping, typographic minus.</summary>
    private static bool TryParseSlowly(ReadOnlySpan<byte> text, out double value, out byte mark)
    {
        value = double.NaN;
        mark = 0;
        text = Trim(text);
        if (text.Length is 0 or > 64)
        {
            return false;
        }
        int points = text.Count((byte)'.'), commas = text.Count((byte)',');
        int lastPoint = text.LastIndexOf((byte)'.'), lastComma = text.LastIndexOf((byte)',');
        // With both marks the last is the decimal one and the other groups thousands; a mark used twice can only group.
        byte decimalMark = points > 0 && commas > 0
            ? (byte)(lastPoint > lastComma ? '.' : ',')
            : points == 1 ? (byte)'.' : commas == 1 ? (byte)',' : (byte)0;
        if (decimalMark != 0 && text.Count(decimalMark) > 1)
        {
            return false;
        }
        Span<byte> plain = stackalloc byte[64];
        int n = 0, group = -1;
        bool digitSeen = false;
        for (int i = 0; i < text.Length; i++)
        {
            byte c = text[i];
            if (c is >= (byte)'0' and <= (byte)'9')
            {
                digitSeen = true;
                if (group >= 0)
                {
                    group++;
                }
                plain[n++] = c;
            }
            else if (c == decimalMark && decimalMark != 0)
            {
                if (group is >= 0 and not 3)
                {
                    return false;
                }
                group = -1;
                mark = c;
                plain[n++] = (byte)'.';
            }
            else if (c is (byte)'.' or (byte)',' or (byte)'\'')
            {
                // A grouping mark: exactly three digits from one to the next.
                if (!digitSeen || mark != 0 || group is >= 0 and not 3)
                {
                    return false;
                }
                group = 0;
            }
            else if (c is (byte)'-' or (byte)'+' or (byte)'e' or (byte)'E')
            {
                if (!(c == '+' && n == 0))
                {
                    plain[n++] = c;
                }
            }
            else if (text[i..].StartsWith("−"u8) && n == 0)
            {
                plain[n++] = (byte)'-';
                i += 2;
            }
            else
            {
                return false;
            }
        }
        if (group is >= 0 and not 3)
        {
            return false;
        }
        return digitSeen && Utf8Parser.TryParse(plain[..n], out value, out int used) && used == n && double.IsFinite(value);
    }

    /// <summary>The same from a string, for headers and notes.</summary>
    public static bool TryParse(string text, out double value) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value);
}
