namespace ThermalTrace.Logs;

/// <summary>A column while it is being read: grows in blocks, so that no copy of what was read is made until the end.</summary>
/// <param name="expected">How many values are likely to come; more may.</param>
internal sealed class ColumnBuffer(int expected = 256)
{
    private const int BlockRows = 1 << 15;
    private readonly List<double[]> _full = [];
    private double[] _block = GC.AllocateUninitializedArray<double>(Math.Clamp(expected, 1, BlockRows));
    private int _used;

    /// <summary>Values so far.</summary>
    public int Count => _full.Count * BlockRows + _used;

    public void Add(double value)
    {
        if (_used == _block.Length)
        {
            Grow();
        }
        _block[_used++] = value;
    }

    /// <summary>The whole column; the buffer is empty afterwards.</summary>
    public double[] ToArray()
    {
        double[] all = GC.AllocateUninitializedArray<double>(Count);
        MoveTo(all);
        return all;
    }

    /// <summary>Moves the column to where it is wanted; the buffer is empty afterwards.</summary>
    public void MoveTo(Span<double> target)
    {
        for (int i = 0; i < _full.Count; i++)
        {
            _full[i].CopyTo(target[(i * BlockRows)..]);
            _full[i] = [];
        }
        _block.AsSpan(0, _used).CopyTo(target[(_full.Count * BlockRows)..]);
        _full.Clear();
        _block = [];
        _used = 0;
    }

    private void Grow()
    {
        if (_block.Length < BlockRows)
        {
            Array.Resize(ref _block, Math.Min(BlockRows, Math.Max(256, _block.Length * 4)));
            return;
        }
        _full.Add(_block);
        _block = GC.AllocateUninitializedArray<double>(BlockRows);
        _used = 0;
    }
}
