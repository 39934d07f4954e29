using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>Puts blocks of rows together in file order and makes columns of them.</summary>
internal sealed class RowTable(Preamble table, ColumnPlan plan, ProblemList problems)
{
    private readonly List<BlockRows> _blocks = [];
    private readonly DateCounts _dates = new();
    private readonly LabelList _labels = new();
    private int? _offsetMinutes;
    private int _seen, _otherMarks, _firstOtherMarkLine;
    private byte _mark;

    /// <summary>Rows so far.</summary>
    public int Count { get; private set; }

    public void Append(BlockRows block)
    {
        _seen += block.Seen;
        problems.Append(block.Problems);
        if (block.Marks.Others > 0)
        {
            _firstOtherMarkLine = _otherMarks == 0 ? block.Marks.FirstOtherLine : _firstOtherMarkLine;
            _otherMarks += block.Marks.Others;
            _mark = block.Marks.Usual;
        }
        if (block.Ticks.Count == 0)
        {
            return;
        }
        Count += block.Ticks.Count;
        _dates.Add(block.Dates);
        _offsetMinutes ??= block.OffsetMinutes;
        foreach (LabelCells cells in block.Cells.OfType<LabelCells>())
        {
            cells.Number(_labels);
        }
        _blocks.Add(block);
    }

    /// <exception cref="UnusableInputException">No row could be read.</exception>
    public RawLog Finish(string name)
    {
        if (Count == 0)
        {
            int tooLong = problems.CountOf(ProblemKind.LongRow, -1);
            throw new UnusableInputException(
                tooLong > 0 ? $"{name}: every row has more fields than the header's {table.Headers.Count:N0}; a decimal comma in a file separated by commas? Export it with semicolons"
                : _seen > 0 ? $"{name}: none of {Words.Count(_seen, "row")} has a time that can be read in column \"{ColumnPlan.ProblemText(plan.Stamp.Header)}\""
                : $"{name}: there is no row below the header in line {table.HeaderLine}");
        }
        if (_otherMarks > 0)
        {
            bool comma = _mark == '.';
            problems.Add(_firstOtherMarkLine, $"a decimal {(comma ? "comma" : "point")} in {Words.Count(_otherMarks, "number")} of a file with decimal {(comma ? "points" : "commas")}; both were read as decimals");
        }
        int[] lines = Joined(b => b.Lines);
        long[] ticks = Joined(b => b.Ticks);
        StampSequence.Settle(ticks, plan.Stamps, _dates, _offsetMinutes, lines[0], problems);
        Dictionary<Quantity, double[]> columns = [];
        List<LogChannel> channels = [new LogChannel(Quantity.Time, plan.Stamp.Header, plan.Stamps.UnitText)];
        double[][][] values = Values();
        for (int c = 0; c < plan.Columns.Count; c++)
        {
            ColumnFinish.Add(plan.Columns[c], values[c], _labels, columns, channels, problems);
        }
        return new RawLog
        {
            Ticks = Array.ConvertAll(ticks, t => (double)(t - ticks[0])),
            BaseTicks = ticks[0],
            Lines = lines,
            Columns = columns,
            Channels = channels,
            CamberLabels = columns.ContainsKey(Quantity.Camber) ? _labels.ToList() : [],
            HasClock = plan.Stamps.HasClock,
            HasDate = plan.Stamps.HasDate,
            OffsetMinutes = _offsetMinutes ?? (plan.Stamps.Kind == StampKind.EpochNumber ? 0 : null),
        };
    }

    /// <summary>Whole columns, each as its one or two parts (a position has two).</summary>
    private double[][][] Values()
    {
        double[][][] values = new double[plan.Columns.Count][][];
        Parallel.For(0, values.Length, c =>
        {
            values[c] = new double[_blocks[0].Cells[c].Parts.Length][];
            for (int p = 0; p < values[c].Length; p++)
            {
                double[] whole = GC.AllocateUninitializedArray<double>(Count);
                int at = 0;
                foreach (BlockRows block in _blocks)
                {
                    ColumnBuffer part = block.Cells[c].Parts[p];
                    int count = part.Count;
                    part.MoveTo(whole.AsSpan(at));
                    at += count;
                }
                values[c][p] = whole;
            }
        });
        return values;
    }

    private T[] Joined<T>(Func<BlockRows, List<T>> of)
    {
        T[] whole = new T[Count];
        int at = 0;
        foreach (BlockRows block in _blocks)
        {
            List<T> part = of(block);
            part.CopyTo(whole, at);
            at += part.Count;
        }
        return whole;
    }
}
