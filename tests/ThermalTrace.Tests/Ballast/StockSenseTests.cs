using ThermalTrace.Ballast;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Ballast;

public sealed class StockSenseTests(ITestOutputHelper output)
{
    private const double BareG = 248, RightG = 1.24; // half a per cent of it

    private static Airframe Model(double? limitG, BallastTube? tube, params BallastPiece[] stock) => AdviceModels.Tansy with
    {
        UnballastedMassG = BareG,
        MaxFlyingMassG = BareG + limitG,
        BallastOptionsG = [],
        BallastTube = tube,
        BallastStock = stock,
    };

    private static BallastPiece Piece(double massG, int count = 1, double diameterMm = 6, double lengthMm = 5) => new($"{massG} g", "brass", massG, diameterMm, lengthMm, count);

    [Fact]
    public void NewPieces_OfRandomStocks_AreAsGoodAsTheBestOfTryingAll()
    {
        const int seed = 20261127;
        output.WriteLine($"seed {seed}");
        System.Random random = new(seed);
        int none = 0, alloy = 0, tight = 0, fewer = 0;
        for (int round = 0; round < 120; round++)
        {
            double limit = random.Next(60, 170) / 10.0;
            BallastTube tube = new(6.2, random.Next(3, 75), 60);
            BallastPiece[] stock = [.. Enumerable.Range(0, random.Next(0, 5)).Select(_ => Piece(random.Next(8, 120) / 10.0, 1, random.Next(50, 64) / 10.0, random.Next(4, 30)))];
            StockSense sense = Compare(limit, tube, stock, [.. Enumerable.Range(0, (int)limit + 1)]);
            none += sense.Now!.Gaps.Count == 0 ? 1 : 0;
            alloy += sense.NewPieces.Any(p => p.Material == "tungsten alloy") ? 1 : 0;
            tight += sense.FullTubeG is not null ? 1 : 0;
            fewer += sense.NewPieces.Count < 3 ? 1 : 0;
        }
        output.WriteLine($"of 120: nothing missing {none}, tungsten alloy {alloy}, a tube too small for the limit {tight}, fewer than three pieces {fewer}");
        Assert.True(none < 60 && alloy > 10 && tight > 3 && fewer > 3);
    }

    // 95 g: each gram up to 30, then every third.
    [Fact]
    public void NewPieces_UpToALargerLimit_AreTakenFromFewerOfTheHeavierOnes() =>
        Compare(95, new BallastTube(8.2, 160, 60), [Piece(13.7, 1), Piece(41.2, 1)], [.. Enumerable.Range(0, 31), .. Enumerable.Range(1, 21).Select(i => 30 + 3 * i)]);

    private static StockSense Compare(double limit, BallastTube tube, BallastPiece[] stock, int[] masses)
    {
        StockSense sense = StockSense.Of(Model(limit, tube, stock));
        if (sense.Now!.Gaps.Count == 0)
        {
            return sense;
        }
        // Brass in the whole tube, 0.2 mm thinner than the bore: 8.49e-3 g/mm³; where that is too light, tungsten alloy, 17.5e-3.
        double diameter = tube.BoreMm - 0.2, section = Math.PI / 4 * diameter * diameter;
        double perMm = section * (8.49e-3 * section * tube.LengthMm >= limit ? 8.49e-3 : 17.5e-3);
        int[] candidates = [.. masses.Where(m => m / perMm <= tube.LengthMm)];
        (double Square, double Worst) best = (double.PositiveInfinity, double.PositiveInfinity);
        foreach (int a in candidates)
        {
            foreach (int b in candidates.Where(b => b >= a))
            {
                foreach (int c in candidates.Where(c => c >= b))
                {
                    (double s, double w) = Try(stock, [.. new[] { a, b, c }.Where(m => m > 0).Select(m => Piece(m, 1, diameter, m / perMm))], tube, limit);
                    if (s < best.Square - 1e-7 || (s < best.Square + 1e-7 && w < best.Worst))
                    {
                        best = (Math.Min(s, best.Square), w);
                    }
                }
            }
        }
        (double square, double worst) = Try(stock, sense.NewPieces, tube, limit);
        Assert.True(Math.Abs(best.Square - square) < 1e-6 && Math.Abs(best.Worst - worst) < 1e-6, $"{best} by trying all, {(square, worst)} found");
        Assert.All(sense.NewPieces, p => Assert.Equal(p.MassG / perMm, p.LengthMm, 1e-9));
        return sense;
    }

