using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Fitting;

/// <summary>A stretch of a sentence: the program's own words, or a name that came from outside.</summary>
internal readonly record struct Phrase(string Text, bool FromOutside = false)
{
    public static implicit operator Phrase(string own) => new(own);

    /// <summary>The sentence for a terminal.</summary>
    public static string Plain(IEnumerable<Phrase> sentence) => string.Concat(sentence.Select(p => p.Text));

    /// <summary>The sentence for a page, its names kept from acting on the direction of the words around them.</summary>
    public static Html Marked(IEnumerable<Phrase> sentence) => Html.Join(sentence.Select(p => p.FromOutside ? Html.Foreign(p.Text) : Html.Of($"{p.Text}")));
}
