using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Fitting;

/// <summary>
/// The card for the lid: a row for each step of ballast, small enough to be taped in and large enough to be read at arm's length. What does not fit goes on a
/// second card, never into smaller type.
/// </summary>
internal static class LidCard
{
    // All mm. The card is 100 mm wide and at most 140 mm high; pieces.css prints it with the same numbers.
    // RowsMm is what the two lines at the top, the heads, the mark's line and the date leave.
    private const double InnerMm = 93, TextMm = 3.175, NameMm = 3.88, LineMm = 3.97, CellMm = 1.8, RowMm = 1.3, RowsMm = 96, MostUnderMm = 40;

    private sealed record Row(bool Off, string Asked, string Fitted, string AllUp, IReadOnlyList<Html> Pieces, IReadOnlyList<double> PieceMm, string Spacers, string Cg);

    /// <summary>All cards; empty without steps.</summary>
    public static Html Write(PiecesDocument document)
    {
        if (document.Steps.Count == 0)
        {
            return Html.Empty;
        }
        ShortNames names = new(document.Steps.SelectMany(s => s.Pieces));
        Row[] rows = [.. document.Steps.Select(s => Of(s, names))];
        bool spaced = rows.Any(r => r.Spacers.Length > 0), balanced = rows.Any(r => r.Cg.Length > 0);
        double[] widths =
        [
            Column(rows.SelectMany(r => new[] { r.Asked + "*", "is " + r.Fitted }).Append("Ballast")), Column(rows.Select(r => r.AllUp).Append("All up")), 0,
            spaced ? Column(rows.Select(r => r.Spacers).Append("Spacers mm")) : 0, balanced ? Column(rows.Select(r => r.Cg).Append("CG")) : 0,
        ];
        widths[2] = InnerMm - widths.Sum();
        string facts = Facts(document);
        double under = LineMm * (names.Lines(InnerMm, TextMm) + Math.Floor(TubeDrawing.WidthMm(facts, TextMm) / InnerMm) + Math.Floor(TubeDrawing.WidthMm(Words.Tame(document.Airframe.Name), NameMm, bold: true) / (InnerMm - 15)));
        Row[][] cards = Divided(rows, widths[2] - CellMm - 0.2, RowsMm - Math.Min(MostUnderMm, under));
        return Html.Join(cards.Select((card, i) => Html.Of($"""
            <div class="card">
            <p class="who"><b>{Html.Foreign(document.Airframe.Name)}</b>{(cards.Length > 1 ? Html.Of($" <span>{i + 1} of {cards.Length}</span>") : Html.Empty)}</p>
            <p>{facts}</p>
            <table aria-label="Steps of ballast"><colgroup>{Html.Join(widths.Index().Where(w => w.Item > 0).Select(w => w.Index == 2 ? Html.Of($"<col>") : Html.Of($"<col style=\"width:{Estimate.Number(w.Item, 2)}mm\">")))}</colgroup>
            <thead><tr>{Head("Ballast", "g")}{Head("All up", "g")}{Head("Pieces", "from the front", "what")}{(spaced ? Head("Spacers mm", "front / rear") : Html.Empty)}{(balanced ? Head("CG", "mm") : Html.Empty)}</tr></thead>
            <tbody>{Html.Join(card.Select(r => Written(r, spaced, balanced)))}</tbody></table>
            {(card.Any(r => r.Off) ? Html.Of($"<p>* mass or CG farther from the wish than goes unnoticed</p>") : Html.Empty)}
            {names.Key}
            <p class="date"><span>Weighed and balanced, date</span></p>
            </div>
            """)));
    }

    private static Html Written(Row row, bool spaced, bool balanced) => Html.Of($"""
        <tr><th scope="row"><b>{row.Asked}{(row.Off ? "*" : "")}</b>{(row.Asked != row.Fitted ? Html.Of($" <span>is {row.Fitted}</span>") : Html.Empty)}</th><td>{row.AllUp}</td><td class="what">{Separated(row.Pieces)}</td>{(spaced ? Html.Of($"<td>{row.Spacers}</td>") : Html.Empty)}{(balanced ? Html.Of($"<td>{row.Cg}</td>") : Html.Empty)}</tr>
        """);

