using System.Buffers;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>
/// Reads a delimited log into columns: header and sample decide what is read and how; then blocks of lines are read side by
/// side and put together in file order, so that the result does not depend on the number of threads.
/// </summary>
internal static class DelimitedReader
{
    /// <summary>Rows beyond this many are refused: more would be no log of a model's day, and memory has an end.</summary>
    private const int MaxRows = 20_000_000;

    /// <summary>A longer line is a broken file.</summary>
    private const int MaxLineBytes = 1 << 20;

    /// <summary>The text looked at to find header and separator.</summary>
    private const int HeadBytes = 1 << 18;

    /// <exception cref="UnusableInputException">No table, no time, no height or no rows.</exception>
    public static RawLog Read(Utf8Stream text, string name, IReadOnlyList<ColumnNote> notes, ProblemList problems)
    {
        ReadOnlySpan<byte> head = text.Peek(HeadBytes);
        if (head.Length == HeadBytes && head.IndexOfAny((byte)'\n', (byte)'\r') < 0)
        {
            head = text.Peek(MaxLineBytes);
        }
        Preamble table = Preamble.Find(head, head.Length < HeadBytes, name, notes);
        if (table.HeaderLine == 0)
        {
            problems.Add(0, $"no header was found; the columns are called \"column 1\" to \"column {table.Headers.Count}\", and columns.csv can say what they are");
        }
        ColumnPlan plan = ColumnPlan.Decide(table, name, notes, problems);
        text.Skip(table.DataOffset);
        LineBlocks blocks = new(text, table.DataLine, MaxLineBytes);
        RowTable rows = new(table, plan, problems);
        ReadBlocks(blocks, table, plan, rows, name);
        if (blocks.TooLongLine > 0)
        {
            if (rows.Count == 0)
            {
                throw new UnusableInputException($"{name}:{blocks.TooLongLine}: the line is longer than {MaxLineBytes:N0} bytes; expected a row of {table.Headers.Count:N0} fields");
            }
            problems.Add(blocks.TooLongLine, $"the line is longer than {MaxLineBytes:N0} bytes; it and what follows were not read");
        }
        return rows.Finish(name);
    }

    private static void ReadBlocks(LineBlocks blocks, Preamble table, ColumnPlan plan, RowTable rows, string name)
    {
        int most = Environment.ProcessorCount + 1;
        Queue<Task<BlockRows>> reading = new();
        try
        {
            while (blocks.Next() is LineBlock block)
            {
                reading.Enqueue(Task.Run(() => ReadBlock(block, table, plan)));
                if (reading.Count >= most)
                {
                    rows.Append(reading.Dequeue().GetAwaiter().GetResult());
                }
                if (rows.Count > MaxRows)
                {
                    throw new UnusableInputException($"{name}: more than {MaxRows:N0} rows; split the log");
                }
            }
            while (reading.Count > 0)
            {
                rows.Append(reading.Dequeue().GetAwaiter().GetResult());
            }
        }
        finally
        {
            // Cancelled or refused: what is under way ends before the caller goes on.
            Task.WhenAll(reading).ContinueWith(_ => { }, TaskScheduler.Default).Wait();
        }
    }

    private static BlockRows ReadBlock(LineBlock block, Preamble table, ColumnPlan plan)
    {
        try
        {
            return BlockRows.Read(block, table, plan);
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(block.Bytes);
        }
    }
}
