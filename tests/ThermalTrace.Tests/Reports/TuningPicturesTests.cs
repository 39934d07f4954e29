using System.Xml.Linq;
using ThermalTrace.Reports;
using ThermalTrace.Tests.Advice;
using ThermalTrace.Tests.Learning;

namespace ThermalTrace.Tests.Reports;

public sealed class TuningPicturesTests
{
    private static readonly Lazy<SeasonHistoryDocument> LazyHistory = new(() => SeasonHistory.Run(AdviceModels.Tansy, TuningHistoryTests.Season(8, s => s >= 4 ? 0.1 : 0)));

    private static SeasonHistoryDocument History => LazyHistory.Value;

    [Fact]
    public void Pictures_AreWellFormed_AndSayInWordsWhatTheyShow()
    {
        XElement page = Parsed(TuningPictures.Write(History));
        XElement[] pictures = [.. page.Descendants("svg").Where(s => (string?)s.Attribute("role") == "img")];
        Assert.Equal(2, pictures.Length);
        Assert.All(pictures, p => Assert.Contains("After 8 sessions: ", p.Element("desc")!.Value, StringComparison.Ordinal));
        Assert.Equal(page.Descendants().Attributes("id").Count(), page.Descendants().Attributes("id").Select(a => a.Value).Distinct().Count());
    }

    [Fact]
    public void Table_HasEveryPoint_WithItsDay()
    {
        XElement table = Assert.Single(Parsed(TuningPictures.Write(History)).Descendants("table"));
        XElement[] rows = [.. table.Element("tbody")!.Elements("tr")];
        Assert.Equal(History.Points.Count, rows.Length);
        Assert.All(History.Points.Skip(1).Zip(rows.Skip(1)), p => Assert.Contains(p.First.Day!, p.Second.Value, StringComparison.Ordinal));
        Assert.All(rows, r => Assert.Contains(" to ", r.Elements("td").ElementAt(1).Value, StringComparison.Ordinal));
    }

    [Fact]
    public void ChangeOfTheModel_IsToldWithItsDay()
    {
        ModelChangeEntry change = Assert.Single(History.Changes);
        Assert.Equal(MadeUpDay.Day(4), change.Since);
        Assert.Contains("Since 13 March 2026 it sinks", TuningPictures.Write(History), StringComparison.Ordinal);
    }

    [Fact]
    public void SessionsName_ThatWouldBeMarkup_StaysText()
    {
        string hostile = "<script>x</script>";
        SeasonHistoryDocument document = History with { Changes = [History.Changes[0] with { Since = null, Session = hostile }], Points = [.. History.Points.Select(p => p with { Session = hostile })] };
        Assert.DoesNotContain("<script", TuningPictures.Write(document), StringComparison.Ordinal);
    }

    [Fact]
    public void Days_ThatAreNotKnown_GiveWayToTheSessionsOrder()
    {
        string page = TuningPictures.Write(History with { Points = [.. History.Points.Select((p, i) => i == 2 ? p with { Day = null } : p)] });
        Assert.Contains(">session</text>", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Mar</text>", page, StringComparison.Ordinal);
        Assert.Contains("Mar</text>", TuningPictures.Write(History), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void FewSessions_AreDrawnToo(int sessions) => Assert.Equal(2, Parsed(TuningPictures.Write(SeasonHistory.Run(AdviceModels.Tansy, TuningHistoryTests.Season(sessions, _ => 0)))).Descendants("figure").Count());

    [Fact]
    public void WithoutASession_ThereIsASentenceInstead() =>
        Assert.Contains("There is nothing to draw yet", TuningPictures.Write(SeasonHistory.Run(AdviceModels.Tansy, [])), StringComparison.Ordinal);

    internal static XElement Parsed(string markup) => XElement.Parse("<div>" + markup.Replace("&nbsp;", " ", StringComparison.Ordinal) + "</div>");
}
