using System.Globalization;
using System.Text;

namespace ThermalTrace.Calibration;

/// <summary>
/// Where the truth lay among the draws, in tenths: flat where the posterior is right, a hump where it is too wide, a bowl where
/// too narrow, a slope where it is biased (Talts et al. 2018, arXiv:1804.06788; Modrák et al. 2023, Bayesian Analysis).
/// </summary>
internal static class RankHistogram
{
    public const int Bins = 10;

    private static readonly (string Name, Func<Ranks, double> Of)[] Quantities =
    [
        ("sink at the speed of least sink", r => r.SinkAtLeast),
        ("sink at the middle speed flown", r => r.SinkAtMiddle),
        ("sink at the fastest speed flown", r => r.SinkAtFast),
        ("round-trip climb, lightest option", r => r.RoundTrip),
    ];

    /// <summary>How many ranks fall in each tenth.</summary>
    public static int[] Counts(IEnumerable<double> ranks)
    {
        int[] counts = new int[Bins];
        foreach (double rank in ranks.Where(r => !double.IsNaN(r)))
        {
            counts[Math.Min((int)(rank * Bins), Bins - 1)]++;
        }
        return counts;
    }

    /// <summary>Drawn for all kinds together, then as numbers kind by kind.</summary>
    public static string Write(IReadOnlyList<(string Kind, IReadOnlyList<SessionResult> Results)> kinds)
    {
        StringBuilder text = new("### Rank of the truth among the posterior's draws\n\nBelow 0.1 the truth is less than nine draws in ten. `outside` counts the tenths that leave the range in which 95 % of a flat histogram's counts stay: one in twenty would by chance.\n\n");
        foreach ((string name, Func<Ranks, double> of) in Quantities)
        {
            int[] all = Counts(kinds.SelectMany(k => k.Results).Select(r => of(r.Ranks)));
            if (all.Sum() == 0)
            {
                continue;
            }
            (int low, int high) = Figures.BinomialRange(all.Sum(), 1.0 / Bins);
            text.Append(CultureInfo.InvariantCulture, $"{Capital(name)}, {all.Sum()} sessions; a flat histogram stays within {low} to {high}; {Outside(all, low, high)} of {Bins} outside:\n\n```\n");
            for (int b = 0; b < Bins; b++)
            {
                string mark = all[b] < low || all[b] > high ? " outside" : "";
                int length = (int)Math.Round(40.0 * all[b] / Math.Max(all.Max(), high));
                text.Append(CultureInfo.InvariantCulture, $"{b / (double)Bins:0.0}–{(b + 1) / (double)Bins:0.0} {new string('#', length).PadRight(40)} {all[b]}{mark}\n");
            }
            text.Append("```\n\n");
        }
        text.Append(CultureInfo.InvariantCulture, $"| kind | flat | {string.Join(" | ", Quantities.Select(q => q.Name))} |\n|{string.Concat(Enumerable.Repeat(" --- |", Quantities.Length + 2))}\n");
        foreach ((string kind, IReadOnlyList<SessionResult> results) in kinds)
        {
            int[][] counts = [.. Quantities.Select(q => Counts(results.Select(r => q.Of(r.Ranks))))];
            (int low, int high) = Figures.BinomialRange(counts.Max(c => c.Sum()), 1.0 / Bins);
            text.Append(CultureInfo.InvariantCulture, $"| {kind} | {low}–{high} | {string.Join(" | ", counts.Select(c => string.Join(' ', c)))} |\n");
        }
        return text.Append('\n').ToString();
    }

    private static int Outside(int[] counts, int low, int high) => counts.Count(c => c < low || c > high);

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];
}
