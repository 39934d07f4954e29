using System.Text.Json;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Reports.Fitting;

public sealed class StockSentencesTests(ITestOutputHelper output)
{
    private string Said(double limitG, BallastTube? tube, params BallastPiece[] stock)
    {
        string said = string.Join(' ', StockSentences.Of(StockEntries.Of(AdviceModels.Tansy with { MaxFlyingMassG = 248 + limitG, BallastOptionsG = [], BallastTube = tube, BallastStock = stock }))).Replace('\u00A0', ' ');
        output.WriteLine(said);
        return said;
    }

    [Fact]
    public void AnEmptyStock_IsToldWhatToMake() =>
        Assert.Equal("No piece of the stock can be fitted up to 60 g. Out of reach: 1.2 to 60 g. "
            + "The three new pieces that would help most: brass 8 g, 8 × 18.7 mm; brass 16 g, 8 × 37.5 mm; brass 32 g, 8 × 75.0 mm. "
            + "The nearest you can fit is then 2 g off on average instead of 30 g, at worst 4 g instead of 60 g. "
            + "With them, still out of reach: 1.2 to 6.8 g, 9.2 to 14.8 g, 17.2 to 22.8 g and others.", Said(60, new BallastTube(8.2, 200, 60)));

    [Fact]
    public void AStockThatMakesEveryStep_IsNotSoldAnything() =>
        Assert.Equal("Up to 60 g of ballast the pieces make 30 different masses. The stock makes every step you could feel.", Said(60, new BallastTube(10, 500, 60), new BallastPiece("two", "brass", 2, 6, 5, 30)));

    [Fact]
    public void ATubeThatIsTooSmall_IsSaid() =>
        Assert.Contains("Even full of tungsten alloy the tube holds no more than 6.3 g.", Said(80, new BallastTube(5, 20, 60)), StringComparison.Ordinal);

    [Fact]
    public void ATubeTooThinForAnyPiece_GetsNoPromise() =>
        Assert.EndsWith("No three new pieces would make that better.", Said(80, new BallastTube(0.2, 20, 60)), StringComparison.Ordinal);

    [Fact]
    public void WithoutATube_ItIsSaidThatNothingWasMeasured() =>
        Assert.Contains("No tube is given, so lengths and diameters were not checked.", Said(56, null, new BallastPiece("eight", "brass", 8, 50, 900, 1)), StringComparison.Ordinal);

    [Fact]
    public void NoRoomForBallast_IsOneSentence() => Assert.Equal("The flying mass limit leaves no room for ballast.", Said(0, null));

    [Fact]
    public void NewPieces_OfOneSize_AreCounted()
    {
        NewPieceEntry ten = new("brass", 10, 8, 23.4);
        Assert.Contains("The three new pieces that would help most: 2\u00A0×\u00A0brass 10\u00A0g, 8 × 23.4\u00A0mm; brass 20\u00A0g, 8 × 46.8\u00A0mm.",
            StockSentences.Of(new StockEntry(60, 2, [new GapEntry(1, 9)], [ten, ten, new NewPieceEntry("brass", 20, 8, 46.8)], [])));
    }

    [Fact]
    public void Entry_AsJson_HasNullForASizeThatIsNotKnown_AndUnitsInItsKeys()
    {
        StockEntry entry = StockEntries.Of(AdviceModels.Tansy with { MaxFlyingMassG = 304, BallastOptionsG = [] });
        using JsonDocument json = JsonDocument.Parse(JsonSerializer.Serialize(entry, ResultsJson.Style));
        Assert.Equal(["up_to_g", "sums", "gaps", "new_pieces", "gaps_then", "mean_off_g", "worst_off_g", "mean_off_then_g", "worst_off_then_g", "full_tube_g", "fit_known"],
            json.RootElement.EnumerateObject().Select(p => p.Name));
        Assert.Equal(JsonValueKind.Null, json.RootElement.GetProperty("new_pieces")[0].GetProperty("diameter_mm").ValueKind);
        Assert.Equal(56, json.RootElement.GetProperty("worst_off_g").GetDouble());
    }
}
