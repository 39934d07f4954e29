using System.Security.Cryptography;

namespace ThermalTrace.Logs;

/// <summary>
/// The log's raw bytes on their way in: counts them, tells progress, stops when cancelled. Their hash is computed beside the
/// reading, from the block that is being read.
/// </summary>
internal sealed class SourceStream : ReadOnlyStream
{
    private const int BlockBytes = 1 << 18;
    private readonly Stream _inner;
    private readonly IProgress<double>? _progress;
    private readonly CancellationToken _cancel;
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly long _length;
    private byte[] _block = new byte[BlockBytes], _other = new byte[BlockBytes];
    private int _start, _end;
    private Task _hashing = Task.CompletedTask;
    private long _count;
    private double _told;

    public SourceStream(Stream inner, IProgress<double>? progress, CancellationToken cancel)
    {
        _inner = inner;
        _progress = progress;
        _cancel = cancel;
        _length = inner.CanSeek ? inner.Length - inner.Position : 0;
    }

    public override int Read(Span<byte> buffer)
    {
        if (_start == _end && !Fill())
        {
            return 0;
        }
        int n = Math.Min(buffer.Length, _end - _start);
        _block.AsSpan(_start, n).CopyTo(buffer);
        _start += n;
        return n;
    }

    /// <summary>Reads what is left and gives the SHA-256 of all bytes, lower-case hexadecimal.</summary>
    public string FinishHash()
    {
        while (Fill())
        {
        }
        _hashing.GetAwaiter().GetResult();
        if (_told < 1)
        {
            _progress?.Report(1);
        }
        return Convert.ToHexStringLower(_hash.GetHashAndReset());
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
        {
            _hashing.Wait(CancellationToken.None);
            _hash.Dispose();
        }
        base.Dispose(disposing);
    }

    /// <summary>Reads the next block; false at the end. The other block is free once its hash is done.</summary>
    private bool Fill()
    {
        _cancel.ThrowIfCancellationRequested();
        _hashing.GetAwaiter().GetResult();
        (_block, _other) = (_other, _block);
        _start = 0;
        _end = _inner.Read(_block);
        if (_end == 0)
        {
            return false;
        }
        (byte[] block, int end) = (_block, _end);
        _hashing = Task.Run(() => _hash.AppendData(block, 0, end), CancellationToken.None);
        _count += _end;
        if (_progress is not null && _length > 0 && (double)_count / _length >= _told + 0.01)
        {
            _told = Math.Min(1, (double)_count / _length);
            _progress.Report(_told);
        }
        return true;
    }
}

/// <summary>A stream that can be read forwards and nothing else.</summary>
internal abstract class ReadOnlyStream : Stream
{
    public override bool CanRead => true;
    public override bool CanSeek => false;
    public override bool CanWrite => false;
    public override long Length => throw new NotSupportedException();
    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }
    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));
    public abstract override int Read(Span<byte> buffer);
    public override void Flush() { }
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();
    public override void SetLength(long value) => throw new NotSupportedException();
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
