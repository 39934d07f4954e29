using ThermalTrace.Ballast;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;

namespace ThermalTrace.Tests.Ballast;

public sealed class StockSumsTests
{
    private static readonly BallastPiece[] Stock =
        [new("brass long", "brass", 20, 8, 46.9, 2), new("brass short", "brass", 10, 8, 23.4, 1), new("lead fat", "lead", 15, 12, 11.7, 4)];

    private static readonly Airframe Airframe = AdviceModels.Tansy with { BallastTube = new BallastTube(10, 120, 60), BallastStock = Stock };

    private static double[] Masses(BallastPiece[] stock, double mostG, BallastTube? tube = null) => [.. StockSums.Of(stock, tube, mostG).Select(s => s.MassG)];

    // 20 + 20 + 10 g is 117.2 mm of brass: a tube of 117 mm does not take it.
    [Theory]
    [InlineData(118, 50)]
    [InlineData(117, 40)]
    [InlineData(50, 20)]
    [InlineData(20, 0)]
    public void Sums_StayWithinTheTube(double lengthMm, double heaviestG) =>
        Assert.Equal(heaviestG, StockSums.Of(Airframe with { BallastTube = new BallastTube(10, lengthMm, 60) }, 1000)[^1].MassG);

    [Fact]
    public void Sums_OfAMixedStock_AreThoseOfTryingAll()
    {
        // Hundredths of a gram are kept: 3 x 7.34 is 22.02, not three times 7.3.
        BallastPiece[] stock = [new("a", "lead", 7.34, 6, 13, 3), new("b", "brass", 11.17, 8, 17, 2), new("c", "tungsten", 19.96, 6, 9, 2), new("d", "steel", 3.23, 8, 5, 1)];
        Dictionary<double, double> all = [];
        for (int code = 0; code < 4 * 3 * 3 * 2; code++)
        {
            int[] used = [code % 4, code / 4 % 3, code / 12 % 3, code / 36];
            double mass = Math.Round(used.Select((n, i) => n * stock[i].MassG).Sum(), 2), length = used.Select((n, i) => n * stock[i].LengthMm).Sum();
            if (length <= 52)
            {
                all[mass] = Math.Min(length, all.GetValueOrDefault(mass, double.PositiveInfinity));
            }
        }
        Assert.Equal(all.OrderBy(s => s.Key).Select(s => new StockSum(s.Key, s.Value)), StockSums.Of(stock, new BallastTube(9, 52, 60), 1000));
    }

    [Fact]
    public void AMassThatTwoWaysMake_TakesTheShorter() =>
        Assert.Equal(9, StockSums.Of([new("brass", "brass", 20, 8, 46.9, 2), new("tungsten", "tungsten", 20, 6, 9, 1)], new BallastTube(9, 60, 60), 100).Single(s => s.MassG == 20).LengthMm);

    [Fact]
    public void Sums_DoNotPassTheLimit_ByATenthOfAGram()
    {
        Assert.Equal([0, 20], Masses(Stock, 29.9, new BallastTube(9, 120, 60)).Where(m => m is 0 or >= 20));
        Assert.Equal(30, Masses(Stock, 30, new BallastTube(9, 120, 60))[^1]);
    }

    [Fact]
    public void PiecesThickerThanTheBore_OrLongerThanTheTube_AreLeftOut()
    {
        Assert.Equal([0], Masses([new("fat", "lead", 15, 12, 10, 4)], 100, new BallastTube(10, 120, 60)));
        Assert.Equal([0], Masses([new("long", "brass", 15, 8, 121, 4)], 100, new BallastTube(10, 120, 60)));
        // Without a tube all fit, and take no length.
        Assert.Equal([0, 15, 30], StockSums.Of([new("fat", "lead", 15, 12, 10, 2)], null, 100).Select(s => s.MassG));
        Assert.All(StockSums.Of([new("fat", "lead", 15, 12, 10, 2)], null, 100), s => Assert.Equal(0, s.LengthMm));
    }

    [Fact]
    public void AThousandOfAKind_MakeEverySumUpToTheLimit()
    {
        double[] sums = Masses([new("shot", "lead", 0.7, 5, 1, 1000)], 1000);
        Assert.Equal([.. Enumerable.Range(0, 1001).Select(n => Math.Round(0.7 * n, 1))], sums);
    }

    // Where the bound bites sums stand farther apart, and each is still what some pieces weigh.
    [Fact]
    public void AVeryLargeStock_IsAddedUpInBoundedWork_AndEverySumIsOneOfPieces()
    {
        BallastPiece[] stock = [.. Enumerable.Range(0, 200).Select(i => new BallastPiece($"p{i}", "lead", 3 * (i + 1), 5, 1, 1000))];
        double[] sums = Masses(stock, 6000);
        Assert.InRange(sums.Length, 1500, 2001);
        Assert.All(sums, m => Assert.Equal(0, m % 3));
        Assert.InRange(sums.Zip(sums.Skip(1), (a, b) => b - a).Max(), 3, 6);
    }

    [Fact]
    public void NothingOwned_OrNothingAllowed_MakesNothing()
    {
        Assert.Equal([0], Masses([], 100));
        Assert.Equal([0], Masses(Stock, 0));
        Assert.Equal([0], Masses(Stock, double.NaN));
    }
}
