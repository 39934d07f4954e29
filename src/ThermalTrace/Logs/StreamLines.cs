namespace ThermalTrace.Logs;

/// <summary>Lines of a text stream as bytes, ended by LF, CR or both; a line longer than allowed is passed over and said to be.</summary>
internal sealed class StreamLines(Stream stream, int maxBytes) : IDisposable
{
    private readonly byte[] _buffer = new byte[Math.Max(1 << 16, maxBytes * 2)];
    private int _start, _end, _number;
    private bool _ended, _skipLineFeed;

    /// <summary>The next line, without its end.</summary>
    /// <param name="number">Counted from 1.</param>
    public bool Next(out ReadOnlySpan<byte> line, out int number, out bool tooLong)
    {
        tooLong = false;
        line = default;
        while (true)
        {
            if (_skipLineFeed && _start < _end)
            {
                _start += _buffer[_start] == '\n' ? 1 : 0;
                _skipLineFeed = false;
            }
            int length = _buffer.AsSpan(_start, _end - _start).IndexOfAny((byte)'\n', (byte)'\r');
            if (length < 0 && !_ended)
            {
                if (_end - _start > maxBytes)
                {
                    tooLong = true;
                    _start = _end = 0;
                }
                Fill();
                continue;
            }
            if (length < 0 && _start == _end && !tooLong)
            {
                number = _number;
                return false;
            }
            length = length < 0 ? _end - _start : length;
            line = tooLong ? default : _buffer.AsSpan(_start, length);
            _start = Math.Min(_end, _start + length);
            if (_start < _end)
            {
                _skipLineFeed = _buffer[_start++] == '\r';
            }
            number = ++_number;
            return true;
        }
    }

    public void Dispose() => stream.Dispose();

    private void Fill()
    {
        if (_start > 0)
        {
            _buffer.AsSpan(_start, _end - _start).CopyTo(_buffer);
            _end -= _start;
            _start = 0;
        }
        int n = stream.Read(_buffer.AsSpan(_end));
        _ended = n == 0;
        _end += n;
    }
}