    /// <summary>Integral over all masses up to the limit of the squared distance to the nearest sum of pieces, and the most distance, by trying every choice of pieces.</summary>
    private static (double Square, double Worst) Try(IReadOnlyList<BallastPiece> owned, IReadOnlyList<BallastPiece> made, BallastTube tube, double limitG)
    {
        BallastPiece[] all = [.. owned.Concat(made).Where(p => p.DiameterMm <= tube.BoreMm)];
        List<double> sums = [];
        for (int code = 0; code < 1 << all.Length; code++)
        {
            double mass = 0, length = 0;
            for (int i = 0; i < all.Length; i++)
            {
                (mass, length) = (code >> i & 1) == 0 ? (mass, length) : (mass + all[i].MassG, length + all[i].LengthMm);
            }
            if (mass <= limitG + 1e-9 && length <= tube.LengthMm + 1e-6)
            {
                sums.Add(mass);
            }
        }
        sums.Sort();
        double square = 0, worst = 0;
        for (int i = 1; i < sums.Count; i++)
        {
            double half = (sums[i] - sums[i - 1]) / 2;
            square += 2 * half * half * half / 3;
            worst = Math.Max(worst, half);
        }
        double beyond = Math.Max(limitG - sums[^1], 0);
        return (square + beyond * beyond * beyond / 3, Math.Max(worst, beyond));
    }

    // 0, 10, 20 g up to 25: within 1.24 g of each is right.
    [Fact]
    public void Gaps_AreWhatIsFartherThanCouldBeFelt_WidestFirst()
    {
        StockReach now = StockSense.Of(Model(25, null, Piece(10, 2))).Now!;
        Assert.Equal(2, now.Sums);
        Assert.Equal([(RightG, 10 - RightG), (10 + RightG, 20 - RightG), (20 + RightG, 25)], now.Gaps.Select(g => (Math.Round(g.FromG, 9), Math.Round(g.ToG, 9))));
        Assert.Equal(5, now.WorstOffG, 9);
        // Two stretches of 10 g are 2.5 g off on average, the last 5 g another 2.5 g.
        Assert.Equal(2.5, now.MeanOffG, 9);
    }

    // Three pieces make eight sums in steps of s; 7 s³/12 + (60 - 7 s)³/3 is least where the end is half a step away: 7.5 s = 60.
    [Fact]
    public void AnEmptyStock_IsBestFilledByDoubling()
    {
        StockSense sense = StockSense.Of(Model(60, new BallastTube(8.2, 200, 60)));
        Assert.Equal(0, sense.Now!.Sums);
        Assert.Equal([8, 16, 32], sense.NewPieces.Select(p => p.MassG));
        Assert.All(sense.NewPieces, p => Assert.Equal(("brass", 8.0), (p.Material, Math.Round(p.DiameterMm, 9))));
        // 8.49 g/cm³ x π/4 x 8² mm² is 0.42676 g a millimetre.
        Assert.Equal(8 / 0.42676, sense.NewPieces[0].LengthMm, 1e-3);
        Assert.Equal(4, sense.Then!.WorstOffG, 9);
    }

    [Fact]
    public void AStockThatMakesEveryStep_IsLeftAlone()
    {
        StockSense sense = StockSense.Of(Model(60, new BallastTube(10, 500, 60), Piece(2, 30)));
        Assert.Empty(sense.Now!.Gaps);
        Assert.Empty(sense.NewPieces);
        Assert.Null(sense.Then);
    }

    [Fact]
    public void AFullTube_IsNotPromisedMore()
    {
        // 5.0 mm of bore and 20 mm: no more than 5.6 g of tungsten alloy, however many pieces.
        StockSense sense = StockSense.Of(Model(80, new BallastTube(5.0, 20, 60)));
        Assert.Equal(17.5e-3 * Math.PI / 4 * 4.8 * 4.8 * 20, sense.FullTubeG!.Value, 9);
        Assert.All(sense.NewPieces, p => Assert.Equal("tungsten alloy", p.Material));
        Assert.True(sense.Then!.Gaps[0].ToG == 80 && sense.Then.Gaps[0].FromG < sense.FullTubeG + RightG);
        Assert.Empty(StockSense.Of(Model(80, new BallastTube(0.2, 20, 60))).NewPieces);
    }

