using System.Text;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>A column as a log's text has it (untrusted text).</summary>
/// <param name="Name">Its header, or "column 3" where the log has none.</param>
/// <param name="Values">The first that are not empty.</param>
public sealed record LogColumn(string Name, IReadOnlyList<string> Values);

/// <summary>The columns of a delimited log without reading it whole: for a person who tells by hand what the importer could not.</summary>
public static class LogColumns
{
    private const int LookedAtBytes = 1 << 16;
    private const int MostValues = 4, LongestValue = 24, MostColumns = 200;

    /// <summary>Looks at a log's first 64 kB.</summary>
    /// <param name="stream">From its beginning.</param>
    /// <param name="name">Its name.</param>
    /// <returns>Columns in their order, two hundred at most; empty where it is no delimited text or shows no columns.</returns>
    public static IReadOnlyList<LogColumn> Peek(Stream stream, string name)
    {
        ArgumentNullException.ThrowIfNull(stream);
        try
        {
            using Utf8Stream text = new(stream);
            if (Sniffer.KindOf(text, name) != LogKind.Delimited)
            {
                return [];
            }
            ReadOnlySpan<byte> head = text.Peek(LookedAtBytes + 1);
            bool whole = head.Length <= LookedAtBytes;
            Preamble table = Preamble.Find(head[..Math.Min(head.Length, LookedAtBytes)], whole, name, []);
            return [.. table.Headers.Take(MostColumns).Select((header, i) => new LogColumn(header, Values(table, i)))];
        }
        catch (UnusableInputException)
        {
            // The importer says what is wrong with it; here there is only nothing to show.
            return [];
        }
    }

    private static List<string> Values(Preamble table, int column)
    {
        List<string> values = [];
        foreach (byte[][] row in table.Sample.Where(r => column < r.Length))
        {
            string value = Encoding.UTF8.GetString(row[column]).Trim();
            if (value.Length > 0 && !values.Contains(value))
            {
                values.Add(value.Length <= LongestValue ? value : value[..LongestValue] + "…");
            }
            if (values.Count == MostValues)
            {
                break;
            }
        }
        return values;
    }
}
