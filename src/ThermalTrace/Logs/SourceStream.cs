using System.Security.Cryptography;

namespace ThermalTrace.Logs;

/// <summary>The log's raw bytes on their way in: hashes them, counts them, tells progress, stops when cancelled.</summary>
internal sealed class SourceStream : ReadOnlyStream
{
    private readonly Stream _inner;
    private readonly IProgress<double>? _progress;
    private readonly CancellationToken _cancel;
    private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
    private readonly long _length;
    private long _count;
    private double _told;

    public SourceStream(Stream inner, IProgress<double>? progress, CancellationToken cancel)
    {
        _inner = inner;
        _progress = progress;
        _cancel = cancel;
        _length = inner.CanSeek ? inner.Length - inner.Position : 0;
    }

    /// <summary>Bytes read so far.</summary>
    public long BytesRead => _count;

    public override int Read(Span<byte> buffer)
    {
        _cancel.ThrowIfCancellationRequested();
        int n = _inner.Read(buffer);
        _hash.AppendData(buffer[..n]);
        _count += n;
        if (_progress is not null && _length > 0 && (double)_count / _length >= _told + 0.01)
        {
            _told = Math.Min(1, (double)_count / _length);
            _progress.Report(_told);
        }
        return n;
    }

    /// <summary>Reads what is left and gives the SHA-256 of all bytes, lower-case hexadecimal.</summary>
    public string FinishHash()
    {
        byte[] scratch = new byte[1 << 16];
        while (Read(scratch) > 0)
        {
        }
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
            _hash.Dispose();
        }
        base.Dispose(disposing);
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
