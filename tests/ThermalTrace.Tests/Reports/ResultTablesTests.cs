using System.Globalization;
using System.Text;
using ThermalTrace.Reports;

namespace ThermalTrace.Tests.Reports;

public sealed class ResultTablesTests
{
    public static TheoryData<string> Cases => [.. ExampleSession.All.Keys];

    [Theory]
    [MemberData(nameof(Cases))]
    public void Tables_HaveAHeader_AndAsManyCellsInEveryRow(string name)
    {
        ResultsDocument doc = ExampleSession.All[name].Document();
        SessionTraces traces = ExampleSession.All[name].Traces();

        List<string[]> segments = Parse(Write(w => ResultTables.WriteSegments(w, doc)));
        List<string[]> glides = Parse(Write(w => ResultTables.WriteGlides(w, doc, traces)));
        List<string[]> polars = Parse(Write(w => ResultTables.WritePolars(w, doc)));

        Assert.Equal(1 + doc.Flights.Sum(f => f.Segments.Count), segments.Count);
        Assert.Equal(1 + traces.Glides.Count, glides.Count);
        Assert.Equal(1 + doc.Polars.Sum(p => p.Curve.Count), polars.Count);
        Assert.All([segments, glides, polars], table => Assert.All(table, row => Assert.Equal(table[0].Length, row.Length)));
    }

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+1")]
    [InlineData("-2")]
    [InlineData("@sum(a1)")]
    [InlineData("\t=1")]
    [InlineData("\r=1")]
    [InlineData("=a,\"b\"\nc")]
    public void Text_ThatASpreadsheetWouldCompute_IsDefused(string name)
    {
        ResultsDocument doc = (ExampleSession.OneFlight with { Log = name }).Document();

        List<string[]> rows = Parse(Write(w => ResultTables.WriteSegments(w, doc)));

        Assert.All(rows.Skip(1), row => Assert.Equal("'" + name, row[0]));
    }

    [Fact]
    public void Numbers_StayNumbers_ThoughTheyBeginWithMinus()
    {
        ResultsDocument doc = ExampleSession.OneFlight.Document();

        List<string[]> rows = Parse(Write(w => ResultTables.WriteSegments(w, doc)));

        int column = Array.IndexOf(rows[0], "height_change_m");
        double[] changes = [.. rows.Skip(1).Select(r => double.Parse(r[column], CultureInfo.InvariantCulture))];
        Assert.Contains(changes, c => c < 0);
        Assert.Equal(doc.Flights[0].Segments[1].HeightChangeM, changes[1], 1e-4);
    }

    [Fact]
    public void WhatIsNotKnown_IsAnEmptyCell()
    {
        ResultsDocument doc = ExampleSession.Plain.Document();
        GlidePoint glide = ExampleSession.Plain.Traces().Glides[0] with { BallastG = null, TrackDeg = double.NaN };

        string text = Write(w => ResultTables.WriteGlides(w, doc, new SessionTraces([], [glide])));

        List<string[]> rows = Parse(text);
        Assert.Equal("", rows[1][Array.IndexOf(rows[0], "ballast_g")]);
        Assert.Equal("", rows[1][Array.IndexOf(rows[0], "track_deg")]);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Header_OfEachTable_NamesItsUnits()
    {
        ResultsDocument doc = ExampleSession.Plain.Document();

        Assert.StartsWith("log,flight,ballast_g,camber,spoiled,segment,kind,start_s,end_s,duration_s,height_change_m,sink_mps,probability\r\n",
            Write(w => ResultTables.WriteSegments(w, doc)), StringComparison.Ordinal);
        Assert.StartsWith("log,flight,ballast_g,flying_mass_g,start_s,end_s,duration_s,airspeed_mps,airspeed_standard_error_mps,sink_mps,sink_standard_error_mps,bank_deg,track_deg\r\n",
            Write(w => ResultTables.WriteGlides(w, doc, ExampleSession.Plain.Traces())), StringComparison.Ordinal);
        Assert.StartsWith("ballast_g,flying_mass_g,camber,airspeed_mps,sink_mps,sink_low_mps,sink_high_mps,predicted_sink_mps,glide_ratio,flown\r\n",
            Write(w => ResultTables.WritePolars(w, doc)), StringComparison.Ordinal);
    }

    private static string Write(Action<TextWriter> write)
    {
        using var writer = new StringWriter(CultureInfo.InvariantCulture);
        write(writer);
        return writer.ToString();
    }

    /// <summary>RFC 4180, written down once more and by other hands than the writer's.</summary>
    private static List<string[]> Parse(string text)
    {
        var rows = new List<string[]>();
        var row = new List<string>();
        var cell = new StringBuilder();
        bool quoted = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (quoted)
            {
                if (c == '"' && i + 1 < text.Length && text[i + 1] == '"')
                {
                    cell.Append('"');
                    i++;
                }
                else if (c == '"')
                {
                    quoted = false;
                }
                else
                {
                    cell.Append(c);
                }
            }
            else if (c == '"')
            {
                quoted = true;
            }
            else if (c == ',' || c == '\r')
            {
                row.Add(cell.ToString());
                cell.Clear();
                if (c == '\r')
                {
                    Assert.Equal('\n', text[++i]);
                    rows.Add([.. row]);
                    row.Clear();
                }
            }
            else
            {
                cell.Append(c);
            }
        }

        Assert.Empty(row);
        return rows;
    }
}
