using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Tests.Reports.Fitting;

public sealed class PiecesSummaryTests
{
    public static TheoryData<string> Cases => [.. ExamplePieces.All.Keys];

    [Fact]
    public void Answer_IsASentence_ATable_AndTheTotals()
    {
        const string expected = """
            Tern 15: fit 45 g: 2 × brass 15 and tungsten 15; CG stays at 72.0 mm.

               from the front   g  long  middle
               spacer              24.6
            1  brass 15        15  24.9    54.1
            2  tungsten 15     15  11.0    72.0
            3  brass 15        15  24.9    90.0
               spacer              24.6
            (In mm; middles behind the wing root's leading edge.)

            Ballast 45 g, all up 307 g (limit 345 g), CG 72.0 mm (48.2 % of the chord),
            limits 68 to 76 mm, static margin 10.0 %.
            Pitch inertia added: 12 kg mm²; the model answers in pitch 0.10 (0.04 to 0.22) %
            more slowly.

            What else would do:
            - 45 g: 2 × brass 15 and tungsten 15; CG stays at 72.0 mm. 0.3 mm of CG given
            """;

        string text = PiecesSummary.Write(ExamplePieces.Tern45, 80);

        Assert.StartsWith(expected.ReplaceLineEndings("\n"), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Steps_AreATable_WithWhatIsOffMarked()
    {
        string text = PiecesSummary.Write(ExamplePieces.TernSteps, 80);

        Assert.Contains("\n   45       45     307  24.6/24.6      0  brass 15, tungsten 15, brass 15\n", text, StringComparison.Ordinal);
        Assert.Contains("\n   42      40*     302  30.7/36.0      0  tungsten 5, brass 15, tungsten 15,\n", text, StringComparison.Ordinal);
        Assert.Contains("* mass or CG farther from the wish than goes unnoticed", text, StringComparison.Ordinal);
        Assert.DoesNotContain("from the front   g", text, StringComparison.Ordinal);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void NoLine_IsLongerThanTheTerminal(string name)
    {
        foreach (int width in (int[])[40, 60, 80, 100])
        {
            Assert.All(PiecesSummary.Write(ExamplePieces.All[name](), width).Split('\n'), line => Assert.InRange(line.Length, 0, width));
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Cautions_ComeOnce_AndLast(string name)
    {
        string text = PiecesSummary.Write(ExamplePieces.All[name](), 100);
        string[] mind = text[text.IndexOf("\nMind:\n", StringComparison.Ordinal)..].Split("\n- ", StringSplitOptions.None);
        Assert.Equal(mind.Length, mind.Distinct().Count());
        Assert.True(mind.Length > BallastCautions.Always.Count);
        Assert.Single(System.Text.RegularExpressions.Regex.Matches(text, "pushrods"));
    }

    [Fact]
    public void UntrustedNames_DoNotActOnTheTerminal() =>
        Assert.DoesNotContain(PiecesSummary.Write(ExamplePieces.Hostile, 80), c => c is '\u202E' or '\u2066' or '\u0007' or '\u001b' or '\0');
}
