using System.Buffers;
using System.Text;
using System.Text.Unicode;

namespace ThermalTrace.Logs;

/// <summary>
/// A log's text as UTF-8, whatever it was written in: a byte order mark or the pattern of zeros tells UTF-16 and UTF-32;
/// all else is UTF-8, and bytes that are not valid UTF-8 are taken as Latin-1 one by one (a degree sign from an old logger).
/// </summary>
internal sealed class Utf8Stream : ReadOnlyStream
{
    private const int BlockBytes = 1 << 16;
    private readonly Stream _inner;
    private readonly byte[] _raw = new byte[BlockBytes];
    private readonly char[] _chars = new char[BlockBytes];
    private byte[] _ready = [];
    private int _readyStart, _readyEnd;
    private int _rawKept;
    private bool _ended;
    private Decoder? _decoder;

    public Utf8Stream(Stream inner)
    {
        _inner = inner;
        Fill(4096);
        Detect();
    }

    /// <summary>The encoding found, for the inspector; "Latin-1" once a byte was read as such.</summary>
    public string EncodingName { get; private set; } = "UTF-8";

    /// <summary>True where the text began with a byte order mark.</summary>
    public bool HadMark { get; private set; }

    /// <summary>The first bytes of the text, as many as asked for or the whole of it; they are still to be read.</summary>
    public ReadOnlySpan<byte> Peek(int count)
    {
        while (_readyEnd - _readyStart < count && Decode())
        {
        }
        return _ready.AsSpan(_readyStart, Math.Min(count, _readyEnd - _readyStart));
    }

    /// <summary>Passes over bytes that were peeked at.</summary>
    public void Skip(int count) => _readyStart += count;

    /// <summary>Bytes of text given out by <see cref="Read"/>.</summary>
    public long BytesGiven { get; private set; }

    /// <summary>True once all of the text has been given out.</summary>
    public bool Exhausted { get; private set; }

    public override int Read(Span<byte> buffer)
    {
        if (_readyStart == _readyEnd && !Decode())
        {
            Exhausted = true;
            return 0;
        }
        int n = Math.Min(buffer.Length, _readyEnd - _readyStart);
        _ready.AsSpan(_readyStart, n).CopyTo(buffer);
        _readyStart += n;
        BytesGiven += n;
        return n;
    }

    private void Detect()
    {
        ReadOnlySpan<byte> raw = _raw.AsSpan(0, _rawKept);
        int mark = 0;
        Encoding? wide = null;
        if (raw.StartsWith<byte>([0xFF, 0xFE, 0, 0]))
        {
            (wide, mark) = (new UTF32Encoding(false, false), 4);
        }
        else if (raw.StartsWith<byte>([0, 0, 0xFE, 0xFF]))
        {
            (wide, mark) = (new UTF32Encoding(true, false), 4);
        }
        else if (raw.StartsWith<byte>([0xFF, 0xFE]))
        {
            (wide, mark) = (new UnicodeEncoding(false, false), 2);
        }
        else if (raw.StartsWith<byte>([0xFE, 0xFF]))
        {
            (wide, mark) = (new UnicodeEncoding(true, false), 2);
        }
        else if (raw.StartsWith<byte>([0xEF, 0xBB, 0xBF]))
        {
            mark = 3;
        }
        else if (raw.Length >= 8)
        {
            int even = 0, odd = 0;
            for (int i = 0; i + 1 < raw.Length; i += 2)
            {
                even += raw[i] == 0 ? 1 : 0;
                odd += raw[i + 1] == 0 ? 1 : 0;
            }
            // Text of a log is nearly all ASCII: in UTF-16 every other byte is zero.
            int pairs = raw.Length / 2;
            wide = odd > 0.8 * pairs && even < 0.05 * pairs ? new UnicodeEncoding(false, false)
                : even > 0.8 * pairs && odd < 0.05 * pairs ? new UnicodeEncoding(true, false) : null;
        }
        HadMark = mark > 0;
        if (wide is not null)
        {
            _decoder = wide.GetDecoder();
            EncodingName = wide is UTF32Encoding ? "UTF-32" : "UTF-16";
        }
        raw[mark..].CopyTo(_raw);
        _rawKept -= mark;
    }

    /// <summary>Reads raw bytes until there are at least as many as asked for, or no more.</summary>
    private void Fill(int atLeast)
    {
        while (!_ended && _rawKept < atLeast)
        {
            int n = _inner.Read(_raw.AsSpan(_rawKept));
            _ended = n == 0;
            _rawKept += n;
        }
    }

    /// <summary>Turns one more block into UTF-8; false at the end.</summary>
    private bool Decode()
    {
        Fill(_rawKept == 0 ? 1 : Math.Min(_rawKept + 1, _raw.Length));
        if (_rawKept == 0)
        {
            return false;
        }
        ReadOnlySpan<byte> raw = _raw.AsSpan(0, _rawKept);
        int used;
        if (_decoder is not null)
        {
            _decoder.Convert(raw, _chars, _ended, out used, out int chars, out _);
            ReadOnlySpan<char> text = _chars.AsSpan(0, chars);
            _readyEnd += Encoding.UTF8.GetBytes(text, Room(Encoding.UTF8.GetMaxByteCount(chars)));
        }
        else
        {
            int whole = _ended ? raw.Length : CompleteLength(raw);
            if (Ascii.IsValid(raw) || Utf8.IsValid(raw[..whole]))
            {
                used = whole;
                raw[..used].CopyTo(Room(used));
                _readyEnd += used;
            }
            else
            {
                used = DecodeMixed(raw);
            }
        }
        raw[used..].CopyTo(_raw);
        _rawKept -= used;
        return used > 0;
    }

    /// <summary>Length without a character that the block cuts in two.</summary>
    private static int CompleteLength(ReadOnlySpan<byte> raw)
    {
        for (int back = 1; back <= Math.Min(3, raw.Length); back++)
        {
            byte b = raw[^back];
            if (b >= 0xC0)
            {
                int needed = b >= 0xF0 ? 4 : b >= 0xE0 ? 3 : 2;
                return back < needed ? raw.Length - back : raw.Length;
            }
            if (b < 0x80)
            {
                break;
            }
        }
        return raw.Length;
    }

    private int DecodeMixed(ReadOnlySpan<byte> raw)
    {
        Span<byte> room = Room(raw.Length * 3);
        int used = 0, written = 0;
        while (used < raw.Length)
        {
            OperationStatus status = Rune.DecodeFromUtf8(raw[used..], out Rune rune, out int length);
            if (status == OperationStatus.NeedMoreData && !_ended && used > 0)
            {
                break;
            }
            if (status != OperationStatus.Done)
            {
                rune = new Rune(raw[used]);
                length = 1;
                EncodingName = "Latin-1";
            }
            written += rune.EncodeToUtf8(room[written..]);
            used += length;
        }
        _readyEnd += written;
        return used;
    }

    /// <summary>Free space after what is ready to be read.</summary>
    private Span<byte> Room(int count)
    {
        if (_readyStart == _readyEnd)
        {
            _readyStart = _readyEnd = 0;
        }
        if (_ready.Length < _readyEnd + count)
        {
            byte[] larger = new byte[Math.Max(_readyEnd + count, Math.Min(_ready.Length * 2, 1 << 22))];
            _ready.AsSpan(_readyStart, _readyEnd - _readyStart).CopyTo(larger);
            _readyEnd -= _readyStart;
            _readyStart = 0;
            _ready = larger;
        }
        return _ready.AsSpan(_readyEnd, count);
    }
}