    private static Row Of(FittingEntry step, ShortNames names)
    {
        IReadOnlyList<PieceRun> runs = PieceRun.InOrder(step.Pieces);
        string fitted = step.BallastG is { } g ? FittingWords.Number(g) : Parts.Dash;
        return new Row(!step.AsWished, step.BallastAskedG is { } asked ? FittingWords.Number(asked) : fitted, fitted,
            step.FlyingMassG is { } all ? all >= 1000 ? Estimate.Number(all, 0) : FittingWords.Number(all) : Parts.Dash,
            step.Pieces.Count == 0 ? [Html.Of($"none")] : [.. runs.Select((r, i) => names.Counted(r, i == runs.Count - 1))], [.. runs.Select(r => names.WidthMm(r, TextMm))],
            step.Pieces.Count == 0 || step.SpacerFrontMm is not { } front || step.SpacerRearMm is not { } rear ? "" : $"{Estimate.Number(front, 1)} / {Estimate.Number(rear, 1)}",
            step.CgShiftMm is not { } shift ? "" : Math.Abs(shift) < FittingWords.Shown ? "0" : $"{Estimate.Number(Math.Abs(shift), 1)} {(shift < 0 ? "fwd" : "aft")}");
    }

    private static string Facts(PiecesDocument document)
    {
        string[] facts =
        [
            $"bare {FittingWords.Grams(document.Airframe.UnballastedMassG)}",
            document.Airframe.MaxFlyingMassG is { } most ? $"limit {FittingWords.Grams(most)} all up" : "no limit given",
            document.BareCgMm is { } cg ? $"CG {FittingWords.Mm(cg)} bare" : "",
            document.BareCgMm is null ? "" : FittingWords.Wish(document.CgForwardMm),
        ];
        return string.Join(" · ", facts.Where(f => f.Length > 0));
    }

    private static Html Head(string name, string under, string kind = "") => Html.Of($"<th scope=\"col\"{(kind.Length > 0 ? Html.Of($" class=\"{kind}\"") : Html.Empty)}>{name} <span>{under}</span></th>");

    private static Html Separated(IReadOnlyList<Html> pieces) => Html.Join(pieces.Select((p, i) => i == 0 ? p : Html.Of($" {p}")));

    private static double Column(IEnumerable<string> texts) => texts.Max(t => TubeDrawing.WidthMm(t, TextMm, bold: true)) + CellMm;

    /// <summary>Rows on as few cards as hold them, about as many on each.</summary>
    private static Row[][] Divided(Row[] rows, double piecesMm, double roomMm)
    {
        double[] heights = [.. rows.Select(r => LineMm * Math.Max(Lines(r.PieceMm, piecesMm), r.Asked != r.Fitted ? 2 : 1) + RowMm)];
        Row[][] fewest = Filled(rows, heights, roomMm);
        for (double fair = heights.Sum() / fewest.Length; fair < roomMm; fair += RowMm)
        {
            Row[][] even = Filled(rows, heights, fair);
            if (even.Length == fewest.Length)
            {
                return even;
            }
        }
        return fewest;
    }

    private static Row[][] Filled(Row[] rows, double[] heights, double roomMm)
    {
        List<List<Row>> cards = [[]];
        double at = 0;
        foreach ((int i, Row row) in rows.Index())
        {
            if (cards[^1].Count > 0 && at + heights[i] > roomMm)
            {
                cards.Add([]);
                at = 0;
            }
            cards[^1].Add(row);
            at += heights[i];
        }
        return [.. cards.Select(c => c.ToArray())];
    }

    /// <summary>Lines that words of such widths take, kept whole, with their separators between them.</summary>
    internal static int Lines(IReadOnlyList<double> widthsMm, double lineMm)
    {
        double dot = TubeDrawing.WidthMm("\u00A0·", TextMm) + 0.1, space = TubeDrawing.WidthMm(" ", TextMm);
        int lines = 1;
        double at = 0;
        foreach ((int i, double width) in widthsMm.Index())
        {
            double whole = width + (i < widthsMm.Count - 1 ? dot : 0);
            if (at > 0 && at + space + whole > lineMm)
            {
                lines++;
                at = 0;
            }
            at += (at > 0 ? space : 0) + whole;
            lines += (int)(Math.Max(0, whole - lineMm) / lineMm);
        }
        return lines;
    }
}
