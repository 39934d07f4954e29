using System.Globalization;
using CsvHelper;

namespace ThermalTrace.Sessions;

/// <summary>Reads and writes <c>phases.csv</c>: boundaries of phases that a person moved.</summary>
public static class PhasesFile
{
    /// <summary>The file's name in a session folder.</summary>
    public const string Name = "phases.csv";

    // Ten days: nobody logs longer, and milliseconds in a column of seconds are found out.
    private const double LongestS = 864_000;
    private static readonly string[] Kinds = ["ground", "launch", "glide", "climb", "landing"];

    /// <summary>Reads the rows in file order.</summary>
    /// <exception cref="Units.UnusableInputException">Something in it cannot be; all of it, each with its line.</exception>
    public static IReadOnlyList<PhaseNote> Read(TextReader reader, string name)
    {
        ArgumentNullException.ThrowIfNull(reader);
        NoteTable table = NoteTable.Read(reader, name, ["log", "start_s", "end_s", "kind"], ["flight"]);
        List<PhaseNote> notes = [];
        foreach (NoteTable.Row row in table.Rows)
        {
            string log = NoteColumns.Log(table, row, required: true) ?? "";
            double start = table.RequiredNumber(row, "start_s", 0, LongestS), end = table.RequiredNumber(row, "end_s", 0, LongestS);
            if (end <= start)
            {
                table.Complaints.Add(row.Line, string.Create(CultureInfo.InvariantCulture, $"end_s {end} is not after start_s {start}"));
            }
            PhaseNote note = new(log, Flight(table, row), start, end, Kind(table, row), row.Line);
            if (notes.Find(n => n.Log == log && n.StartS < end && start < n.EndS) is { } other)
            {
                table.Complaints.Add(row.Line, string.Create(CultureInfo.InvariantCulture,
                    $"{start} to {end} s overlaps line {other.Line} ({other.StartS} to {other.EndS} s); expected phases that touch at most"));
            }
            notes.Add(note);
        }
        table.Complaints.Throw();
        return notes;
    }

    /// <summary>Writes what <see cref="Read"/> reads; seconds in whole milliseconds.</summary>
    /// <param name="writer">Where to.</param>
    /// <param name="notes">The rows.</param>
    /// <param name="earlier">The file's text before, whose comments are kept; null where there is none.</param>
    public static void Write(TextWriter writer, IReadOnlyList<PhaseNote> notes, string? earlier = null)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(notes);
        NoteComments comments = NoteComments.Of(earlier);
        comments.WriteBefore(writer, comments.HeaderLine);
        using CsvWriter csv = CsvWriter.Create(writer, new CsvWriterOptions { NewLine = "\n", CommentPrefix = '#' }, leaveOpen: true);
        csv.WriteRecord(["log", "flight", "start_s", "end_s", "kind"]);
        foreach (PhaseNote note in notes)
        {
            csv.Flush();
            comments.WriteBefore(writer, note.Line);
            csv.WriteRecord(
            [
                NoteColumns.WithoutFormula(note.Log),
                note.Flight?.ToString(CultureInfo.InvariantCulture) ?? "",
                Seconds(note.StartS),
                Seconds(note.EndS),
                note.Kind,
            ]);
        }
        csv.Flush();
        comments.WriteRest(writer);
    }

    /// <summary>The file's new text after an edit; null where it would say nothing, and need not be there.</summary>
    /// <param name="notes">The rows.</param>
    /// <param name="earlier">Its text before, whose comments are kept; null where it was not there.</param>
    public static string? Text(IReadOnlyList<PhaseNote> notes, string? earlier)
    {
        ArgumentNullException.ThrowIfNull(notes);
        if (notes.Count == 0 && NoteComments.Of(earlier).None)
        {
            return null;
        }
        using StringWriter writer = new(CultureInfo.InvariantCulture);
        Write(writer, notes, earlier);
        return writer.ToString();
    }

    private static string Seconds(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static int? Flight(NoteTable table, NoteTable.Row row)
    {
        double? number = table.Number(row, "flight", 1, 999_999);
        if (number is { } value && value != Math.Floor(value))
        {
            table.Complaints.Add(row.Line, string.Create(CultureInfo.InvariantCulture, $"flight {value} is not a whole number"));
            return null;
        }
        return (int?)number;
    }

    private static string Kind(NoteTable table, NoteTable.Row row)
    {
        string kind = table.Text(row, "kind").ToLowerInvariant();
        if (!Kinds.Contains(kind))
        {
            table.Complaints.Add(row.Line, $"kind \"{kind}\" is not known{NearestName.Hint(kind, Kinds)}");
        }
        return kind;
    }
}
