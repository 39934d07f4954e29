using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>Kinds of log.</summary>
internal enum LogKind { Delimited, Igc, Gpx }

/// <summary>Tells the kind of a log from its content; a file's name decides nothing.</summary>
internal static class Sniffer
{
    private const int LookedAtBytes = 1 << 13;

    private static readonly (byte[] Magic, string What)[] NotText =
    [
        ([0x50, 0x4B, 0x03, 0x04], "a zip archive or a spreadsheet's own format; unpack it, or export the sheet as CSV"),
        ([0x1F, 0x8B], "a gzip archive; unpack it"),
        ([0x37, 0x7A, 0xBC, 0xAF], "a 7z archive; unpack it"),
        ([0x42, 0x5A, 0x68], "a bzip2 archive; unpack it"),
        ([0xD0, 0xCF, 0x11, 0xE0], "an old spreadsheet or document; export the sheet as CSV"),
        ("%PDF"u8.ToArray(), "a PDF document; export the log as CSV"),
        ("SQLite format 3"u8.ToArray(), "a database; export the log as CSV"),
        ([0x89, 0x50, 0x4E, 0x47], "a picture"),
        ([0xFF, 0xD8, 0xFF], "a picture"),
        ([0x7F, 0x45, 0x4C, 0x46], "a program"),
        ("PAR1"u8.ToArray(), "a Parquet table; export it as CSV"),
    ];

    /// <exception cref="UnusableInputException">The file is empty, or no text.</exception>
    public static LogKind KindOf(Utf8Stream text, string name)
    {
        ReadOnlySpan<byte> head = text.Peek(LookedAtBytes);
        head = head[..Math.Min(head.Length, LookedAtBytes)];
        if (head.Length == 0)
        {
            throw new UnusableInputException($"{name}: the file is empty; expected the rows of a log");
        }
        foreach ((byte[] magic, string what) in NotText)
        {
            if (text.RawStart.AsSpan().StartsWith(magic))
            {
                throw new UnusableInputException($"{name}: this is {what}. Expected text: a delimited log, IGC or GPX");
            }
        }
        int control = 0;
        foreach (byte b in head)
        {
            control += b < 32 && b is not ((byte)'\t' or (byte)'\n' or (byte)'\r' or 12 or 26) ? 1 : 0;
        }
        if (control > 0.02 * head.Length || head.Contains((byte)0) && control > 8)
        {
            throw new UnusableInputException($"{name}: this is binary, not text ({control:N0} of the first {head.Length:N0} bytes are control characters). Expected text: a delimited log, IGC or GPX");
        }
        ReadOnlySpan<byte> start = head.TrimStart(" \t\r\n"u8);
        if (start.Length == 0)
        {
            throw new UnusableInputException($"{name}: the file holds only blanks; expected the rows of a log");
        }
        if (start[0] == '<')
        {
            return start.IndexOf("<gpx"u8) >= 0 || start.IndexOf(":gpx"u8) >= 0
                ? LogKind.Gpx
                : throw new UnusableInputException($"{name}: this is XML or HTML but no GPX; found \"{ProblemList.Quote(start)}\". Expected a delimited log, IGC or GPX");
        }
        if (LooksLikeJson(start))
        {
            throw new UnusableInputException($"{name}: this looks like JSON; expected a delimited log, IGC or GPX");
        }
        return LooksLikeIgc(start) ? LogKind.Igc : LogKind.Delimited;
    }

    private static bool LooksLikeJson(ReadOnlySpan<byte> text)
    {
        if (text[0] is not ((byte)'{' or (byte)'['))
        {
            return false;
        }
        ReadOnlySpan<byte> inside = text[1..].TrimStart(" \t\r\n"u8);
        return inside.Length > 0 && inside[0] is (byte)'"' or (byte)'{' or (byte)'[' && inside.Contains((byte)':');
    }

    /// <summary>IGC has records of one letter, one a line; a date record or a fix among the first tells it.</summary>
    private static bool LooksLikeIgc(ReadOnlySpan<byte> text)
    {
        int lines = 0;
        while (text.Length > 0 && lines < 60)
        {
            int end = text.IndexOfAny((byte)'\n', (byte)'\r');
            ReadOnlySpan<byte> line = end < 0 ? text : text[..end];
            text = end < 0 ? default : text[(end + 1)..];
            if (line.Length == 0)
            {
                continue;
            }
            lines++;
            if (IgcReader.IsFix(line) || line.StartsWith("HFDTE"u8) || line.StartsWith("HPDTE"u8) || line.StartsWith("HODTE"u8))
            {
                return true;
            }
        }
        return false;
    }
}
