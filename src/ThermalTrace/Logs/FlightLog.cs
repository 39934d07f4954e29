namespace ThermalTrace.Logs;

/// <summary>A column of the file behind a quantity.</summary>
/// <param name="Quantity">What it measures.</param>
/// <param name="Column">The column's name as the file has it (untrusted text); for a derived one, how it came about.</param>
/// <param name="Unit">The unit in the file, before conversion to SI; empty where there is none.</param>
/// <param name="Derived">True where the importer computed it from other columns.</param>
public sealed record LogChannel(Quantity Quantity, string Column, string Unit, bool Derived = false);

/// <summary>Something that was wrong with a log and what was done about it.</summary>
/// <param name="Line">Line in the file, counted from 1; 0 where it concerns the whole file.</param>
/// <param name="Text">What was found, what was expected, what was done.</param>
public sealed record LogProblem(int Line, string Text);

/// <summary>
/// One log as the later stages see it: clean columns in SI (angles in degrees), one value a row, NaN where missing.
/// Rows are in strictly rising time; every repair is listed in <see cref="Problems"/>.
/// </summary>
public sealed class FlightLog
{
    private readonly double[] _timeS;
    private readonly IReadOnlyDictionary<Quantity, double[]> _columns;

    /// <summary>Takes ownership of the arrays, which must all be as long as <paramref name="timeS"/>.</summary>
    /// <exception cref="ArgumentException">A column's length differs, or time does not rise strictly from 0.</exception>
    public FlightLog(string file, string sha256, double[] timeS, IReadOnlyDictionary<Quantity, double[]> columns,
        IReadOnlyList<LogChannel> channels, IReadOnlyList<LogProblem> problems)
    {
        ArgumentNullException.ThrowIfNull(timeS);
        ArgumentNullException.ThrowIfNull(columns);
        foreach ((Quantity quantity, double[] values) in columns)
        {
            if (values.Length != timeS.Length)
            {
                throw new ArgumentException($"column {quantity} has {values.Length} rows, time has {timeS.Length}", nameof(columns));
            }
        }
        for (int i = 1; i < timeS.Length; i++)
        {
            if (!(timeS[i] > timeS[i - 1]))
            {
                throw new ArgumentException($"time does not rise at row {i}", nameof(timeS));
            }
        }
        File = file;
        Sha256 = sha256;
        _timeS = timeS;
        _columns = columns;
        Channels = channels;
        Problems = problems;
    }

    /// <summary>File name within the session folder (untrusted text).</summary>
    public string File { get; }

    /// <summary>SHA-256 of the file's bytes, lower-case hexadecimal.</summary>
    public string Sha256 { get; }

    /// <summary>Number of usable rows.</summary>
    public int Rows => _timeS.Length;

    /// <summary>Typical sampling rate: one over the median step between rows with distinct data, Hz.</summary>
    public double RateHz { get; init; }

    /// <summary>What the columns are, derived ones included.</summary>
    public IReadOnlyList<LogChannel> Channels { get; }

    /// <summary>Repairs and complaints, in file order.</summary>
    public IReadOnlyList<LogProblem> Problems { get; }

    /// <summary>Labels behind the indices of <see cref="Quantity.Camber"/> (untrusted text).</summary>
    public IReadOnlyList<string> CamberLabels { get; init; } = [];

    /// <summary>Time of day at the earliest stamp, s after midnight on the log's own clock; null where the log has no clock.</summary>
    public double? ClockAtStartS { get; init; }

    /// <summary>The earliest stamp, where the log has date and time; as logged (no zone is assumed beyond what it states).</summary>
    public DateTimeOffset? StartedAt { get; init; }

    /// <summary>Seconds from the log's earliest stamp, strictly rising from 0.</summary>
    public ReadOnlySpan<double> TimeS => _timeS;

    /// <summary>True where the log has the quantity (some rows may still be NaN).</summary>
    public bool Has(Quantity quantity) => _columns.ContainsKey(quantity);

    /// <summary>The quantity's column, NaN where missing; empty where the log does not have it.</summary>
    public ReadOnlySpan<double> this[Quantity quantity] =>
        _columns.TryGetValue(quantity, out double[]? values) ? values : ReadOnlySpan<double>.Empty;
}
