using CsCheck;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Tests.Reports;

public sealed class WordingTests
{
    [Theory]
    [InlineData(0.3123, 0.25, 0.37, "0.31 (0.25 to 0.37)")]
    [InlineData(0.3123, 0.298, 0.326, "0.312 (0.298 to 0.326)")]
    [InlineData(17.27, 15.7, 18.9, "17.3 (15.7 to 18.9)")]
    [InlineData(123.4, 83, 161, "120 (80 to 160)")]
    [InlineData(123.4, 119, 128, "123 (119 to 128)")]
    [InlineData(-0.004, -0.06, 0.05, "0.00 (-0.06 to 0.05)")]
    [InlineData(0.0166, 0.0158, 0.0175, "0.0166 (0.0158 to 0.0175)")]
    public void Estimate_IsRoundedToItsInterval(double value, double low, double high, string expected) =>
        Assert.Equal(expected, Estimate.Plain(new Interval(value, low, high)));

    [Fact]
    public void Estimate_RoundingCostsAtMostASixthOfTheHalfInterval() =>
        Gen.Double[1e-4, 500].Sample(half =>
        {
            double step = Math.Pow(10, -Estimate.Decimals(-half, half));
            return step / 2 <= half / 6 + 1e-12 || half > 300;
        });

    [Theory]
    [InlineData("clear", "measured", 3, "40 g of ballast flew best.")]
    [InlineData("clear", "interpolated", 0, "40 g of ballast would have flown best.")]
    [InlineData("leaning", "measured", 3, "40 g of ballast probably flew best.")]
    [InlineData("leaning", "predicted", 3, "40 g of ballast would probably have flown best.")]
    [InlineData("no_difference", "measured", 3, "No difference between the ballasts could be shown.")]
    [InlineData("unknown", "measured", 3, "This session cannot tell which ballast is best.")]
    public void Answer_SaysTheVerdictInOneSentence(string verdict, string support, int flights, string expected)
    {
        ComparisonEntry comparison = ExampleSession.Plain.Document().Comparison;
        comparison = comparison with
        {
            Verdict = verdict,
            Options = [.. comparison.Options.Select(o => o with { Support = support, Flown = o.Flown with { Flights = flights } })],
        };

        Assert.Equal(expected, Words.Answer(comparison));
    }

    [Theory]
    [InlineData(0.68, "about 7 chances in 10")]
    [InlineData(0.94, "about 9 chances in 10")]
    [InlineData(0.96, "more than 9 chances in 10")]
    [InlineData(1.0, "better than 98 chances in 100")]
    [InlineData(0.0, "less than 1 chance in 20")]
    [InlineData(0.06, "about 1 chance in 10")]
    public void Odds_NeverClaimCertainty(double probability, string expected) => Assert.Equal(expected, Words.Odds(probability));

    [Fact]
    public void Odds_StandOnlyWhereTheVerdictLeavesDoubt()
    {
        ComparisonEntry comparison = ExampleSession.Plain.Document().Comparison;

        Assert.Contains("7 chances in 10", Words.Certainty(comparison), StringComparison.Ordinal);
        Assert.Contains("better than 9 chances in 10", Words.Certainty(comparison with { Verdict = "clear" }), StringComparison.Ordinal);
        Assert.Empty(Words.Certainty(comparison with { Verdict = "unknown" }));
    }

    [Theory]
    [InlineData("a\u001b[31mb", "a [31mb")]
    [InlineData("a\u202Eb\u2066c", "abc")]
    [InlineData("line\nfeed", "line feed")]
    [InlineData("مرحبا Ш 日本", "مرحبا Ш 日本")]
    public void UntrustedText_LosesWhatATerminalWouldObey(string text, string expected) => Assert.Equal(expected, Words.Tame(text));

    [Fact]
    public void Thinning_DropsNothingFartherThanItsTolerance() =>
        Gen.Double[-100, 100].Array[2, 200].Sample(ys =>
        {
            int[] keep = Thinning.Keep(..ys.Length, i => i, i => ys[i], 2);
            return keep[0] == 0 && keep[^1] == ys.Length - 1 && keep.Zip(keep.Skip(1)).All(p =>
                Enumerable.Range(p.First, p.Second - p.First).All(i => FromChord(p.First, p.Second, i, ys) <= 2 + 1e-9));
        });

    [Fact]
    public void Thinning_OfAStraightLine_LeavesItsEnds() =>
        Assert.Equal([3, 99], Thinning.Keep(3..100, i => i, i => 2.0 * i, 0.3));

    private static double FromChord(int from, int to, int i, double[] ys)
    {
        double dx = to - from, dy = ys[to] - ys[from];
        return Math.Abs((i - from) * dy - (ys[i] - ys[from]) * dx) / Math.Sqrt(dx * dx + dy * dy);
    }
}
