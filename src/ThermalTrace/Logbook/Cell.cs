using System.Buffers;
using System.Buffers.Binary;
using System.Text;

namespace ThermalTrace.Logbook;

/// <summary>
/// One value of a row as the logbook keeps it. A number that is not known is an empty cell, whether it was null or NaN; minus
/// zero is zero, since the database keeps no sign of it.
/// </summary>
internal readonly struct Cell
{
    private static readonly object ANumber = new(), AWhole = new();
    private readonly long _bits;
    private readonly object? _content;

    private Cell(long bits, object? content) => (_bits, _content) = (bits, content);

    /// <summary>Nothing is known.</summary>
    public bool IsEmpty => _content is null;

    public static Cell Of(double? number) => number is { } n && !double.IsNaN(n) ? new Cell(BitConverter.DoubleToInt64Bits(n == 0 ? 0 : n), ANumber) : default;

    public static Cell Of(string? text) => new(0, text);

    public static Cell Of(long whole) => new(whole, AWhole);

    public static Cell Of(bool yes) => new(yes ? 1 : 0, AWhole);

    public static Cell Of(IReadOnlyList<double> numbers) => new(0, numbers as double[] ?? [.. numbers]);

    public static Cell Of(IReadOnlyList<string> texts) => new(0, texts as string[] ?? [.. texts]);

    public static Cell Of(byte[] bytes) => new(0, bytes);

    /// <summary>NaN where empty.</summary>
    public double Number => NumberOrNull ?? double.NaN;

    public double? NumberOrNull => IsEmpty ? null : _content == ANumber ? BitConverter.Int64BitsToDouble(_bits) : throw Wrong("a number");

    public long Long => _content == AWhole ? _bits : throw Wrong("a whole number");

    public int Whole => checked((int)Long);

    public bool Yes => Long switch { 0 => false, 1 => true, _ => throw Wrong("0 or 1") };

    public string Text => _content as string ?? throw Wrong("a text");

    public string? TextOrNull => IsEmpty ? null : Text;

    public double[] Numbers => _content as double[] ?? throw Wrong("a list of numbers");

    public string[] Texts => _content as string[] ?? throw Wrong("a list of texts");

    public byte[] Bytes => _content as byte[] ?? throw Wrong("bytes");

    /// <summary>
    /// One way to write a value and no other: what checksums are made of. A tag, then eight bytes of a number or a length and
    /// that many bytes, all least byte first.
    /// </summary>
    public void AppendTo(ArrayBufferWriter<byte> to)
    {
        switch (_content)
        {
            case null:
                Tag(to, 0);
                break;
            case string text:
                Tag(to, 3);
                AppendText(to, text);
                break;
            case double[] numbers:
                Tag(to, 4);
                AppendLong(to, numbers.Length);
                AppendNumbers(to, numbers);
                break;
            case string[] texts:
                Tag(to, 5);
                AppendLong(to, texts.Length);
                foreach (string text in texts)
                {
                    AppendText(to, text);
                }
                break;
            case byte[] bytes:
                Tag(to, 6);
                AppendLong(to, bytes.Length);
                to.Write(bytes);
                break;
            default:
                Tag(to, _content == ANumber ? (byte)1 : (byte)2);
                AppendLong(to, _bits);
                break;
        }
    }

    /// <summary>Takes a value that <see cref="AppendTo"/> wrote off the front of bytes.</summary>
    /// <exception cref="InvalidDataException">Not such bytes.</exception>
    public static Cell Take(ref ReadOnlySpan<byte> from)
    {
        byte tag = Front(ref from, 1)[0];
        if (tag == 0)
        {
            return default;
        }
        long number = BinaryPrimitives.ReadInt64LittleEndian(Front(ref from, sizeof(long)));
        switch (tag)
        {
            case 1:
                return new Cell(number, ANumber);
            case 2:
                return new Cell(number, AWhole);
            case 3:
                return new Cell(0, Encoding.UTF8.GetString(Front(ref from, number)));
            case 4:
                return new Cell(0, NumbersFrom(Front(ref from, number * sizeof(double))));
            case 5:
                string[] texts = new string[number <= from.Length ? number : throw Wrong("a list of texts")];
                for (int i = 0; i < texts.Length; i++)
                {
                    texts[i] = Encoding.UTF8.GetString(Front(ref from, BinaryPrimitives.ReadInt64LittleEndian(Front(ref from, sizeof(long)))));
                }
                return new Cell(0, texts);
            case 6:
                return new Cell(0, Front(ref from, number).ToArray());
            default:
                throw Wrong("a value");
        }
    }

    private static ReadOnlySpan<byte> Front(ref ReadOnlySpan<byte> from, long length)
    {
        if (!(length >= 0 && length <= from.Length))
        {
            throw Wrong("more bytes");
        }
        ReadOnlySpan<byte> front = from[..(int)length];
        from = from[(int)length..];
        return front;
    }

    /// <summary>Numbers as eight bytes each, least byte first, bit for bit.</summary>
    public static void AppendNumbers(IBufferWriter<byte> to, ReadOnlySpan<double> numbers)
    {
        Span<byte> bytes = to.GetSpan(numbers.Length * sizeof(double));
        for (int i = 0; i < numbers.Length; i++)
        {
            BinaryPrimitives.WriteDoubleLittleEndian(bytes[(i * sizeof(double))..], numbers[i]);
        }
        to.Advance(numbers.Length * sizeof(double));
    }

    /// <summary>Undoes <see cref="AppendNumbers"/>.</summary>
    /// <exception cref="InvalidDataException">Not eight bytes each.</exception>
    public static double[] NumbersFrom(ReadOnlySpan<byte> bytes)
    {
        if (bytes.Length % sizeof(double) != 0)
        {
            throw new InvalidDataException("a list of numbers breaks off within one");
        }
        double[] numbers = new double[bytes.Length / sizeof(double)];
        for (int i = 0; i < numbers.Length; i++)
        {
            numbers[i] = BinaryPrimitives.ReadDoubleLittleEndian(bytes[(i * sizeof(double))..]);
        }
        return numbers;
    }

    public static void AppendText(IBufferWriter<byte> to, string text)
    {
        int length = Encoding.UTF8.GetByteCount(text);
        AppendLong(to, length);
        Encoding.UTF8.GetBytes(text, to.GetSpan(length));
        to.Advance(length);
    }

    private static void AppendLong(IBufferWriter<byte> to, long value)
    {
        BinaryPrimitives.WriteInt64LittleEndian(to.GetSpan(sizeof(long)), value);
        to.Advance(sizeof(long));
    }

    private static void Tag(ArrayBufferWriter<byte> to, byte tag)
    {
        to.GetSpan(1)[0] = tag;
        to.Advance(1);
    }

    private static InvalidDataException Wrong(string expected) => new($"{expected} was expected");
}
