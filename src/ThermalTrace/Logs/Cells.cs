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

    /// <summary>Hands over what was read.</summary>
    public abstract void Finish(Dictionary<Quantity, double[]> columns, List<LogChannel> channels);

    /// <summary>The reader for a column.</summary>
    public static Cells For(PlannedColumn column, DecimalMarks marks, ProblemList problems) => column.Quantity switch
    {
        Quantity.Position => new PositionCells(column, problems),
        Quantity.Latitude or Quantity.Longitude => new CoordinateCells(column, marks, problems),
        Quantity.Camber => new LabelCells(column, problems),
        Quantity.Motor => new SwitchCells(column, marks, problems),
        _ => new NumberCells(column, marks, problems),
    };

    /// <summary>Says that a field is no number, with the first as example.</summary>
    protected void Bad(ReadOnlySpan<byte> field, int line, ProblemKind kind, string what)
    {
        string header = ColumnPlan.ProblemText(Column.Header);
        Problems.Count(kind, Index, line, field, (example, n) =>
            $"{header} \"{example}\" is not {what}; the value was left out{(n > 1 ? $" ({n:N0} such values)" : "")}");
    }
}

/// <summary>The decimal mark of a file, and how many numbers have the other one.</summary>
internal sealed class DecimalMarks
{
    /// <summary>The mark of the file's first decimal; 0 before.</summary>
    public byte Usual { get; private set; }

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
internal class NumberCells(PlannedColumn column, DecimalMarks marks, ProblemList problems) : Cells(column, problems)
{
    private readonly double _multiply = column.Down ? -column.Unit.Multiply : column.Unit.Multiply;
    private readonly double _divide = column.Unit.Divide;
    private readonly double _zero = column.Unit.Zero;
    private readonly bool _plain = column.Unit.IsIdentity && !column.Down;

    protected ColumnBuffer Values { get; } = new();

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

    public override void Finish(Dictionary<Quantity, double[]> columns, List<LogChannel> channels)
    {
        columns[Column.Quantity] = Values.ToArray();
        channels.Add(new LogChannel(Column.Quantity, Column.Header, Column.Unit.Symbol));
    }
}

/// <summary>One coordinate: a number, or degrees and minutes with a letter.</summary>
internal sealed class CoordinateCells(PlannedColumn column, DecimalMarks marks, ProblemList problems) : NumberCells(column, marks, problems)
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

    public override void Finish(Dictionary<Quantity, double[]> columns, List<LogChannel> channels)
    {
        base.Finish(columns, channels);
        double[] values = columns[Column.Quantity];
        double most = Column.Quantity == Quantity.Latitude ? 90 : 180;
        // A receiver's ddmm.mmmm: beyond any degree, and the last two whole digits are minutes.
        double[] beyond = Array.FindAll(values, v => Math.Abs(v) > most);
        if (beyond.Length > 0 && Array.TrueForAll(beyond, v => Math.Abs(v) < most * 100 + 60 && Math.Abs(v) % 100 < 60) && beyond.Length > 0.9 * Array.FindAll(values, v => v is not (0 or double.NaN)).Length)
        {
            for (int i = 0; i < values.Length; i++)
            {
                values[i] = PositionText.FromDegreesAndMinutes(values[i]);
            }
            channels[^1] = channels[^1] with { Unit = "degrees and minutes" };
        }
    }
}

/// <summary>Latitude and longitude in one field.</summary>
internal sealed class PositionCells(PlannedColumn column, ProblemList problems) : Cells(column, problems)
{
    private readonly ColumnBuffer _latitude = new(), _longitude = new();

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

    public override void Finish(Dictionary<Quantity, double[]> columns, List<LogChannel> channels)
    {
        (double[] first, double[] second) = (_latitude.ToArray(), _longitude.ToArray());
        if (Array.Exists(first, v => Math.Abs(v) > 90) && !Array.Exists(second, v => Math.Abs(v) > 90))
        {
            (first, second) = (second, first);
            Problems.Add(0, $"column \"{ColumnPlan.ProblemText(Column.Header)}\" has the longitude first; it was read so");
        }
        columns[Quantity.Latitude] = first;
        columns[Quantity.Longitude] = second;
        channels.Add(new LogChannel(Quantity.Latitude, Column.Header, Column.Unit.Symbol));
        channels.Add(new LogChannel(Quantity.Longitude, Column.Header, Column.Unit.Symbol));
    }
}

/// <summary>Motor: a number, or words for on and off.</summary>
internal sealed class SwitchCells(PlannedColumn column, DecimalMarks marks, ProblemList problems) : NumberCells(column, marks, problems)
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

/// <summary>Wing settings: any text, kept as an index into the list of labels.</summary>
internal sealed class LabelCells(PlannedColumn column, ProblemList problems) : Cells(column, problems)
{
    /// <summary>More settings than a pilot has switches for: a servo's position, not a setting.</summary>
    private const int MostLabels = 32;

    private readonly ColumnBuffer _values = new();
    private readonly List<byte[]> _known = [];
    private bool _tooMany;

    /// <summary>Labels in order of appearance.</summary>
    public IReadOnlyList<string> Labels => _tooMany ? [] : _known.ConvertAll(Encoding.UTF8.GetString);

    public override void Read(ReadOnlySpan<byte> field, int line)
    {
        field = NumberText.Trim(field);
        if (field.Length == 0 || _tooMany)
        {
            _values.Add(double.NaN);
            return;
        }
        for (int i = 0; i < _known.Count; i++)
        {
            if (field.SequenceEqual(_known[i]))
            {
                _values.Add(i);
                return;
            }
        }
        _tooMany = _known.Count == MostLabels;
        _known.Add(field.ToArray());
        _values.Add(_known.Count - 1);
    }

    public override void Finish(Dictionary<Quantity, double[]> columns, List<LogChannel> channels)
    {
        if (_tooMany)
        {
            Problems.Add(0, $"column \"{ColumnPlan.ProblemText(Column.Header)}\" was not used: it has more than {MostLabels} different values, so it is no wing setting");
            return;
        }
        columns[Quantity.Camber] = _values.ToArray();
        channels.Add(new LogChannel(Quantity.Camber, Column.Header, ""));
    }
}
