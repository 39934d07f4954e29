using System.Globalization;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Jobs;

/// <summary>The document <c>thermaltrace.inspect/1</c>. Lists are never null; what is not known is null.</summary>
internal sealed record InspectDocument(string Schema, IReadOnlyList<InspectedLog> Logs, IReadOnlyList<UnusableLog> Unusable);

/// <summary>A log that could not be used, and the importer's reason.</summary>
internal sealed record UnusableLog(string File, string Why);

/// <summary>A quantity of a log: where it came from, how much of it is there and what it spans, in SI (angles in degrees, ballast in g).</summary>
internal sealed record InspectedChannel(string Quantity, string Column, string Unit, bool Derived, int Values, double? Least, double? Greatest);

/// <summary>A time without rows.</summary>
internal sealed record InspectedGap(double StartS, double LengthS);

/// <summary>What the importer found.</summary>
internal sealed record InspectedLog(string File, string Sha256, int Rows, double? RateHz, double LengthS, string? ClockAtStart, string? StartedAt,
    IReadOnlyList<InspectedChannel> Channels, IReadOnlyList<InspectedGap> Gaps, IReadOnlyList<InspectedProblem> Problems)
{
    // A lost row or two is jitter; five steps, and two seconds at least, is a gap that a person would see in a plot.
    private const double GapSteps = 5;
    private const double ShortestGapS = 2;

    public static InspectedLog Of(string path, FlightLog log)
    {
        ReadOnlySpan<double> time = log.TimeS;
        double gapS = Math.Max(ShortestGapS, log.RateHz > 0 ? GapSteps / log.RateHz : ShortestGapS);
        List<InspectedGap> gaps = [];
        for (int i = 1; i < time.Length; i++)
        {
            if (time[i] - time[i - 1] > gapS)
            {
                gaps.Add(new InspectedGap(time[i - 1], time[i] - time[i - 1]));
            }
        }
        return new InspectedLog(path, log.Sha256, log.Rows, log.RateHz > 0 ? log.RateHz : null, time.Length > 0 ? time[^1] : 0,
            log.ClockAtStartS is { } clock ? ClockText.Of(clock) : null, log.StartedAt?.ToString("yyyy-MM-ddTHH:mm:sszzz", CultureInfo.InvariantCulture),
            [.. log.Channels.Select(c => Channel(log, c))], gaps, [.. log.Problems.Select(p => new InspectedProblem(p.Line, p.Text))]);
    }

    private static InspectedChannel Channel(FlightLog log, LogChannel channel)
    {
        int values = 0;
        double least = double.PositiveInfinity, greatest = double.NegativeInfinity;
        foreach (double value in channel.Quantity == Quantity.Time ? log.TimeS : log[channel.Quantity])
        {
            if (!double.IsNaN(value))
            {
                values++;
                least = Math.Min(least, value);
                greatest = Math.Max(greatest, value);
            }
        }
        return new InspectedChannel(ColumnsFile.NameOf(channel.Quantity), channel.Column, channel.Unit, channel.Derived, values,
            values > 0 ? least : null, values > 0 ? greatest : null);
    }
}

/// <summary>A repair or complaint; line 0 concerns the whole file.</summary>
internal sealed record InspectedProblem(int Line, string Text);
