using System.Text.RegularExpressions;
using ThermalTrace.Pages.Serving;

namespace ThermalTrace.Tests.Pages;

/// <summary>All pages load all sheets: what one says of its own must not reach another's.</summary>
public sealed partial class StyleTests
{
    [Fact]
    public void Classes_OfOnePagesSheet_AreInNoOtherPages()
    {
        string[] pages = ["start", "flights", "answer", "season"];
        Dictionary<string, string[]> classes = pages.ToDictionary(p => p, p => Alone().Matches(Sheet(p)).Select(m => m.Groups[1].Value).Distinct().ToArray());
        Assert.All(classes.Values, Assert.NotEmpty);
        foreach (string page in pages)
        {
            foreach (string other in pages.Where(o => string.CompareOrdinal(o, page) > 0))
            {
                Assert.Empty(classes[page].Intersect(classes[other]).Select(c => $".{c} is in {page}.css and {other}.css"));
            }
        }
    }

    private static string Sheet(string page)
    {
        using StreamReader reader = new(typeof(PagesServer).Assembly.GetManifestResourceStream($"ThermalTrace.Pages.Assets.{page}.css")!);
        return reader.ReadToEnd();
    }

    [GeneratedRegex(@"^\.([a-z][a-z-]*)[^{,]*\{", RegexOptions.Multiline)]
    private static partial Regex Alone();
}
