using System.Globalization;
using System.Text;
using ThermalTrace.Ballast;

namespace ThermalTrace.Reports.Fitting;

/// <summary>What masses do to the model, on a terminal: one column a ballast, every value with its interval and rounded to it.</summary>
internal static class MassEffectTable
{
    /// <summary>Writes the table, lines ended by LF; columns that do not fit the width go below.</summary>
    /// <param name="text">Receives it.</param>
    /// <param name="effects">One a ballast; nothing is written where there is none.</param>
    /// <param name="columns">Of the terminal.</param>
    public static void Write(StringBuilder text, IReadOnlyList<MassEffectEntry> effects, int columns)
    {
        if (effects.Count == 0)
        {
            return;
        }
        int first = 0;
        while (first < effects.Count)
        {
            // As many ballasts beside each other as fit, one at least.
            int count = effects.Count - first;
            while (count > 1 && Lines([.. effects.Skip(first).Take(count)]).Max(l => l.Length) > columns)
            {
                count--;
            }
            text.Append(first > 0 ? "\n" : "").AppendJoin('\n', Lines([.. effects.Skip(first).Take(count)])).Append('\n');
            first += count;
        }
        text.Append('\n');
        PlainSummary.Paragraph(text, PlainSummary.Together(Rests(effects)), columns);
    }

    private static string Rests(IReadOnlyList<MassEffectEntry> effects)
    {
        string drag = effects[0].From == "logbook" ? "Speeds from your logbook" : "Speeds from the model's geometry alone";
        string stall = string.Create(CultureInfo.InvariantCulture, $", in level flight at sea level; the stall is that of a clean wing with a largest lift coefficient of {MassEffects.LeastMaxCl:0.00} to {MassEffects.MostMaxCl:0.00}.");
        string launch = effects[0].LaunchFrom switch
        {
            "logbook" => " Launch heights from your own launches, in a calm.",
            "usual" => " Launch heights from what is usual, in a calm: an arm may give a heavier model the same work, or the same speed, and the interval holds both.",
            _ => " Mass alone does not tell the height of this kind of launch.",
        };
        return drag + stall + launch;
    }

    private static string[] Lines(MassEffectEntry[] effects)
    {
        List<(string Label, string[] Cells)> rows =
        [
            ("", [.. effects.Select(e => e.BallastG == 0 ? "no ballast" : Words.Grams(Math.Round(e.BallastG, 1)))]),
            ("flying mass, g", [.. effects.Select(e => Estimate.Number(e.FlyingMassG, 0))]),
            ("stalls at, m/s", Cells(effects, e => e.StallMps)),
            ("sinks least at, m/s", Cells(effects, e => e.MinSinkAirspeedMps)),
            ("glides best at, m/s", Cells(effects, e => e.BestGlideAirspeedMps)),
            ("speeds, times bare", [.. effects.Select(e => e.SpeedRatio is { } ratio ? Estimate.Number(ratio, 2) : "-")]),
            ("radius at 30°, m", Cells(effects, e => e.TurnRadius30DegM)),
        ];
        if (effects.Any(e => Estimate.Known(e.LaunchHeightM)))
        {
            rows.Add(("launch height, m", Cells(effects, e => e.LaunchHeightM)));
            rows.Add(("launch, times bare", Cells(effects, e => e.LaunchHeightRatio)));
        }
        int label = rows.Max(r => r.Label.Length);
        int[] widths = [.. effects.Select((_, k) => rows.Max(r => r.Cells[k].Length))];
        return [.. rows.Select(r => (r.Label.PadRight(label) + string.Concat(r.Cells.Select((c, k) => "  " + c.PadLeft(widths[k])))).TrimEnd())];
    }

    private static string[] Cells(MassEffectEntry[] effects, Func<MassEffectEntry, Interval> of)
    {
        // Bounds that are the value itself (the bare model over the bare model) have no width to round to.
        int decimals = Estimate.Decimals(effects.Select(of).Where(i => i.High > i.Low));
        return [.. effects.Select(of).Select(i => i.High > i.Low || !Estimate.Known(i) ? Estimate.Plain(i, decimals) : Estimate.Number(i.Value!.Value, decimals))];
    }
}
