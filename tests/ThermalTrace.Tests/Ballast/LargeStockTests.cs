using ThermalTrace.Ballast;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;

namespace ThermalTrace.Tests.Ballast;

/// <summary>Stocks that no search goes through to the end, and sums that do not fit whole milligrams.</summary>
public class LargeStockTests
{
    private static Airframe Model(BallastTube? tube, params IEnumerable<BallastPiece> stock) =>
        AdviceModels.Tansy with { UnballastedMassG = 5000, MaxFlyingMassG = null, BallastOptionsG = [], CgMm = 500, BallastTube = tube, BallastStock = [.. stock] };

    private static readonly BallastTube Long = new(50, 5000, 500);

    [Fact]
    public void AMillionPiecesOfAThousandKinds_GetAnAnswer_ThatSaysItIsNotProved()
    {
        System.Random random = new(7);
        Airframe airframe = Model(Long, Enumerable.Range(0, 1000).Select(i => new BallastPiece($"p{i}", "lead", Math.Round(Math.Pow(10, -2 + 4 * random.NextDouble()), 2) + 0.01, 20, 0.1 + 20 * random.NextDouble(), 1000)));
        PieceAnswer answer = new PieceFitter(airframe, 0, double.PositiveInfinity).Fit(50_000, 5);
        Assert.False(answer.Proved);
        // Half a per cent of 5 kg is right: not the empty model, and not twice as much.
        Assert.InRange(answer.Ways[0].MassG, 49_975, 50_025);
    }

    [Fact]
    public void AMillionPiecesOfOneDensity_FillTheTube_WhereMoreIsAskedForThanItHolds()
    {
        System.Random random = new(8);
        Airframe airframe = Model(Long, Enumerable.Range(0, 1000).Select(i => 0.1 + 5 * random.NextDouble()).Select((length, i) => new BallastPiece($"p{i}", "lead", 2 * length, 20, length, 1000)));
        FittedWay best = new PieceFitter(airframe, 0, double.PositiveInfinity).Fit(50_000, 5).Ways[0];
        Assert.InRange(best.MassG, 9_990, 10_000 + 1e-6); // 5 m at 2 g/mm
    }

    [Fact]
    public void ASearchThatIsCalledOff_Ends()
    {
        using CancellationTokenSource off = new();
        off.Cancel();
        Airframe airframe = Model(Long, Enumerable.Range(1, 60).Select(i => new BallastPiece($"p{i}", "lead", 10 + 0.37 * i, 20, 3 + 0.7 * (i * 17 % 31), 50)));
        Assert.Throws<OperationCanceledException>(() => new PieceFitter(airframe, 0, 9000).Fit(4321, 5, off.Token));
    }

    // Without a tube only masses are added up, and 300 pieces of 100 mm are 30 m.
    [Fact]
    public void WithoutATube_NoStackIsTooLong() =>
        Assert.Equal(3000, new PieceFitter(Model(null, new BallastPiece("bar", "lead", 10, 5, 100, 400)), 0, double.PositiveInfinity).Fit(3000, 1).Ways[0].MassG, 6);

    // 0.0004 g each are nothing to a scale, and a limit is a limit.
    [Fact]
    public void PartsOfAMilligram_DoNotAddUpBeyondTheLimit()
    {
        PieceFitter fitter = new(Model(Long, new BallastPiece("ten", "lead", 10.0004, 10, 12, 20)), 0, 100);
        Assert.Equal(9, fitter.Fit(100, 1).Ways[0].Pieces.Count);
        Assert.Equal(10, new PieceFitter(Model(Long, new BallastPiece("ten", "lead", 9.9996, 10, 12, 20)), 0, 100).Fit(100, 1).Ways[0].Pieces.Count);
    }

    // Kilograms of pieces lighter than the steps in which their sums are kept.
    [Fact]
    public void ManyLightPieces_WeighWhatTheyWeigh()
    {
        FittedWay way = new PieceFitter(Model(Long, new BallastPiece("shot", "lead", 0.144, 5, 1, 1000), new BallastPiece("bar", "lead", 5000, 40, 350, 8)), 0, double.PositiveInfinity).Fit(5144, 1).Ways[0];
        Assert.Equal(way.Pieces.Sum(p => p.Piece.MassG), way.MassG, 6);
        Assert.InRange(way.MassG, 5143.9, 5144.1);
    }

    [Fact]
    public void ACentreOfGravityOutsideItsLimits_IsBroughtBetweenThem_WhereBallastCan()
    {
        Airframe airframe = Model(new BallastTube(10, 200, 560), new BallastPiece("bar", "lead", 100, 9, 30, 5)) with { CgLimitsMm = (500.5, 504) };
        PieceFitter fitter = new(airframe, 0, 1000);
        FittedWay way = fitter.Fit(100, 1).Ways[0];
        Assert.Equal(100, way.MassG, 9);
        Assert.Equal(0.5, way.CgOffMm, 1e-9); // as far as the limit asks for and no farther
        Assert.Equal(100, fitter.Fit(0, 1).Ways[0].MassG, 9);
    }
}
