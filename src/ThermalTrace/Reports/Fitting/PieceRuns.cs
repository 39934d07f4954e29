using System.Globalization;

namespace ThermalTrace.Reports.Fitting;

/// <summary>Pieces of one kind, counted.</summary>
/// <param name="Count">How many.</param>
/// <param name="Piece">The first of them.</param>
/// <param name="Place">Of the first, counted from 1 at the front.</param>
internal sealed record PieceRun(int Count, PieceEntry Piece, int Place)
{
    private const int MostOfName = 28; // longer names are cut in sentences; tables have them whole

    /// <summary>Alike and next to each other, from the front: the order they go in.</summary>
    public static IReadOnlyList<PieceRun> InOrder(IReadOnlyList<PieceEntry> pieces)
    {
        List<PieceRun> runs = [];
        foreach ((int i, PieceEntry piece) in pieces.Index())
        {
            if (runs.Count > 0 && Alike(runs[^1].Piece, piece))
            {
                runs[^1] = runs[^1] with { Count = runs[^1].Count + 1 };
                continue;
            }
            runs.Add(new PieceRun(1, piece, i + 1));
        }
        return runs;
    }

    /// <summary>Alike wherever they lie: what to take out of the box.</summary>
    public static IReadOnlyList<PieceRun> ByKind(IReadOnlyList<PieceEntry> pieces) =>
        [.. pieces.Index().GroupBy(p => Kind(p.Item)).Select(g => new PieceRun(g.Count(), g.First().Item, g.First().Index + 1))];

    /// <summary>The piece wherever it lies.</summary>
    public static PieceEntry Kind(PieceEntry piece) => piece with { CentreMm = null };

    public static bool Alike(PieceEntry one, PieceEntry other) => Kind(one) == Kind(other);

    /// <summary>Its name as it may stand in a line: tame, not empty, not long.</summary>
    public static string Name(PieceEntry piece, int most = MostOfName)
    {
        string name = Words.Tame(piece.Name).Trim();
        if (name.Length == 0)
        {
            name = Words.Tame(piece.Material).Trim() is { Length: > 0 } material ? material : "piece";
        }
        return Shortened(name, most);
    }

    /// <summary>A text that came from outside, tame and cut to so many letters.</summary>
    public static string Shortened(string text, int most)
    {
        StringInfo elements = new(Words.Tame(text).Trim());
        return elements.LengthInTextElements <= most ? elements.String : elements.SubstringByTextElements(0, most - 1).TrimEnd() + "…";
    }

    /// <summary>"2 × brass 15".</summary>
    public IEnumerable<Phrase> Counted(int most = MostOfName)
    {
        if (Count > 1)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{Count}\u00A0×\u00A0");
        }
        // A short name is not parted at a line's end.
        yield return new Phrase(Name(Piece, most) is { Length: <= 20 } name ? name.Replace(' ', '\u00A0') : Name(Piece, most), FromOutside: true);
    }
}
