using System.Globalization;
using CsvHelper;

namespace ThermalTrace.Sessions;

/// <summary>
/// A small table that a person keeps in an editor or a spreadsheet: comma, semicolon or tab, with a header. Semicolon and
/// tab go with a decimal comma as well as a point, as spreadsheets of many countries save them. Lines that start with # are
/// comments; rows without a filled cell are passed over.
/// </summary>
internal sealed class NoteTable
{
    // Two hundred flights make 10 kB; a file far beyond that is a log under a wrong name.
    private const int LongestFile = 4_000_000;
    private readonly string[] _known;
    private readonly int[] _columns;
    private readonly bool _decimalComma;

    private NoteTable(string[] known, int[] columns, bool decimalComma, IReadOnlyList<Row> rows, Complaints complaints)
    {
        (_known, _columns, _decimalComma, Rows, Complaints) = (known, columns, decimalComma, rows, complaints);
    }

    /// <summary>A row of cells and the line where it starts, counted from 1.</summary>
    internal sealed record Row(int Line, string[] Cells);

    /// <summary>The rows that have something in them, in file order.</summary>
    public IReadOnlyList<Row> Rows { get; }

    /// <summary>Where to put what is wrong.</summary>
    public Complaints Complaints { get; }

    /// <summary>Reads a table.</summary>
    /// <param name="required">Columns that must be there.</param>
    /// <param name="optional">Columns that may be there; any other name is an error.</param>
    /// <exception cref="Units.UnusableInputException">The header is not this table's, or the text is not a table.</exception>
    public static NoteTable Read(TextReader reader, string name, string[] required, string[] optional)
    {
        Complaints complaints = new(name);
        string text = ReadAll(reader, complaints);
        char separator = Separator(text);
        List<Row> rows = Cut(text, separator, complaints);
        string[] known = [.. required, .. optional];
        if (rows.Count == 0)
        {
            complaints.Fail(0, $"is empty; expected a header line with {Listed(required)}");
        }
        Row header = rows[0];
        int[] columns = Match(header, known, complaints);
        string[] missing = [.. required.Where((_, i) => columns[i] < 0)];
        if (missing.Length > 0)
        {
            complaints.Add(header.Line, $"the header has no column {Listed(missing)}; found {Listed(header.Cells.Where(c => c.Length > 0))}, "
                + $"expected {string.Join(separator, required)}");
        }
        complaints.Throw();
        foreach (Row row in rows.Skip(1))
        {
            for (int i = 0; i < row.Cells.Length; i++)
            {
                if (row.Cells[i].Length > 0 && !columns.Contains(i))
                {
                    complaints.Add(row.Line, string.Create(CultureInfo.InvariantCulture,
                        $"column {i + 1} \"{row.Cells[i]}\" has no name in the header; put text that contains \"{separator}\" in double quotes"));
                    break;
                }
            }
        }
        return new NoteTable(known, columns, separator != ',', [.. rows.Skip(1).Where(r => r.Cells.Any(c => c.Length > 0))], complaints);
    }

    /// <summary>
    /// The cell's text, trimmed and without the apostrophe that keeps a spreadsheet from running it; empty where the row or the
    /// table does not have it.
    /// </summary>
    public string Text(Row row, string column)
    {
        int index = _columns[Array.IndexOf(_known, column)];
        return index >= 0 && index < row.Cells.Length ? NoteColumns.WithFormula(row.Cells[index]) : "";
    }

    /// <summary>The cell's text, or null where empty.</summary>
    public string? TextOrNull(Row row, string column) => Text(row, column) is { Length: > 0 } text ? text : null;

