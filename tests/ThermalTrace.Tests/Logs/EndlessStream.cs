namespace ThermalTrace.Tests.Logs;

/// <summary>Gives a beginning, then one pattern over and over up to a length; never holds it.</summary>
internal sealed class EndlessStream(byte[] pattern, long length, byte[]? start = null) : Stream
{
    private int _phase, _begun;

    public long Given { get; private set; }

    public (long Bytes, Action Act) AfterBytes { get; init; } = (long.MaxValue, () => { });

    public override bool CanRead => true;
    public override bool CanSeek => false;
    public override bool CanWrite => false;
    public override long Length => throw new NotSupportedException();
    public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

    public override int Read(byte[] buffer, int offset, int count)
    {
        int n = 0;
        while (n < count && start is not null && _begun < start.Length)
        {
            buffer[offset + n++] = start[_begun++];
        }
        while (n < count && Given + n < length)
        {
            buffer[offset + n++] = pattern[_phase];
            _phase = (_phase + 1) % pattern.Length;
        }
        Given += n;
        if (Given > AfterBytes.Bytes)
        {
            AfterBytes.Act();
        }
        return n;
    }

    public override void Flush() { }
    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();
    public override void SetLength(long value) => throw new NotSupportedException();
    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
