using System.Buffers.Binary;
using System.Text;

namespace ThermalTrace.Fuzz;

/// <summary>Makes a broken input from whole ones: a few changes of bytes, of words or of lines, each as files break in the field or as a person would break them.</summary>
internal static class Mutation
{
    private const int LongestInput = 1 << 15;

    // Words that mean something to one reader or another, and numbers at the edges.
    private static readonly byte[][] Words =
    [
        .. new[]
        {
            "NaN", "-Infinity", "1e309", "-1e-320", "0", "-0", "+", "-", ".", ",", ";", "\t", "|", "\"", "\"\"", "'", "#", "//", "/*", "{", "}", "[", "]", ":", "null", "true",
            "99999999999999999999", "2147483648", "-2147483649", "9223372036854775808", "0x10", "1,5", "1.234,56", "12:60:60", "24:00:00", "1970-01-01T00:00:00Z",
            "2031-02-30", "9999-12-31T23:59:59.9999999Z", "0001-01-01", "31.12.2031", "N52°30.5'", "180.0000001", "-90", "time", "date", "altitude_m", "pressure", "latitude",
            "longitude", "ballast_g", "log", "flight", "2-1", "10:05-10:20", "23:59-00:01", "kind", "launch", "quantity", "unit", "sessions", "schema", "thermaltrace.results/1",
            "evidence", "flights", "__proto__", "../../etc", "CON", "\0", "\r", "\n", "\r\n", "\uFEFF", "\u2028", "\u202E", "\U0001F680", "é", "−5", "1\u00A0000", "<trkpt lat=\"1\" lon=\"2\">",
            "<!DOCTYPE a [<!ENTITY b \"c\">]>", "&b;", "]]>", "B1101355206343N00006198WA0058700558", "HFDTE150731", "I013638FXA", "=1+1",
        }.Select(Encoding.UTF8.GetBytes),
        [0xFF], [0xC3], [0xFE, 0xFF], [0xFF, 0xFE], [0x1A], [0x80],
    ];

    /// <summary>The next input. The same random numbers give the same input.</summary>
    public static byte[] Of(IReadOnlyList<byte[]> seeds, Random random)
    {
        List<byte> input = [.. seeds[random.Next(seeds.Count)]];
        int changes = 1 << random.Next(5);
        for (int i = 0; i < changes; i++)
        {
            Change(input, seeds, random);
        }
        if (input.Count > LongestInput)
        {
            input.RemoveRange(LongestInput, input.Count - LongestInput);
        }
        return random.Next(40) == 0 ? Encoding.Unicode.GetPreamble().Concat(Encoding.Unicode.GetBytes(Encoding.UTF8.GetString([.. input]))).ToArray() : [.. input];
    }

    private static void Change(List<byte> input, IReadOnlyList<byte[]> seeds, Random random)
    {
        int at = random.Next(input.Count + 1);
        int length = Math.Min(1 << random.Next(9), input.Count - at);
        switch (random.Next(11))
        {
            case 0 when at < input.Count:
                input[at] ^= (byte)(1 << random.Next(8));
                break;
            case 1 when at < input.Count:
                input[at] = (byte)random.Next(256);
                break;
            case 2:
                input.RemoveRange(at, length);
                break;
            case 3:
                input.InsertRange(at, input.GetRange(at, length));
                break;
            case 4:
                input.InsertRange(at, Words[random.Next(Words.Length)]);
                break;
            case 5:
                input.RemoveRange(at, Math.Min(random.Next(8), input.Count - at));
                input.InsertRange(at, Words[random.Next(Words.Length)]);
                break;
            case 6:
                byte[] other = seeds[random.Next(seeds.Count)];
                int from = random.Next(other.Length + 1);
                input.InsertRange(at, other.AsSpan(from, Math.Min(random.Next(300), other.Length - from)).ToArray());
                break;
            case 7:
                Lines(input, random);
                break;
            case 8:
                Number(input, at, random);
                break;
            case 9:
                input.RemoveRange(at, input.Count - at);
                break;
            case 10 when at + 4 <= input.Count:
                byte[] whole = new byte[4];
                BinaryPrimitives.WriteInt32BigEndian(whole, random.Next(4) == 0 ? -1 : random.Next());
                for (int b = 0; b < 4; b++)
                {
                    input[at + b] = whole[b];
                }
                break;
        }
    }

    /// <summary>A line doubled, dropped or put elsewhere.</summary>
    private static void Lines(List<byte> input, Random random)
    {
        int[] ends = [.. input.Index().Where(b => b.Item == '\n').Select(b => b.Index)];
        if (ends.Length < 2)
        {
            return;
        }
        int which = random.Next(ends.Length - 1);
        List<byte> line = input.GetRange(ends[which] + 1, ends[which + 1] - ends[which]);
        int kind = random.Next(3);
        if (kind > 0)
        {
            input.RemoveRange(ends[which] + 1, line.Count);
        }
        if (kind < 2)
        {
            input.InsertRange(Math.Min(ends[random.Next(ends.Length)] + 1, input.Count), line);
        }
    }

    /// <summary>The number at a place, made another.</summary>
    private static void Number(List<byte> input, int at, Random random)
    {
        int from = input.FindIndex(at, b => b is >= (byte)'0' and <= (byte)'9');
        if (from < 0)
        {
            return;
        }
        int end = from;
        while (end < input.Count && input[end] is (>= (byte)'0' and <= (byte)'9') or (byte)'.')
        {
            end++;
        }
        input.RemoveRange(from, end - from);
        string number = random.Next(6) switch
        {
            0 => new string('9', random.Next(1, 400)),
            1 => "-" + random.Next().ToString(System.Globalization.CultureInfo.InvariantCulture),
            2 => "1e" + random.Next(-400, 400).ToString(System.Globalization.CultureInfo.InvariantCulture),
            3 => "",
            4 => (random.NextDouble() * 1e6).ToString("R", System.Globalization.CultureInfo.InvariantCulture),
            _ => random.Next(100).ToString(System.Globalization.CultureInfo.InvariantCulture),
        };
        input.InsertRange(from, Encoding.ASCII.GetBytes(number));
    }
}