    /// <summary>The cell's number; null where empty, and null with a complaint where it is none or out of range.</summary>
    public double? Number(Row row, string column, double least, double most)
    {
        string text = Text(row, column);
        if (text.Length == 0)
        {
            return null;
        }
        string point = text.Replace('−', '-');
        if (point.Contains(',', StringComparison.Ordinal) && !point.Contains('.', StringComparison.Ordinal))
        {
            // In a comma-separated file a quoted "1,234" may be either; "12,5" is a decimal comma.
            int comma = point.IndexOf(',', StringComparison.Ordinal);
            if (!_decimalComma && point.Length - comma == 4)
            {
                Complaints.Add(row.Line, $"{column} \"{text}\" may mean {point.Replace(",", "", StringComparison.Ordinal)} or "
                    + $"{point.Replace(',', '.')}; write it without a comma");
                return null;
            }
            point = point.Replace(',', '.');
        }
        if (!double.TryParse(point, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !double.IsFinite(value))
        {
            Complaints.Add(row.Line, $"{column} \"{text}\" is not a number; expected a number without a unit, such as 30 or 12.5");
            return null;
        }
        if (!(value >= least && value <= most))
        {
            Complaints.Add(row.Line, string.Create(CultureInfo.InvariantCulture, $"{column} {text} is outside {least} to {most}"));
            return null;
        }
        return value;
    }

    /// <summary>The cell's number; NaN with a complaint where it is empty, none or out of range.</summary>
    public double RequiredNumber(Row row, string column, double least, double most)
    {
        if (Text(row, column).Length == 0)
        {
            Complaints.Add(row.Line, $"{column} is empty; expected a number");
        }
        return Number(row, column, least, most) ?? double.NaN;
    }

    private static string ReadAll(TextReader reader, Complaints complaints)
    {
        char[] buffer = new char[LongestFile + 1];
        int length = reader.ReadBlock(buffer);
        if (length > LongestFile)
        {
            complaints.Fail(0, string.Create(CultureInfo.InvariantCulture, $"is larger than {LongestFile / 1_000_000} MB; expected a short table, is this a log under a wrong name?"));
        }
        if (buffer.AsSpan(0, length).Contains('\0'))
        {
            complaints.Fail(0, "is not text; expected a table such as a spreadsheet saves as CSV");
        }
        return new string(buffer, 0, length).TrimStart('\uFEFF');
    }

    private static List<Row> Cut(string text, char separator, Complaints complaints)
    {
        List<Row> rows = [];
        using CsvReader csv = CsvReader.FromText(text, new CsvReaderOptions
        {
            Separator = separator,
            HasHeader = false,
            CommentPrefix = '#',
            TrimWhitespace = true,
            TrimInsideQuotes = true,
            TrackLineNumbers = true,
            MalformedData = CsvMalformedDataHandling.Throw,
            FieldCountMismatch = CsvFieldCountHandling.Allow,
        });
        try
        {
            while (csv.Read())
            {
                string[] cells = new string[csv.FieldCount];
                for (int i = 0; i < cells.Length; i++)
                {
                    cells[i] = csv.GetString(i).Trim('\u00a0', ' ', '\t');
                }
                if (rows.Count > 0 || Array.Exists(cells, c => c.Length > 0))
                {
                    rows.Add(new Row((int)csv.LineNumber, cells));
                }
            }
        }
        catch (CsvFormatException malformed)
        {
            complaints.Fail((int)malformed.LineNumber, "a double quote is not closed or stands in the middle of a cell; "
                + "put the whole cell in double quotes and write a quote inside it twice");
        }
        return rows;
    }

    /// <summary>The separator that the header uses, and the comma where it has one cell.</summary>
    private static char Separator(string text)
    {
        string header = text.Split('\n', '\r').FirstOrDefault(line => line.Trim().Length > 0 && line.TrimStart()[0] != '#', "");
        return header.Contains(';', StringComparison.Ordinal) ? ';' : header.Contains('\t', StringComparison.Ordinal) ? '\t' : ',';
    }

    private static int[] Match(Row header, string[] known, Complaints complaints)
    {
        int[] columns = new int[known.Length];
        Array.Fill(columns, -1);
        for (int i = 0; i < header.Cells.Length; i++)
        {
            if (header.Cells[i].Length == 0)
            {
                continue;
            }
            int index = Array.FindIndex(known, k => k.Equals(header.Cells[i], StringComparison.OrdinalIgnoreCase));
            if (index < 0)
            {
                complaints.Add(header.Line, $"unknown column \"{header.Cells[i]}\"{NearestName.Hint(header.Cells[i], known)}");
            }
            else if (columns[index] >= 0)
            {
                complaints.Add(header.Line, $"column \"{known[index]}\" stands there twice");
            }
            else
            {
                columns[index] = i;
            }
        }
        return columns;
    }

    private static string Listed(IEnumerable<string> names) => string.Join(", ", names.Select(n => $"\"{n}\""));
}
