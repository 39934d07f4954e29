namespace ThermalTrace.Sessions;

/// <summary>The comments that a person wrote into a table of notes, so that an edit on a page does not lose them.</summary>
internal sealed class NoteComments
{
    private readonly Queue<(int Line, string Text)> _left;

    private NoteComments(IEnumerable<(int Line, string Text)> comments, int headerLine) => (_left, HeaderLine) = (new(comments), headerLine);

    /// <summary>Line of the table's header, counted from 1.</summary>
    public int HeaderLine { get; }

    /// <summary>True where there are none.</summary>
    public bool None => _left.Count == 0;

    /// <summary>Finds the comments of a text: lines that start with # and are not inside a quoted cell.</summary>
    public static NoteComments Of(string? text)
    {
        List<(int, string)> comments = [];
        int header = 0;
        bool quoted = false;
        string[] lines = (text ?? "").TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n');
        for (int i = 0; i < lines.Length; i++)
        {
            // The line by which some spreadsheets tell the separator is true no more once the table is written anew.
            bool separator = i == 0 && lines[i].StartsWith("sep=", StringComparison.OrdinalIgnoreCase);
            if (!quoted && lines[i].TrimStart().StartsWith('#'))
            {
                comments.Add((i + 1, lines[i]));
                continue;
            }
            header = header == 0 && !separator && lines[i].Trim().Length > 0 ? i + 1 : header;
            quoted ^= lines[i].Count(c => c == '"') % 2 == 1;
        }
        return new NoteComments(comments, header);
    }

    /// <summary>Writes those that stood above a line and were not written yet; line 0 is of a new row, which has none.</summary>
    public void WriteBefore(TextWriter writer, int line)
    {
        while (_left.TryPeek(out (int Line, string Text) comment) && comment.Line < line)
        {
            writer.Write(comment.Text + "\n");
            _left.Dequeue();
        }
    }

    /// <summary>Writes what is left.</summary>
    public void WriteRest(TextWriter writer) => WriteBefore(writer, int.MaxValue);
}
