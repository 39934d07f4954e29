using System.Net;
using System.Text.RegularExpressions;
using ThermalTrace.Advice;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Reports.Plan;

public sealed class PlanSheetTests
{
    private static readonly Lazy<PlanDocument> Document = new(() => FlightPlan.Run(Season.Tune(new Airframe
    {
        Name = "<script>alert(1)</script>\u202E\u001b[31m",
        WingSpanMm = 2000,
        WingAreaDm2 = 36.2,
        UnballastedMassG = 790,
        MaxFlyingMassG = 1350,
        Launch = LaunchKind.Electric,
        BallastOptionsG = [0, 120, 240],
    }, []), new PlanAsked { Flights = 6, WindMps = new AskedRange(3, 6), LiftMps = new AskedRange(1, 2) }));

    private static string Page
    {
        get
        {
            using StringWriter writer = new();
            PlanSheet.Write(writer, Document.Value);
            return writer.ToString();
        }
    }

    [Fact]
    public void Sheet_HasFourBoxesForEachFlight()
    {
        Assert.Equal(6, Document.Value.Flights.Count);
        Assert.Equal(24, Regex.Count(Page, "<td class=\"box"));
    }

    [Fact]
    public void Sheet_NeedsNothingElse_AndRunsNothing()
    {
        Assert.DoesNotContain("<script", Page, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("http:", Page, StringComparison.Ordinal);
        Assert.DoesNotContain("https:", Page, StringComparison.Ordinal);
        Assert.Contains("default-src 'none'", Page, StringComparison.Ordinal);
    }

    [Fact]
    public void AnUntrustedName_StaysText()
    {
        Assert.Contains("&lt;script&gt;", Page, StringComparison.Ordinal);
        Assert.DoesNotContain('\u202E', Page);
        string terminal = PlanSummary.Write(Document.Value, 80);
        Assert.DoesNotContain('\u001b', terminal);
        Assert.DoesNotContain('\u202E', terminal);
    }

    [Fact]
    public void TheExampleOnTheSheet_IsReadAsFlightsCsv()
    {
        string example = WebUtility.HtmlDecode(Regex.Match(Page, "<pre>(.*?)</pre>", RegexOptions.Singleline).Groups[1].Value);
        IReadOnlyList<FlightNote> notes = FlightsFile.Read(new StringReader(example), FlightsFile.Name);
        Assert.Equal(Document.Value.Flights.Take(2).Select(f => f.BallastG), notes.Select(n => n.BallastG!.Value));
        Assert.Equal([false, true], notes.Select(n => n.Spoiled));
    }

    [Fact]
    public void SamePlan_SameBytes() =>
        Assert.Equal(Page, Again());

    private static string Again()
    {
        using StringWriter writer = new();
        PlanSheet.Write(writer, Document.Value);
        return writer.ToString();
    }

    [Theory]
    [InlineData(4.0, "just above the stall")]
    [InlineData(5.0, "least sink")]
    [InlineData(6.5, "best glide")]
    [InlineData(8.5, "fast")]
    [InlineData(12, "very fast")]
    public void Speeds_AreNamedAsTheyAreTrimmed(double airspeedMps, string expected) => Assert.Equal(expected, PlanSentences.Trim(airspeedMps, 5, 6.5));
}
