using ThermalTrace.Reports;

namespace ThermalTrace.Tests.Reports;

public sealed class PlainSummaryTests
{
    [Fact]
    public void Summary_IsAShortAnswer()
    {
        const string expected = """
            Saltmarsh 15: 9 flights, 3 ballasts flown, 1 log

            40 g of ballast probably flew best.
            This leans one way and is not settled: about 7 chances in 10 that it is the best
            of the three.
            The three polars are well apart above 8 m/s, but the lift was weak and its width
            is not known.

            Conditions: wind 4.1 m/s, lift at the core 1.9 (1.4 to 2.5) m/s, turbulence
            light (0.14 m^(2/3)/s).

                           Net climb after
              Ballast     coming home, m/s  Best  Rests on
                  0 g  0.32 (0.25 to 0.38)  16 %  its own flights
            >    40 g  0.36 (0.30 to 0.42)  68 %  its own flights
                 80 g  0.31 (0.25 to 0.37)  16 %  its own flights

            Fly next: Fly two opposite glides at 11 m/s with each of 40 g and 80 g, in the
            order 40-80-80-40, before the wind changes.

            What this session could not tell (2):
            - Above 13.5 m/s nothing was flown, so the fast end of every polar is the
              prediction.
            - How wide the lift was cannot be told from one session; the range given is
              what such lift usually measures.

            """;

        Assert.Equal(expected.ReplaceLineEndings("\n"), PlainSummary.Write(ExampleSession.Plain.Document(), 80));
    }

    [Theory]
    [InlineData(20)]
    [InlineData(40)]
    [InlineData(57)]
    [InlineData(80)]
    [InlineData(1000)]
    public void Lines_FitTheTerminal_AndCarryNoControls(int width)
    {
        foreach (ExampleSession session in ExampleSession.All.Values)
        {
            string[] lines = PlainSummary.Write(session.Document(), width).Split('\n');

            Assert.All(lines, line => Assert.True(line.Length <= Math.Clamp(width, 40, 100), line));
            Assert.DoesNotContain(string.Concat(lines), c => char.IsControl(c) || c == '\u202E');
        }
    }
}
