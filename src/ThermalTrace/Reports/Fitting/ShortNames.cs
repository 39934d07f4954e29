using System.Globalization;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Fitting;

/// <summary>Names short enough for a card: material and mass, with a key beneath; a name that is short by itself stays.</summary>
internal sealed class ShortNames
{
    private const int ShortEnough = 6, MostInKey = 24;
    private readonly Dictionary<PieceEntry, string> shortened = [];

    public ShortNames(IEnumerable<PieceEntry> pieces)
    {
        PieceEntry[] kinds = [.. pieces.Select(PieceRun.Kind).Distinct()];
        foreach (IGrouping<string, PieceEntry> same in kinds.GroupBy(Short))
        {
            foreach ((int i, PieceEntry kind) in same.Index())
            {
                shortened[kind] = same.Key + (same.Count() > 1 ? "-" + (i + 1).ToString(CultureInfo.InvariantCulture) : "");
            }
        }
    }

    /// <summary>"2 × Br15", never parted at a line's end, nor from the dot behind it.</summary>
    public Html Counted(PieceRun run, bool last) =>
        Html.Of($"<span>{(run.Count > 1 ? Html.Of($"{run.Count}&nbsp;×&nbsp;") : Html.Empty)}{Html.Foreign(Of(run.Piece))}{(last ? "" : "\u00A0·")}</span>");

    public double WidthMm(PieceRun run, double textMm) => TubeDrawing.WidthMm((run.Count > 1 ? $"{run.Count} × " : "") + Of(run.Piece), textMm);

    /// <summary>What the short names mean; empty where they are the names.</summary>
    public Html Key => Keyed().ToArray() is { Length: > 0 } keyed
        ? Html.Of($"<p class=\"key\">{Html.Join(keyed.Select((k, i) => Html.Of($"{(i > 0 ? " · " : "")}<span>{Html.Foreign(k.Value)} = {Html.Foreign(PieceRun.Name(k.Key, MostInKey))}</span>")))}</p>")
        : Html.Empty;

    /// <summary>Lines that the key takes.</summary>
    public int Lines(double lineMm, double textMm) => Keyed().Any()
        ? LidCard.Lines([.. Keyed().Select(k => TubeDrawing.WidthMm($"{k.Value} = {PieceRun.Name(k.Key, MostInKey)}", textMm))], lineMm) : 0;

    private IEnumerable<KeyValuePair<PieceEntry, string>> Keyed() => shortened.Where(k => k.Value != PieceRun.Name(k.Key, MostInKey));

    private string Of(PieceEntry piece) => shortened[PieceRun.Kind(piece)];

    private static string Short(PieceEntry kind)
    {
        if (PieceRun.Name(kind) is { } name && name.Length <= ShortEnough)
        {
            return name;
        }
        string symbol = Materials.Find(kind.Material) switch
        {
            var m when m == Materials.Brass => "Br",
            var m when m == Materials.Lead => "Pb",
            var m when m == Materials.Steel => "St",
            null => Initials(kind),
            _ => "W",
        };
        return symbol + FittingWords.Number(kind.MassG);
    }

    /// <summary>The first two letters of the material, or of the name.</summary>
    private static string Initials(PieceEntry kind)
    {
        string letters = string.Concat(Words.Tame(kind.Material).Where(char.IsLetter).Take(2));
        return Words.Capital(letters.Length > 0 ? letters : "Pc");
    }
}
