using System.Text;

namespace ThermalTrace.Reports.Fitting;

/// <summary>The pieces on a terminal: the answer, the places, what else would do, all steps; plain text without colour, lines no longer than the width.</summary>
public static class PiecesSummary
{
    /// <summary>The text, lines ended by LF.</summary>
    /// <param name="document">The pieces.</param>
    /// <param name="width">Columns of the terminal; taken as at least 40 and at most 100.</param>
    public static string Write(PiecesDocument document, int width)
    {
        ArgumentNullException.ThrowIfNull(document);
        int columns = Math.Clamp(width, 40, 100);
        StringBuilder text = new();
        void Say(string paragraph, string hanging = "") => PlainSummary.Paragraph(text, PlainSummary.Together(Words.Tame(paragraph)), columns, hanging);
        void Listed(string head, IEnumerable<string> lines)
        {
            foreach ((int i, string line) in lines.Index())
            {
                if (i == 0)
                {
                    text.Append('\n');
                    Say(head);
                }
                Say("- " + line, "  ");
            }
        }
        string model = PieceRun.Shortened(document.Airframe.Name, 40);
        if (document.BallastAskedG is null)
        {
            Say(document.Steps.Count == 0 ? $"{model}: nothing can be fitted with these pieces." : $"{model}: ballast in {Words.Plural(document.Steps.Count, "step")}, {FittingWords.Wish(document.CgForwardMm)}.");
        }
        else
        {
            string headline = Phrase.Plain(FittingWords.Headline(document));
            Say($"{model}: {char.ToLowerInvariant(headline[0])}{headline[1..]}.");
            Say(string.Join(' ', document.Cautions.Take(document.OwnCautions)));
            Places(text, document, columns);
            foreach (string sentence in Totals(document))
            {
                Say(sentence);
            }
        }
        Listed("What else would do:", document.Alternatives.Select(a => $"{Phrase.Plain(FittingWords.Other(a))} {FittingWords.Cost(a)}".TrimEnd()));
        Steps(text, document, columns);
        Listed("What the pieces make:", document.Stock is { } stock ? StockSentences.Of(stock) : []);
        EffectTable.Write(text, document.Effects, columns);
        Listed("Mind:", document.Cautions.Skip(document.OwnCautions));
        return text.ToString();
    }

