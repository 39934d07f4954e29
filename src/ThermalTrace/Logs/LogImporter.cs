using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>Reads logs as they come: delimited text of any flavour, IGC, GPX. Repairs what it can and lists every repair.</summary>
public static class LogImporter
{
    /// <summary>Reads a log.</summary>
    /// <param name="stream">The file's bytes, read once from where it stands; need not be seekable.</param>
    /// <param name="name">File name, for messages; the kind of file is told by its content.</param>
    /// <param name="notes">Rows of <c>columns.csv</c>; those for other logs do not matter.</param>
    /// <param name="progress">Told the share of bytes read, 0 to 1.</param>
    /// <param name="cancel">Stops the reading.</param>
    /// <exception cref="UnusableInputException">Nothing usable is left: the message says what was looked for and what was found.</exception>
    /// <exception cref="OperationCanceledException">Cancelled.</exception>
    public static FlightLog Read(Stream stream, string name, IReadOnlyList<ColumnNote> notes, IProgress<double>? progress = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(notes);
        using SourceStream source = new(stream, progress, cancel);
        using Utf8Stream text = new(source);
        ProblemList problems = new();
        RawLog raw = Sniffer.KindOf(text, name) switch
        {
            LogKind.Igc => IgcReader.Read(text, name, problems),
            LogKind.Gpx => GpxReader.Read(text, name, problems),
            _ => DelimitedReader.Read(text, name, notes, problems),
        };
        string sha256 = source.FinishHash();
        StampRepair.Apply(raw, problems);
        return Finish(raw, name, sha256, problems);
    }

    private static FlightLog Finish(RawLog raw, string name, string sha256, ProblemList problems)
    {
        double first = raw.Ticks[0];
        double[] timeS = Array.ConvertAll(raw.Ticks, t => (t - first) / TimeSpan.TicksPerSecond);
        double rateHz = Median.RateHz(timeS);
        GapReport.Gaps(raw, timeS, rateHz, problems);
        FixRepair.Apply(raw, timeS, problems);
        GapReport.Missing(raw, problems);
        SpikeRepair.Apply(raw, timeS, problems);
        StuckSensors.Apply(raw, timeS, problems);
        DerivedChannels.Apply(raw, timeS);
        long start = raw.BaseTicks + (long)first;
        return new FlightLog(name, sha256, timeS, raw.Columns, raw.Channels, problems.ToList())
        {
            RateHz = rateHz,
            CamberLabels = raw.CamberLabels,
            ClockAtStartS = raw.HasClock ? start % TimeSpan.TicksPerDay / (double)TimeSpan.TicksPerSecond : null,
            StartedAt = raw.HasClock && raw.HasDate ? new DateTimeOffset(start, TimeSpan.FromMinutes(raw.OffsetMinutes ?? 0)) : null,
        };
    }
}
