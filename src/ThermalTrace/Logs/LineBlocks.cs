using System.Buffers;

namespace ThermalTrace.Logs;

/// <summary>A piece of a log's text that holds whole lines.</summary>
/// <param name="Bytes">Rented from the shared pool; whoever reads the block gives it back.</param>
/// <param name="Length">Bytes in use.</param>
/// <param name="FirstLine">Line of the first byte, counted from 1.</param>
/// <param name="Lines">How many line ends it has.</param>
/// <param name="EndsText">True for the last block.</param>
internal sealed record LineBlock(byte[] Bytes, int Length, int FirstLine, int Lines, bool EndsText);

/// <summary>Cuts text into blocks at line ends, so that they can be read side by side.</summary>
internal sealed class LineBlocks(Stream text, int firstLine, int maxLineBytes)
{
    private readonly int _blockBytes = 2 * maxLineBytes;
    private byte[] _kept = [];
    private int _line = firstLine;
    private bool _ended;

    /// <summary>Line that is longer than allowed; 0 while none was met. Nothing after it is given.</summary>
    public int TooLongLine { get; private set; }

    /// <summary>The next block, or null.</summary>
    public LineBlock? Next()
    {
        if (_ended)
        {
            return null;
        }
        byte[] bytes = ArrayPool<byte>.Shared.Rent(_blockBytes);
        _kept.CopyTo(bytes, 0);
        int length = _kept.Length;
        while (length < _blockBytes && !_ended)
        {
            int n = text.Read(bytes.AsSpan(length, _blockBytes - length));
            _ended = n == 0;
            length += n;
        }
        int whole = WholeLines(bytes.AsSpan(0, length));
        int lines = CountLines(bytes.AsSpan(0, whole));
        if (length - whole > maxLineBytes)
        {
            TooLongLine = _line + lines;
            _ended = true;
        }
        else if (_ended)
        {
            whole = length;
        }
        _kept = bytes[whole..length];
        LineBlock block = new(bytes, whole, _line, lines, _ended && TooLongLine == 0);
        _line += lines;
        return block;
    }

    /// <summary>Length up to and with the last line end; a CR at the very end may be half of one.</summary>
    private static int WholeLines(ReadOnlySpan<byte> text)
    {
        int end = text.LastIndexOf((byte)'\n');
        if (end < 0 && text.Length > 0)
        {
            end = text[..^1].LastIndexOf((byte)'\r');
        }
        return end + 1;
    }

    private static int CountLines(ReadOnlySpan<byte> text)
    {
        int returns = text.Count((byte)'\r');
        return text.Count((byte)'\n') + returns - (returns > 0 ? text.Count("\r\n"u8) : 0);
    }
}