    private static void Places(StringBuilder text, PiecesDocument document, int columns)
    {
        if (document.Pieces.Count == 0)
        {
            return;
        }
        IReadOnlyList<TubePart>? parts = TubePart.Of(document, document.Tube);
        // What does not fit the terminal: first the ends of long names, then where the middles lie.
        (bool Middles, int Name)[] ways = [(true, 28), (true, 20), (true, 14), (false, 28), (false, 20), (false, 14), (false, 8)];
        (bool Middles, int Name) chosen = ways.Where(w => parts is not null || !w.Middles).SkipWhile(w => TextColumns.Width(Rows(document, parts, w.Middles, w.Name)) > columns).Append(ways[^1]).First();
        text.Append('\n');
        TextColumns.Write(text, Rows(document, parts, chosen.Middles, chosen.Name), left: 2);
        string alike = document.Pieces.Count > PieceRun.InOrder(document.Pieces).Count ? " Of several alike, mass and length are of each." : "";
        PlainSummary.Paragraph(text, parts is null ? $"(No tube is given in airframe.json: where they lie is left to you. Lengths in mm.{alike})"
            : $"(In mm{(chosen.Middles ? "; middles behind the wing root's leading edge" : "")}.{alike})", columns);
        text.Append('\n');
    }

    private static List<string[]> Rows(PiecesDocument document, IReadOnlyList<TubePart>? parts, bool middles, int name)
    {
        List<string[]> rows = [["", "from the front", "g", "long", .. middles ? ["middle"] : Array.Empty<string>()]];
        parts ??= [.. document.Pieces.Select((p, i) => new TubePart(0, p.LengthMm, p, i + 1))];
        for (int i = 0, next; i < parts.Count; i = next)
        {
            next = i + 1;
            if (parts[i].Piece is not { } piece)
            {
                rows.Add(["", "spacer", "", Estimate.Number(parts[i].LengthMm, 1), .. middles ? [""] : Array.Empty<string>()]);
                continue;
            }
            while (next < parts.Count && parts[next].Piece is { } other && PieceRun.Alike(piece, other))
            {
                next++;
            }
            string middle = piece.CentreMm is { } centre ? Estimate.Number(centre, 1) : "", last = parts[next - 1].Piece!.CentreMm is { } end ? Estimate.Number(end, 1) : "";
            rows.Add([Place(parts[i].Place, next - i), (next - i > 1 ? $"{FittingWords.Number(next - i)} × " : "") + PieceRun.Name(piece, name), FittingWords.Number(piece.MassG), Estimate.Number(piece.LengthMm, 1),
                .. middles ? [next - i == 1 ? middle : $"{middle} to {last}"] : Array.Empty<string>()]);
        }
        return rows;
    }

    private static string Place(int first, int count) => count == 1 ? FittingWords.Number(first) : $"{FittingWords.Number(first)}-{FittingWords.Number(first + count - 1)}";

    private static IEnumerable<string> Totals(PiecesDocument document)
    {
        string cg = document.CgMm is { } place ? $", CG {FittingWords.Mm(place)}{(document.CgChordPercent is { } percent ? $" ({Estimate.Number(percent, 1)} % of the chord)" : "")}" : ", CG not known";
        string limits = document.CgLimitsMm is [var forward, var aft] ? $", limits {FittingWords.Number(forward)} to {FittingWords.Number(aft)} mm" : "";
        string margin = document.StaticMarginPercent is { } known ? $", static margin {Estimate.Number(known, 1)} %" : "";
        string most = document.Airframe.MaxFlyingMassG is { } limit ? $" (limit {FittingWords.Grams(limit)})" : "";
        yield return $"Ballast {Grams(document.BallastG)}, all up {Grams(document.FlyingMassG)}{most}{cg}{limits}{margin}.";
        if (document is { PitchInertiaAddedKgM2: { } inertia, Pieces.Count: > 0 })
        {
            Interval slower = FittingWords.SlowerPercent(document.PitchPeriodRatio);
            yield return $"Pitch inertia added: {FittingWords.InertiaKgMm2(inertia)} kg mm²{(Estimate.Known(slower) ? $"; the model answers in pitch {Estimate.Plain(slower)} % more slowly" : "")}.";
        }
    }

    private static string Grams(double? massG) => massG is { } known ? FittingWords.Grams(known) : "not known";

    private static void Steps(StringBuilder text, PiecesDocument document, int columns)
    {
        if (document.Steps.Count == 0)
        {
            return;
        }
        bool spaced = document.Steps.Any(s => s.SpacerFrontMm is not null), balanced = document.Steps.Any(s => s.CgShiftMm is not null);
        List<string[]> rows = [["asked", "ballast", "all up", .. spaced ? ["spacers"] : Array.Empty<string>(), .. balanced ? ["CG mm"] : Array.Empty<string>(), "pieces from the front"]];
        rows.AddRange(document.Steps.Select(s => (string[])
        [
            FittingWords.Number(s.BallastAskedG ?? double.NaN), FittingWords.Number(s.BallastG ?? double.NaN) + (s.AsWished ? "" : "*"), FittingWords.Number(s.FlyingMassG ?? double.NaN),
            .. spaced ? [s.Pieces.Count > 0 && s is { SpacerFrontMm: { } front, SpacerRearMm: { } rear } ? $"{Estimate.Number(front, 1)}/{Estimate.Number(rear, 1)}" : "-"] : Array.Empty<string>(),
            .. balanced ? [s.CgShiftMm is not { } shift ? "-" : Math.Abs(shift) < FittingWords.Shown ? "0" : $"{Estimate.Number(Math.Abs(shift), 1)} {(shift < 0 ? "fwd" : "aft")}"] : Array.Empty<string>(),
            s.Pieces.Count == 0 ? "none" : string.Join(", ", PieceRun.InOrder(s.Pieces).Select(r => Phrase.Plain(r.Counted(20)))),
        ]));
        text.Append('\n');
        TextColumns.Write(text, rows, left: -1, columns);
        if (document.Steps.Any(s => !s.AsWished))
        {
            PlainSummary.Paragraph(text, "* mass or CG farther from the wish than goes unnoticed", columns);
        }
        if (spaced)
        {
            PlainSummary.Paragraph(text, "(Spacers: mm in front / behind. Masses in g.)", columns);
        }
    }
}
