using System.Text;

namespace ThermalTrace.Logs;

/// <summary>Reads the fields of one column into one or two columns of numbers.</summary>
internal abstract class Cells(PlannedColumn column, ProblemList problems)
{
    protected PlannedColumn Column { get; } = column;
    protected ProblemList Problems { get; } = problems;

    /// <summary>The field's place in a row.</summary>
    public int Index { get; } = column.Index;

    /// <summary>Reads one field; what cannot be read is NaN and a problem.</summary>
    public abstract void Read(ReadOnlySpan<byte> field, int line);

    /// <summary>What was read: one column of numbers, or two for a position.</summary>
    public abstract ColumnBuffer[] Parts { get; }

    /// <summary>The reader for a column.</summary>
    /// <param name="column">What is read.</param>
    /// <param name="rows">How many rows are likely to come.</param>
    /// <param name="marks">Counts decimal marks.</param>
    /// <param name="problems">Takes what cannot be read.</param>
    public static Cells For(PlannedColumn column, int rows, DecimalMarks marks, ProblemList problems) => column.Quantity switch
    {
        _ when column.Letters => new LetterCells(column, rows, problems),
        Quantity.Position => new PositionCells(column, rows, problems),
        Quantity.Latitude or Quantity.Longitude => new CoordinateCells(column, rows, marks, problems),
        Quantity.Camber => new LabelCells(column, rows, problems),
        Quantity.Motor => new SwitchCells(column, rows, marks, problems),
        _ => new NumberCells(column, rows, marks, problems),
    };

    /// <summary>Says that a field is no number, with the first as example.</summary>
    protected void Bad(ReadOnlySpan<byte> field, int line, ProblemKind kind, string what)
    {
        string header = ColumnPlan.ProblemText(Column.Header);
        Problems.Count(kind, Index, line, field, (example, n) =>
            $"{header} \"{example}\" is not {what}; the value was left out{(n > 1 ? $" ({n:N0} such values)" : "")}");
    }
}

/// <summary>Counts the numbers whose decimal mark is not the file's usual one.</summary>
/// <param name="usual">The usual mark; 0 where the file's sample had no decimals.</param>
internal sealed class DecimalMarks(byte usual)
{
    public byte Usual { get; private set; } = usual;

    /// <summary>Numbers with the other mark, and the line of the first.</summary>
    public int Others { get; private set; }

    public int FirstOtherLine { get; private set; }

    /// <summary>Takes note of a mark that is not the usual one.</summary>
    public void Note(byte mark, int line)
    {
        if (Usual == 0)
        {
            Usual = mark;
            return;
        }
        FirstOtherLine = Others++ == 0 ? line : FirstOtherLine;
    }
}

/// <summary>Plain numbers with a unit.</summary>
internal class NumberCells(PlannedColumn column, int rows, DecimalMarks marks, ProblemList problems) : Cells(column, problems)
{
    private readonly double _multiply = column.Down ? -column.Unit.Multiply : column.Unit.Multiply;
    private readonly double _divide = column.Unit.Divide;
    private readonly double _zero = column.Unit.Zero;
    private readonly bool _plain = column.Unit.IsIdentity && !column.Down;

    private ColumnBuffer Values { get; } = new(rows);

    public override ColumnBuffer[] Parts => [Values];

    public override void Read(ReadOnlySpan<byte> field, int line)
    {
        if (!NumberText.TryParse(field, out double value, out byte mark))
        {
            Values.Add(Other(field, line));
            return;
        }
        if (mark != marks.Usual && mark != 0)
        {
            marks.Note(mark, line);
        }
        Values.Add(_plain ? value : (value - _zero) * _multiply / _divide);
    }

    /// <summary>The value of a field that is no plain number.</summary>
    protected virtual double Other(ReadOnlySpan<byte> field, int line)
    {
        if (!NumberText.IsMissing(field))
        {
            Bad(field, line, ProblemKind.NotANumber, "a number");
        }
        return double.NaN;
    }
}

/// <summary>One coordinate: a number, or degrees and minutes with a letter.</summary>
internal sealed class CoordinateCells(PlannedColumn column, int rows, DecimalMarks marks, ProblemList problems) : NumberCells(column, rows, marks, problems)
{
    protected override double Other(ReadOnlySpan<byte> field, int line)
    {
        if (NumberText.IsMissing(field))
        {
            return double.NaN;
        }
        bool latitude = Column.Quantity == Quantity.Latitude;
        if (!PositionText.TryCoordinate(field, out double value, out byte letter) || letter != 0 && latitude != letter is (byte)'N' or (byte)'S')
        {
            Bad(field, line, ProblemKind.NotAPosition, latitude ? "a latitude" : "a longitude");
            return double.NaN;
        }
        return PositionText.Signed(Math.Abs(value) > 180 ? PositionText.FromDegreesAndMinutes(value) : value, letter);
    }
}

