using System.Text;

namespace ThermalTrace.Logs;

/// <summary>What kind of complaint is being counted; together with a column it makes one line of the list.</summary>
internal enum ProblemKind
{
    NotANumber, NotATime, NotADate, NotAPosition, NoTime, ShortRow, LongRow, HeaderAgain, CommentRow, DecimalMark,
    DoubledRow, OutOfOrder, SameStamp, OutOfRange, Spike, Stuck, LostFix, Gap, MissingValue, BadRecord,
}

/// <summary>
/// Collects complaints about a log. Repeats of one kind in one column become one line with the first place and the count,
/// so that a log of a million bad cells still has a short list.
/// </summary>
internal sealed class ProblemList
{
    /// <summary>Single complaints beyond this many are only counted.</summary>
    private const int MaxSingles = 200;

    private readonly List<LogProblem> _singles = [];
    private readonly Dictionary<(ProblemKind, int), Tally> _tallies = [];
    private int _dropped;

    /// <summary>A complaint that stands alone.</summary>
    public void Add(int line, string text)
    {
        if (_singles.Count < MaxSingles)
        {
            _singles.Add(new LogProblem(line, text));
        }
        else
        {
            _dropped++;
        }
    }

    /// <summary>Counts one more of a kind; the first one's line and text become the example.</summary>
    /// <param name="say">Makes the text from the example and the count, when all are counted.</param>
    public void Count(ProblemKind kind, int column, int line, ReadOnlySpan<byte> example, Func<string, int, string> say)
    {
        if (_tallies.TryGetValue((kind, column), out Tally? tally))
        {
            tally.Count++;
            return;
        }
        _tallies.Add((kind, column), new Tally(line, Quote(example), say));
    }

    /// <summary>Adds the complaints of a later part of the same file.</summary>
    public void Append(ProblemList later)
    {
        foreach (LogProblem problem in later._singles)
        {
            Add(problem.Line, problem.Text);
        }
        _dropped += later._dropped;
        foreach (((ProblemKind, int) key, Tally tally) in later._tallies)
        {
            if (_tallies.TryGetValue(key, out Tally? earlier))
            {
                earlier.Count += tally.Count;
            }
            else
            {
                _tallies.Add(key, tally);
            }
        }
    }

    /// <summary>Number counted so far of a kind in a column.</summary>
    public int CountOf(ProblemKind kind, int column) =>
        _tallies.TryGetValue((kind, column), out Tally? tally) ? tally.Count : 0;

    /// <summary>All complaints in file order; those about the whole file first.</summary>
    public IReadOnlyList<LogProblem> ToList()
    {
        List<LogProblem> all = [.. _singles];
        foreach (((ProblemKind kind, int column), Tally tally) in _tallies)
        {
            all.Add(new LogProblem(tally.Line, tally.Say(tally.Example, tally.Count)));
        }
        if (_dropped > 0)
        {
            all.Add(new LogProblem(int.MaxValue, $"and {Words.Count(_dropped, "more complaint")} of these kinds"));
        }
        all.Sort((a, b) => a.Line != b.Line ? a.Line.CompareTo(b.Line) : string.CompareOrdinal(a.Text, b.Text));
        return all.ConvertAll(p => p.Line == int.MaxValue ? p with { Line = 0 } : p);
    }

    /// <summary>Text from a file, short and on one line, for a message.</summary>
    public static string Quote(ReadOnlySpan<byte> text)
    {
        const int longest = 40;
        bool cut = text.Length > longest;
        string s = Encoding.UTF8.GetString(cut ? text[..longest] : text);
        StringBuilder clean = new(s.Length);
        foreach (char c in s)
        {
            clean.Append(char.IsControl(c) ? ' ' : c);
        }
        return cut ? clean.Append('…').ToString() : clean.ToString();
    }

    private sealed class Tally(int line, string example, Func<string, int, string> say)
    {
        public int Line { get; } = line;
        public string Example { get; } = example;
        public Func<string, int, string> Say { get; } = say;
        public int Count { get; set; } = 1;
    }
}

/// <summary>Small words for messages.</summary>
internal static class Words
{
    /// <summary><c>1 row</c>, <c>9,120 rows</c>.</summary>
    public static string Count(long n, string thing, string? things = null) =>
        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{n:N0} {(n == 1 ? thing : things ?? thing + "s")}");
}