    [Fact]
    public void APieceHeavierThanTheLimit_IsNotCounted()
    {
        StockSense sense = StockSense.Of(Model(30, new BallastTube(10, 200, 60), Piece(31)));
        Assert.Equal(0, sense.Now!.Sums);
        Assert.Equal(30, sense.Now.WorstOffG);
        Assert.NotEmpty(sense.NewPieces);
    }

    [Fact]
    public void PiecesAllTooThick_AreNoPieces()
    {
        StockSense sense = StockSense.Of(Model(30, new BallastTube(5, 200, 60), Piece(10, 3)));
        Assert.Equal(0, sense.Now!.Sums);
        Assert.True(sense.Then!.Sums > 0);
    }

    [Fact]
    public void AThousandOfAKind_AreAStockLikeAnyOther()
    {
        StockSense sense = StockSense.Of(Model(172, new BallastTube(10, 5000, 60), Piece(7, 1000)));
        Assert.Equal(24, sense.Now!.Sums);
        Assert.Empty(sense.Then!.Gaps);
    }

    [Fact]
    public void WithoutATube_LengthsAreNotChecked_AndThatIsSaid()
    {
        StockSense sense = StockSense.Of(Model(56, null, Piece(8, 1, 50, 900)));
        Assert.False(sense.FitKnown);
        Assert.Equal(1, sense.Now!.Sums);
        Assert.NotEmpty(sense.NewPieces);
        Assert.All(sense.NewPieces, p => Assert.True(double.IsNaN(p.DiameterMm) && double.IsNaN(p.LengthMm)));
    }

    [Fact]
    public void Limit_IsTheMakersElseTheListsElseTheStocks()
    {
        Assert.Equal(56, StockSense.LimitG(Model(56, null)));
        Assert.Equal(40, StockSense.LimitG(Model(null, null, Piece(10, 9)) with { BallastOptionsG = [0, 20, 40] }));
        // 20 mm hold four pieces of 5 mm.
        Assert.Equal(40, StockSense.LimitG(Model(null, new BallastTube(10, 20, 60), Piece(10, 9))));
        Assert.Equal(0, StockSense.LimitG(Model(-10, null)));
    }

    [Fact]
    public void NoRoomForBallast_HasNothingToSay()
    {
        StockSense sense = StockSense.Of(Model(0, null, Piece(10)));
        Assert.Equal(0, sense.UpToG);
        Assert.Null(sense.Now);
        Assert.Empty(sense.NewPieces);
    }

    [Fact]
    public void ALargeModel_IsOfferedRoundMasses()
    {
        Airframe large = AdviceModels.Tansy with { UnballastedMassG = 3600, MaxFlyingMassG = 6000, BallastTube = new BallastTube(25, 400, 60), BallastStock = [Piece(330, 2, 20, 124)], BallastOptionsG = [] };
        StockSense sense = StockSense.Of(large);
        Assert.All(sense.NewPieces, p => Assert.Equal(0, p.MassG % 10));
        Assert.True(sense.Then!.MeanOffG < 0.5 * sense.Now!.MeanOffG);
    }

    [Fact]
    public void FortyPieces_OfAllSizes_AreAnswered()
    {
        System.Random random = new(5);
        BallastPiece[] stock = [.. Enumerable.Range(0, 40).Select(i => Piece(Math.Round(20 + 60 * random.NextDouble(), 2), 1, 6, 20 + 40 * random.NextDouble()))];
        StockSense sense = StockSense.Of(Model(148, new BallastTube(8.2, 160, 60), stock));
        output.WriteLine($"{sense.Now!.Sums} sums, {sense.Now.MeanOffG:0.00} g off on average, with the new pieces {sense.Then?.MeanOffG:0.00}");
        Assert.Equal(3, sense.NewPieces.Count);
        Assert.True(sense.Then!.MeanOffG < sense.Now!.MeanOffG);
    }
}
