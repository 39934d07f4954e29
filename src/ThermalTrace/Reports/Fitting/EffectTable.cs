using System.Text;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Fitting;

/// <summary>What a mass does to the model's speeds, for terminal and page; every value with its interval.</summary>
internal static class EffectTable
{
    /// <summary>On a terminal, after an empty line; nothing where nothing is known.</summary>
    public static void Write(StringBuilder text, IReadOnlyList<MassEffectEntry> effects, int columns)
    {
        IReadOnlyList<EffectRow> rows = EffectRow.Known(effects);
        if (rows.Count == 0)
        {
            return;
        }
        text.Append('\n');
        List<string[]> table = [["", .. effects.Select(EffectRow.Head)]];
        table.AddRange(rows.Select(r => (string[])[$"{r.Name}, {r.Unit}", .. effects.Select(e => Estimate.Plain(r.Of(e), r.Decimals(effects)))]));
        if (TextColumns.Width(table) <= columns)
        {
            TextColumns.Write(text, table, left: 1);
        }
        else
        {
            foreach (EffectRow row in rows)
            {
                PlainSummary.Paragraph(text, $"{row.Name}, {row.Unit}: " + string.Join("; ", effects.Select(e => $"{EffectRow.Head(e)} {Estimate.Plain(row.Of(e), row.Decimals(effects))}")), columns, "  ");
            }
        }
        PlainSummary.Paragraph(text, EffectRow.Basis(effects), columns);
    }

    /// <summary>A section of a page; nothing where nothing is known.</summary>
    public static Html Section(IReadOnlyList<MassEffectEntry> effects)
    {
        IReadOnlyList<EffectRow> rows = EffectRow.Known(effects);
        return rows.Count == 0 ? Html.Empty : Html.Of($"""
            <section><h2>What the mass does</h2>
            {Parts.Table("Expected in level flight and in the circle", [Parts.Head(""), .. effects.Select(e => Parts.Head(EffectRow.Head(e), $"{FittingWords.Grams(e.FlyingMassG)} all up"))],
                rows.Select(r => (false, (IReadOnlyList<Html>)[Html.Of($"{r.Name} <span class=\"unit\">{r.Unit}</span>"), .. effects.Select(e => Parts.Estimated(r.Of(e), r.Decimals(effects)))])))}
            <p class="small">{EffectRow.Basis(effects)}</p></section>
            """);
    }
}
