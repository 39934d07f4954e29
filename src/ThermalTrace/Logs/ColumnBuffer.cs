namespace ThermalTrace.Logs;

/// <summary>A column while it is being read: grows in blocks, so that no copy of what was read is made until the end.</summary>
internal sealed class ColumnBuffer
{
    private const int BlockRows = 1 << 15;
    private readonly List<double[]> _full = [];
    private double[] _block = new double[256];
    private int _used;

    /// <summary>Values so far.</summary>
    public int Count => _full.Count * BlockRows + _used;

    /// <summary>The value last added.</summary>
    public double Last => _used > 0 ? _block[_used - 1] : _full[^1][BlockRows - 1];

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
        for (int i = 0; i < _full.Count; i++)
        {
            _full[i].CopyTo(all, i * BlockRows);
            _full[i] = [];
        }
        Array.Copy(_block, 0, all, _full.Count * BlockRows, _used);
        _full.Clear();
        _block = [];
        _used = 0;
        return all;
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
