using System.Text.RegularExpressions;
using CsCheck;
using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Advice;

/// <summary>Sliders answer with the numbers of <see cref="Suggestion"/>, only sooner.</summary>
public sealed class LiveAdviceTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "..", "..", "sample-logs", "larkmoor-evening");

    private static readonly Lazy<(Airframe Airframe, ResultsDocument Document, LiveAdvice Live, Season Season)> Evening = new(() =>
    {
        Session session = SessionFolder.Read(Folder);
        ResultsDocument document = Debrief.Run(session, new DebriefOptions()).Document;
        return (session.Airframe, document, LiveAdvice.From(session.Airframe, document),
            Season.Tune(session.Airframe, [new SeasonSession("session", document.Evidence)]));
    });

    [Fact]
    public void Answer_InAnyAir_IsThatOfASuggestion() =>
        Gen.Select(Gen.Double[0, 14], Gen.Double[0, 5], Gen.Double[0.01, 0.6]).Sample(air =>
        {
            (_, _, LiveAdvice live, Season season) = Evening.Value;
            ComparisonEntry answer = live.Answer(new LiveConditions(air.Item1, air.Item2, air.Item3));
            SuggestionDocument suggestion = Suggestion.Run(season,
                new AskedConditions { WindMps = AskedRange.At(air.Item1), LiftMps = AskedRange.At(air.Item2), Edr = AskedRange.At(air.Item3) }, new SuggestionOptions());
            Assert.Equal((suggestion.Measure, suggestion.Verdict, suggestion.SuggestedBallastG), (answer.Measure, answer.Verdict, answer.BestBallastG));
            Assert.Equal(suggestion.Options.Count, answer.Options.Count);
            foreach ((SuggestedOptionEntry told, OptionEntry shown) in suggestion.Options.Zip(answer.Options))
            {
                Assert.Equal((told.BallastG, told.RoundTripClimbMps, told.StillAirTimeS, told.ProbabilityBest, told.Support),
                    (shown.BallastG, shown.RoundTripClimbMps, shown.StillAirTimeS, shown.ProbabilityBest, shown.Support));
            }
        }, iter: 12, threads: 1);

    [Fact]
    public void Answer_AskedTwice_IsTheSame()
    {
        LiveAdvice live = Evening.Value.Live;
        string first = Text(live.Answer(live.Session));
        live.Answer(new LiveConditions(9, 3, 0.4));
        Assert.Equal(first, Text(live.Answer(live.Session)));
    }

    [Fact]
    public void Session_IsWhatTheDebriefFound_WithinTheSliders()
    {
        (_, ResultsDocument document, LiveAdvice live, _) = Evening.Value;
        Assert.Equal(document.Comparison.Conditions.WindMps!.Value, live.Session.WindMps, 0.051);
        Assert.Equal(document.Comparison.Conditions.LiftMps!.Value, live.Session.LiftMps, 0.051);
        Assert.Equal(document.Comparison.Conditions.Edr!.Value, live.Session.Edr, 0.0051);
        Assert.True(live.Most.WindMps >= live.Session.WindMps && live.Most.LiftMps >= live.Session.LiftMps && live.Most.Edr >= live.Session.Edr);
    }

    [Fact]
    public void Markup_OfAnAnswer_HasEveryChoiceWithItsBand()
    {
        (_, ResultsDocument document, LiveAdvice live, _) = Evening.Value;
        ComparisonEntry answer = live.Answer(new LiveConditions(6, 2, 0.2));
        LiveAnswerMarkup markup = ReportContents.Answer(document, answer);
        foreach (OptionEntry option in answer.Options)
        {
            Assert.Contains($"{option.BallastG:0.#} g", markup.Table, StringComparison.Ordinal);
        }
        Assert.Contains("class=\"iv\"", markup.Table, StringComparison.Ordinal);
        Assert.Contains("id=\"live-options", markup.Picture, StringComparison.Ordinal);
        Assert.EndsWith(".", markup.Answer, StringComparison.Ordinal);
    }

    [Fact]
    public void Ballast_AboveTheLimit_IsShownAndSaidToBeNeverSuggested()
    {
        (Airframe airframe, ResultsDocument document, _, _) = Evening.Value;
        LiveAdvice live = LiveAdvice.From(airframe with { MaxFlyingMassG = airframe.UnballastedMassG + 40 }, document);
        // Strong wind and lift, in which heavy would be right.
        ComparisonEntry answer = live.Answer(new LiveConditions(9, 4, 0.2));
        LiveAnswerMarkup markup = ReportContents.Answer(document, answer);
        Assert.Equal(35, answer.BestBallastG);
        Assert.Single(Regex.Matches(markup.Table, "too heavy, never suggested"));
        Assert.Null(answer.Options[^1].ProbabilityBest);
    }

    [Fact]
    public void Ballast_OfThePieces_LeavesTheOthersTheirColours()
    {
        (Airframe airframe, ResultsDocument document, LiveAdvice live, _) = Evening.Value;
        LiveAdvice more = LiveAdvice.From(airframe with { BallastOptionsG = [.. airframe.BallastOptionsG, 20] }, document);
        string Colour(ComparisonEntry answer, string ballast) =>
            Regex.Match(ReportContents.Answer(document, answer).Table, "<path class=\"s-(s\\d)\"(?:(?!<tr).)*> ?" + ballast + " g<", RegexOptions.Singleline).Groups[1].Value;
        LiveConditions air = new(6, 2, 0.2);
        Assert.Contains(20, more.Answer(air).Options.Select(o => o.BallastG));
        foreach (string ballast in (string[])["35", "70"])
        {
            Assert.NotEmpty(Colour(live.Answer(air), ballast));
            Assert.Equal(Colour(live.Answer(air), ballast), Colour(more.Answer(air), ballast));
        }
    }

    [Fact]
    public void Session_WithoutWindOrLift_SaysWhatItBeginsWith()
    {
        (Airframe airframe, ResultsDocument document, LiveAdvice live, _) = Evening.Value;
        Assert.Equal("", live.Taken);
        ConditionsEntry none = document.Comparison.Conditions with { WindMps = null, LiftMps = null };
        LiveAdvice unknown = LiveAdvice.From(airframe, document with { Comparison = document.Comparison with { Conditions = none } });
        Assert.Equal((0, 0), (unknown.Session.WindMps, unknown.Session.LiftMps));
        Assert.Contains("no wind and no lift", unknown.Taken, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.1, "calm")]
    [InlineData(4, "gentle")]
    [InlineData(9, "fresh")]
    [InlineData(1, "")]
    public void Wind_HasTheWordThatItMayBeAskedWith(double mps, string word) => Assert.Equal(word, LiveAdvice.WindWord(mps));

    [Theory]
    [InlineData(0, "smooth")]
    [InlineData(0.1, "light")]
    [InlineData(0.6, "rough")]
    public void Turbulence_HasTheReportsWord(double edr, string word) => Assert.Equal(word, LiveAdvice.TurbulenceWord(edr));

    private static string Text(ComparisonEntry answer) => System.Text.Json.JsonSerializer.Serialize(answer, ResultsJson.Style);
}
