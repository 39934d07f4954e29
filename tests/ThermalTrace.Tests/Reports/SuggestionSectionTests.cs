using System.Text.RegularExpressions;
using System.Xml.Linq;
using ThermalTrace.Advice;
using ThermalTrace.Reports;
using ThermalTrace.Tests.Advice;
using ThermalTrace.Tests.Reports.Fitting;

namespace ThermalTrace.Tests.Reports;

public sealed partial class SuggestionSectionTests
{
    private static readonly Lazy<SuggestionDocument> LazyAdvice = new(() => Suggestion.Run(Season.Tune(AdviceModels.Tansy, []),
        new AskedConditions { WindMps = new AskedRange(3, 6), LiftMps = new AskedRange(1.5, 1.5), TimeS = 300 }, new SuggestionOptions()));

    private static SuggestionDocument Advice => LazyAdvice.Value with { Fitting = ExamplePieces.Tern45 };

    [Fact]
    public void Section_SaysEveryParagraphThatTheTerminalSays()
    {
        string page = Plain(TuningPicturesTests.Parsed(SuggestionSection.Write(Advice)).Value);
        string[] paragraphs = [.. SuggestionSummary.Write(Advice, 100).Split('\n').Where(l => l.StartsWith("- ", StringComparison.Ordinal)).Select(l => l[2..])];
        Assert.True(paragraphs.Length > 5);
        // The terminal breaks lines; the first line of each item is enough to know it by.
        Assert.All(paragraphs, p => Assert.Contains(Plain(p), page, StringComparison.Ordinal));
        Assert.Contains(Plain(Advice.Why), page, StringComparison.Ordinal);
        Assert.Contains("Fit: 2 × brass 15", page, StringComparison.Ordinal);
        Assert.Contains("Conditions: wind 4.5", page.Replace("wind 3 to 6", "wind 4.5", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public void Options_AllHaveTheirBands_AndTheSuggestedOneIsMarked()
    {
        XElement table = Assert.Single(TuningPicturesTests.Parsed(SuggestionSection.Write(Advice)).Descendants("table"));
        XElement[] rows = [.. table.Element("tbody")!.Elements("tr")];
        Assert.Equal(Advice.Options.Count, rows.Length);
        Assert.All(rows, r => Assert.Contains(" to ", r.Element("td")!.Value, StringComparison.Ordinal));
        Assert.Equal("best", Assert.Single(rows, r => r.Attribute("class") is not null).Attribute("class")!.Value);
        Assert.All(table.Descendants("tr"), r => Assert.Equal(table.Descendants("thead").Elements("tr").Elements().Count(), r.Elements().Count()));
    }

    [Fact]
    public void Section_NamesNoOptionOfTheCommandLine() => Assert.DoesNotContain("--", SuggestionSection.Write(Advice), StringComparison.Ordinal);

    [Fact]
    public void HostileNames_StayText()
    {
        string page = SuggestionSection.Write(Advice with { Fitting = ExamplePieces.Hostile });
        TuningPicturesTests.Parsed(page);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(page, c => c is '\u202E' or '\u2066' or '\u001b' or '\0');
    }

    private static string Plain(string text) => OptionNames.AsFields(Spaces().Replace(text, " "));

    [GeneratedRegex(@"\s+")]
    private static partial Regex Spaces();
}
