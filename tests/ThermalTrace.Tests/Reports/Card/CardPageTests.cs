using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using ThermalTrace.Cli;
using ThermalTrace.Reports.Card;

namespace ThermalTrace.Tests.Reports.Card;

public sealed partial class CardPageTests
{
    private static readonly string Page = ExampleCard.Page;

    [Fact]
    public void Page_FetchesNothing() =>
        Assert.DoesNotMatch("(?i)https?:|<[a-z][^>]*\\s(src|srcset|action|formaction|poster)\\s*=|@import|<iframe|<object|<embed|<base|fetch\\(|XMLHttp|WebSocket|sendBeacon",
            Page.Replace(Data, "", StringComparison.Ordinal));

    [Fact]
    public void OnlyTheStyleAndTheScriptThatThePageCameWith_MayRun()
    {
        string policy = Regex.Match(Page, "<meta http-equiv=\"Content-Security-Policy\" content=\"([^\"]*)\">").Groups[1].Value.Replace("&#x27;", "'", StringComparison.Ordinal).Replace("&#x2B;", "+", StringComparison.Ordinal);
        Assert.StartsWith("default-src 'none';", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
        Assert.Contains($"style-src '{Hash(Assert.Single(Styles().Matches(Page)))}'", policy, StringComparison.Ordinal);
        Assert.Contains($"script-src '{Hash(Assert.Single(Scripts().Matches(Page)))}'", policy, StringComparison.Ordinal);
        Assert.DoesNotMatch("<[a-z][^>]*\\s(on[a-z]+|style)\\s*=", Page);
    }

    [Fact]
    public void UntrustedName_IsTextAndNothingElse()
    {
        Assert.DoesNotContain("<script>window.hit", Page, StringComparison.Ordinal);
        Assert.DoesNotContain("<img", Page, StringComparison.Ordinal);
        Assert.Contains("<h1><bdi>Tansy &lt;/script&gt;&lt;script&gt;", Page, StringComparison.Ordinal);
        using JsonDocument data = JsonDocument.Parse(Data);
        Assert.Equal(ExampleCard.Name, data.RootElement.GetProperty("airframe").GetProperty("name").GetString());
        Assert.DoesNotMatch("[<>&]", Data);
    }

    [Fact]
    public void DataInThePage_IsTheDocument()
    {
        using JsonDocument data = JsonDocument.Parse(Data), document = JsonDocument.Parse(JsonText.Of(ExampleCard.Document));
        Assert.True(JsonElement.DeepEquals(data.RootElement, document.RootElement));
        Assert.Equal("thermaltrace.card/1", document.RootElement.GetProperty("schema").GetString());
        JsonElement grid = document.RootElement.GetProperty("grid");
        int cells = new[] { "wind_mps", "lift_mps", "edr" }.Aggregate(1, (product, axis) => product * grid.GetProperty(axis).GetArrayLength());
        Assert.All(grid.GetProperty("options").EnumerateArray(), o => Assert.Equal(cells, o.GetProperty("round_trip_climb_mps_low").GetArrayLength()));
    }

    [Fact]
    public void PrintedTables_SayWhatTheGridSays()
    {
        CardDocument card = ExampleCard.Document;
        string[] tables = [.. Regex.Matches(Page, "<table>.*?</table>", RegexOptions.Singleline).Select(m => m.Value)];
        Assert.Equal(card.Lifts.Count, tables.Length);
        HashSet<string> marks = [];
        for (int t = 0; t < tables.Length; t++)
        {
            Assert.StartsWith(card.Lifts[t].Word, Regex.Match(tables[t], "<caption><b>(.*?)</b>").Groups[1].Value, StringComparison.OrdinalIgnoreCase);
            MatchCollection rows = Regex.Matches(tables[t], "<tr><th scope=\"row\"[^>]*>(.*?)</th>(.*?)</tr>");
            Assert.Equal(card.PrintedWindsMps.Count, rows.Count);
            for (int r = 0; r < rows.Count; r++)
            {
                MatchCollection cells = Regex.Matches(rows[r].Groups[2].Value, "<td class=\"([^\"]*)\">(\\d+)(?:<span class=\"mark\">(.)</span>)?</td>");
                Assert.Equal(card.Turbulence.Count, cells.Count);
                for (int c = 0; c < cells.Count; c++)
                {
                    int cell = ExampleCard.Cell(card.Grid, card.PrintedWindsMps[r], card.Lifts[t].LiftMps, card.Turbulence[c].Edr);
                    Assert.Equal(card.Grid.BestBallastG[cell]!.Value, double.Parse(cells[c].Groups[2].Value, System.Globalization.CultureInfo.InvariantCulture));
                    string mark = cells[c].Groups[3].Value;
                    Assert.Equal(card.Grid.HardlyMatters[cell] || card.Grid.Verdict[cell] == "no_difference", mark == "~");
                    Assert.Equal(card.Grid.Verdict[cell] == "clear" && mark != "~", cells[c].Groups[1].Value.EndsWith("clear", StringComparison.Ordinal));
                    marks.Add(mark);
                }
            }
        }
        Assert.True(marks.Count > 1, "no cell was marked, so the marks were not tried");
    }

    [Fact]
    public void EveryId_IsThereOnce_AndEveryLabelLeadsToOne()
    {
        string[] ids = [.. Regex.Matches(Page.Replace(Data, "", StringComparison.Ordinal), "\\sid=\"([^\"]*)\"").Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.Empty(Regex.Matches(Page, "\\s(?:for|aria-labelledby)=\"([^\"]*)\"").Select(m => m.Groups[1].Value).Except(ids));
    }

    [Fact]
    public void Cautions_StandOnce()
    {
        string read = WebUtility.HtmlDecode(Page.Replace(Data, "", StringComparison.Ordinal));
        Assert.All(ExampleCard.Document.Cautions, c => Assert.Equal(2, read.Split(c).Length));
    }

    [Fact]
    public void ACard_IsKnownByItsFirstLines_AndNothingElseIsTakenForOne()
    {
        Assert.True(CardPage.IsCard(Page[..1000]));
        Assert.False(CardPage.IsCard("<!DOCTYPE html><html><head><title>Tansy: field card</title>"));
    }

    private static string Data => DataBlock().Match(Page).Groups[1].Value;

    private static string Hash(Match block) => "sha256-" + Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(block.Groups[1].Value)));

    [GeneratedRegex("<script type=\"application/json\" id=\"card-data\">(.*?)</script>", RegexOptions.Singleline)]
    private static partial Regex DataBlock();

    [GeneratedRegex("<style>(.*?)</style>", RegexOptions.Singleline)]
    private static partial Regex Styles();

    [GeneratedRegex("<script>(.*?)</script>", RegexOptions.Singleline)]
    private static partial Regex Scripts();
}
