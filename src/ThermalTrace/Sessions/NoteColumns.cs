namespace ThermalTrace.Sessions;

/// <summary>Cells that the session's tables share.</summary>
internal static class NoteColumns
{
    // What a spreadsheet takes for the start of a formula (OWASP, CSV injection).
    private static readonly char[] FormulaStarts = ['=', '+', '-', '@', '\t', '\r'];

    /// <summary>The log's name; null where empty, with a complaint where it must be there or is no plain name.</summary>
    public static string? Log(NoteTable table, NoteTable.Row row, bool required)
    {
        string text = table.Text(row, "log");
        if (text.Length == 0)
        {
            if (required)
            {
                table.Complaints.Add(row.Line, "log is empty; expected the name of a log in this folder");
            }
            return null;
        }
        if (FileNames.Complaint(text) is { } complaint)
        {
            table.Complaints.Add(row.Line, $"log \"{text}\" {complaint}; expected the name of a log in this folder, without a path");
        }
        return text;
    }

    /// <summary>The text with an apostrophe in front where a spreadsheet would run it; undone by <see cref="WithFormula"/>.</summary>
    public static string WithoutFormula(string text) => StartsFormula(text) ? "'" + text : text;

    /// <summary>Undoes <see cref="WithoutFormula"/>.</summary>
    public static string WithFormula(string text) => text.StartsWith('\'') && StartsFormula(text) ? text[1..] : text;

    private static bool StartsFormula(string text)
    {
        string bare = text.TrimStart('\'');
        return bare.Length > 0 && FormulaStarts.Contains(bare[0]);
    }
}
