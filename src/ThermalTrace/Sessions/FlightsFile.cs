using System.Globalization;
using CsvHelper;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>Reads and writes <c>flights.csv</c>: which flight carried which ballast.</summary>
public static class FlightsFile
{
    /// <summary>The file's name in a session folder.</summary>
    public const string Name = "flights.csv";

    /// <summary>Heaviest mass that a note may state, g.</summary>
    private const double MostG = 150_000;

    private static readonly string[] Required = ["log", "ballast_g"];
    private static readonly string[] Optional = ["flight", "flying_mass_g", "cg_mm", "camber", "spoiled", "notes"];

    /// <summary>Reads the rows in file order.</summary>
    /// <param name="reader">The text: comma, semicolon or tab.</param>
    /// <param name="name">The file's name, for messages.</param>
    /// <exception cref="UnusableInputException">Something in it cannot be; all of it, each with its line.</exception>
    public static IReadOnlyList<FlightNote> Read(TextReader reader, string name)
    {
        ArgumentNullException.ThrowIfNull(reader);
        NoteTable table = NoteTable.Read(reader, name, Required, Optional);
        List<FlightNote> notes = [];
        foreach (NoteTable.Row row in table.Rows)
        {
            if (!FlightField.TryParse(table.Text(row, "flight"), out (int, int)? numbers, out (double, double)? clockS, out string complaint))
            {
                table.Complaints.Add(row.Line, complaint);
            }
            notes.Add(new FlightNote
            {
                Log = NoteColumns.Log(table, row, required: true) ?? "",
                Numbers = numbers,
                ClockRangeS = clockS,
                BallastG = table.Number(row, "ballast_g", 0, MostG),
                FlyingMassG = table.Number(row, "flying_mass_g", 1, MostG),
                CgMm = table.Number(row, "cg_mm", -2_000, 2_000),
                Camber = table.TextOrNull(row, "camber"),
                Spoiled = Spoiled(table, row),
                Notes = table.TextOrNull(row, "notes"),
                Line = row.Line,
            });
        }
        RefuseOverlaps(notes, table.Complaints);
        table.Complaints.Throw();
        return notes;
    }

    /// <summary>
    /// Writes rows for a person to fill in: the required columns, <c>flight</c> and <c>notes</c>, and the others where a row
    /// has them. Text that a spreadsheet would run as a formula gets an apostrophe in front, which <see cref="Read"/> takes off.
    /// </summary>
    /// <param name="writer">Where to.</param>
    /// <param name="notes">The rows.</param>
    /// <param name="earlier">The file's text before, whose comments are kept; null where there is none.</param>
    public static void Write(TextWriter writer, IReadOnlyList<FlightNote> notes, string? earlier = null)
    {
        ArgumentNullException.ThrowIfNull(writer);
        ArgumentNullException.ThrowIfNull(notes);
        bool mass = notes.Any(n => n.FlyingMassG is not null), cg = notes.Any(n => n.CgMm is not null);
        bool camber = notes.Any(n => n.Camber is not null), spoiled = notes.Any(n => n.Spoiled);
        NoteComments comments = NoteComments.Of(earlier);
        comments.WriteBefore(writer, comments.HeaderLine);
        using CsvWriter csv = CsvWriter.Create(writer, new CsvWriterOptions { NewLine = "\n", CommentPrefix = '#' }, leaveOpen: true);
        csv.WriteRecord(
        [
            "log", "flight", "ballast_g", .. If(mass, "flying_mass_g"), .. If(cg, "cg_mm"),
            .. If(camber, "camber"), .. If(spoiled, "spoiled"), "notes",
        ]);
        foreach (FlightNote note in notes)
        {
            csv.Flush();
            comments.WriteBefore(writer, note.Line);
            csv.WriteRecord(
            [
                NoteColumns.WithoutFormula(note.Log),
                FlightField.Format(note),
                Number(note.BallastG),
                .. If(mass, Number(note.FlyingMassG)),
                .. If(cg, Number(note.CgMm)),
                .. If(camber, NoteColumns.WithoutFormula(note.Camber ?? "")),
                .. If(spoiled, note.Spoiled ? "yes" : ""),
                NoteColumns.WithoutFormula(note.Notes ?? ""),
            ]);
        }
        csv.Flush();
        comments.WriteRest(writer);
    }

    /// <summary>The file's new text after an edit; null where it would say nothing, and need not be there.</summary>
    /// <param name="notes">The rows.</param>
    /// <param name="earlier">Its text before, whose comments are kept; null where it was not there.</param>
    public static string? Text(IReadOnlyList<FlightNote> notes, string? earlier)
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

    private static string[] If(bool there, string cell) => there ? [cell] : [];

    private static string Number(double? value) => value?.ToString("R", CultureInfo.InvariantCulture) ?? "";

    private static bool Spoiled(NoteTable table, NoteTable.Row row)
    {
        string text = table.Text(row, "spoiled");
        switch (text.ToLowerInvariant())
        {
            case "yes" or "y" or "1" or "x" or "true":
                return true;
            case "" or "no" or "n" or "0" or "false":
                return false;
            default:
                table.Complaints.Add(row.Line, $"spoiled \"{text}\" is neither yes nor no; expected yes, no, 1, 0, x or nothing");
                return false;
        }
    }

    /// <summary>
    /// Two rows must not speak of one flight. Rows with numbers are told apart here; a time range and a number can only be
    /// once the flights are found (<see cref="FlightNotes.For"/>).
    /// </summary>
    private static void RefuseOverlaps(List<FlightNote> notes, Complaints complaints)
    {
        foreach (IGrouping<string, FlightNote> log in notes.GroupBy(n => n.Log, StringComparer.Ordinal))
        {
            FlightNote[] rows = [.. log];
            for (int i = 1; i < rows.Length; i++)
            {
                FlightNote? other = rows.Take(i).FirstOrDefault(earlier => Overlap(earlier, rows[i]));
                if (other is not null && log.Key.Length > 0)
                {
                    complaints.Add(rows[i].Line, string.Create(CultureInfo.InvariantCulture,
                        $"speaks of {Said(rows[i])} of {log.Key}, and line {other.Line} of {Said(other)}; expected one row for each flight"));
                }
            }
        }
    }

    private static bool Overlap(FlightNote a, FlightNote b) => (a, b) switch
    {
        ({ Numbers: { } x }, { Numbers: { } y }) => x.First <= y.Last && y.First <= x.Last,
        ({ ClockRangeS: { } x }, { ClockRangeS: { } y }) => x.FromS < y.ToS && y.FromS < x.ToS,
        ({ Numbers: null, ClockRangeS: null }, _) or (_, { Numbers: null, ClockRangeS: null }) => true,
        _ => false,
    };

    private static string Said(FlightNote note) =>
        FlightField.Format(note) is { Length: > 0 } text ? $"flight {text}" : "all flights";
}