/// <summary>Latitude and longitude in one field.</summary>
internal sealed class PositionCells(PlannedColumn column, int rows, ProblemList problems) : Cells(column, problems)
{
    private readonly ColumnBuffer _latitude = new(rows), _longitude = new(rows);

    public override ColumnBuffer[] Parts => [_latitude, _longitude];

    public override void Read(ReadOnlySpan<byte> field, int line)
    {
        double first = double.NaN, second = double.NaN;
        if (!NumberText.IsMissing(field) && !PositionText.TryPair(field, out first, out second))
        {
            Bad(field, line, ProblemKind.NotAPosition, "a position such as 47.1370 9.8830");
        }
        _latitude.Add(Column.Unit.ToSi(first));
        _longitude.Add(Column.Unit.ToSi(second));
    }
}

/// <summary>Hemisphere letters: +1 for north and east, −1 for south and west.</summary>
internal sealed class LetterCells(PlannedColumn column, int rows, ProblemList problems) : Cells(column, problems)
{
    private readonly ColumnBuffer _signs = new(rows);

    public override ColumnBuffer[] Parts => [_signs];

    public override void Read(ReadOnlySpan<byte> field, int line)
    {
        int letter = NumberText.Trim(field) is [byte only] ? only & ~32 : 0;
        _signs.Add(letter is 'N' or 'E' ? 1 : letter is 'S' or 'W' ? -1 : double.NaN);
    }
}

/// <summary>Motor: a number, or words for on and off.</summary>
internal sealed class SwitchCells(PlannedColumn column, int rows, DecimalMarks marks, ProblemList problems) : NumberCells(column, rows, marks, problems)
{
    protected override double Other(ReadOnlySpan<byte> field, int line)
    {
        string text = Encoding.UTF8.GetString(NumberText.Trim(field)).ToLowerInvariant();
        return text switch
        {
            "on" or "true" or "run" or "running" or "yes" or "armed" or "y" or "high" or "mid" => 1,
            "off" or "false" or "stop" or "stopped" or "no" or "disarmed" or "idle" or "n" or "low" => 0,
            _ => base.Other(field, line),
        };
    }
}

/// <summary>Wing settings: any text, kept as an index into the labels seen.</summary>
internal sealed class LabelCells(PlannedColumn column, int rows, ProblemList problems) : Cells(column, problems)
{
    private readonly LabelList _seen = new();
    private ColumnBuffer _values = new(rows);

    public override ColumnBuffer[] Parts => [_values];

    public override void Read(ReadOnlySpan<byte> field, int line)
    {
        field = NumberText.Trim(field);
        _values.Add(field.Length == 0 ? double.NaN : _seen.IndexOf(field));
    }

    /// <summary>Gives the labels the numbers that they have in the whole file.</summary>
    public void Number(LabelList all)
    {
        double[] numbers = _seen.NumbersIn(all), values = _values.ToArray();
        _values = new ColumnBuffer(values.Length);
        foreach (double value in values)
        {
            _values.Add(double.IsNaN(value) ? double.NaN : numbers[(int)value]);
        }
    }
}

/// <summary>Labels in order of appearance.</summary>
internal sealed class LabelList
{
    /// <summary>More settings than a pilot has switches for: a servo's position, not a setting.</summary>
    public const int Most = 32;

    private readonly List<byte[]> _labels = [];

    /// <summary>True where there were more than <see cref="Most"/>; further labels have no number.</summary>
    public bool TooMany { get; private set; }

    public IReadOnlyList<string> ToList() => _labels.ConvertAll(Encoding.UTF8.GetString);

    /// <summary>The label's number, a new one where it is new; NaN beyond the most.</summary>
    public double IndexOf(ReadOnlySpan<byte> label)
    {
        for (int i = 0; i < _labels.Count; i++)
        {
            if (label.SequenceEqual(_labels[i]))
            {
                return i;
            }
        }
        if (_labels.Count == Most)
        {
            TooMany = true;
            return double.NaN;
        }
        _labels.Add(label.ToArray());
        return _labels.Count - 1;
    }

    /// <summary>The numbers that these labels have in another list, added there where they are new.</summary>
    public double[] NumbersIn(LabelList all)
    {
        all.TooMany |= TooMany;
        return [.. _labels.Select(l => all.IndexOf(l))];
    }
}
