using System.Globalization;
using System.Text;

namespace ThermalTrace.Calibration;

/// <summary>Prints what seasons are good for.</summary>
internal static class SeasonTables
{
    public static string Write(IReadOnlyList<SeasonScore> scores)
    {
        StringBuilder text = new();
        text.Append("| sessions | sink error | bands hold | width | loss | never | always | best rule by wind | R bands hold | learned |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
        foreach (IGrouping<int, SeasonScore> g in scores.GroupBy(s => s.Sessions))
        {
            Row(text, g.Key.ToString(CultureInfo.InvariantCulture), [.. g]);
        }
        text.Append("\nBy airframe:\n\n| airframe, sessions | sink error | bands hold | width | loss | never | always | best rule by wind | R bands hold | learned |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
        foreach (SeasonScore s in scores)
        {
            Row(text, FormattableString.Invariant($"{s.Season.Preset} {s.Season.Seed}, {s.Sessions}"), [s]);
        }
        text.Append("\nLearners, root mean square error of climbs in sessions left out, m/s:\n\n| airframe, sessions | physics | linear | additive | tree | kept |\n| --- | --- | --- | --- | --- | --- |\n");
        foreach (SeasonScore s in scores.Where(s => s.Learned.Compared.Count > 0))
        {
            text.Append(CultureInfo.InvariantCulture, $"| {s.Season.Preset} {s.Season.Seed}, {s.Sessions} | {string.Join(" | ", s.Learned.Compared.Select(c => c.ErrorMps.ToString("0.000", CultureInfo.InvariantCulture)))} | {s.Learned.Kind} |\n");
        }
        return text.ToString();
    }

    private static void Row(StringBuilder text, string name, IReadOnlyList<SeasonScore> s) => text.Append(CultureInfo.InvariantCulture,
        $"| {name} | {s.Average(x => x.SinkErrorMps):0.0000} | {s.Average(x => x.SinkCoverage):0.00} | {s.Average(x => x.SinkWidthMps):0.000} | {s.Average(x => x.LossMps):0.0000} | {s.Average(x => x.NeverMps):0.0000} | {s.Average(x => x.AlwaysMps):0.0000} | {s.Average(x => x.WindRuleMps):0.0000} | {s.Average(x => x.RoundTripCoverage):0.00} | {string.Join(", ", s.GroupBy(x => x.Learned.Kind).Select(g => FormattableString.Invariant($"{g.Key} {g.Count()}")))} |\n");
}
