using CsCheck;
using ThermalTrace.Ballast;
using ThermalTrace.Decisions;

namespace ThermalTrace.Tests.Ballast;

public sealed class WeighedBalanceTests
{
    private const double GPerLb = 453.59237, MmPerIn = 25.4, HalfOfNinety = 1.644854; // standard deviations; any table of the normal distribution

    // FAA, Weight and Balance Handbook, FAA-H-8083-1, worked example: empty aeroplane, front seats, rear seats, fuel, baggage; lb and in.
    private static readonly (double Lb, double In)[] Handbook = [(2100, 78.3), (340, 85), (350, 121), (450, 75), (80, 150)];

    // A published training page's example of a two-seat sailplane; lb and in.
    private static readonly (double Lb, double In)[] Training = [(1150, 13.0), (190, 12.6), (135, 12.6), (15, 42.1), (156, 13.6)];

    [Fact]
    public void Balance_OfTheHandbooksExample_IsWhatItPrints()
    {
        (double lb, double inch) = Of(Handbook);
        Assert.Equal(3320, lb, 1e-9);
        Assert.Equal(84.8, inch, 0.05);
    }

    [Fact]
    public void Balance_OfTheTrainingPagesExample_IsWhatItPrints()
    {
        (double lb, double inch) = Of(Training);
        Assert.Equal(1646, lb, 1e-9);
        Assert.Equal(21798.1, lb * inch, 0.05);
        Assert.Equal(13.24, inch, 0.005);
        (lb, inch) = Of([.. Training, (35, 42.1)]);
        Assert.Equal(1681, lb, 1e-9);
        Assert.Equal(13.84, inch, 0.005);
    }

    [Fact]
    public void Balance_OfAModelAndItsBallast_IsTheirMoments() => // constructed: (260 · 72 + 60 · 66)/320
        Assert.Equal(70.875, WeighedBalance.Of([new(260, 72, 0, 0), new(60, 66, 0, 0)]).CgMm.Value, 1e-12);

    [Fact]
    public void Balance_WithTheBallastTakenOut_IsThatOfTheBareModel()
    {
        MassAndCg bare = WeighedBalance.Of([new(320, 70.875, 0, 0), WeighedBalance.BallastOut(new BalanceAsked { BallastG = 60, BallastAtMm = 66 })]);
        Assert.Equal(260, bare.MassG.Value, 1e-12);
        Assert.Equal(72, bare.CgMm.Value, 1e-12);
    }

    [Fact]
    public void Error_OfTheCentreOfGravity_IsByHandWhatItIsHere()
    {
        // Half the mass on each of two supports 100 mm apart: 0.1 g on either moves it by 50 · 0.1/200 mm, half a millimetre on either by 0.25 mm.
        Band cg = WeighedBalance.Of([new(100, 0, 0.1, 0.5), new(100, 100, 0.1, 0.5)]).CgMm;
        Assert.Equal(Math.Sqrt(2 * (0.025 * 0.025 + 0.25 * 0.25)), cg.High - cg.Value, 1e-12);
        Assert.Equal(cg.High - cg.Value, cg.Value - cg.Low, 1e-12);
    }

    [Theory]
    [InlineData(71, 0.5, "Inside")]
    [InlineData(66.5, 0.5, "Inside")]
    [InlineData(66.2, 0.5, "CannotBeTold")]
    [InlineData(76.2, 0.5, "CannotBeTold")]
    [InlineData(77, 0.5, "Outside")]
    [InlineData(65, 0.5, "Outside")]
    [InlineData(71, 9, "CannotBeTold")]
    public void Limits_CountTheWholeInterval(double cg, double half, string expected) =>
        Assert.Equal(expected, WeighedBalance.Against((66, 76), WeighedBalance.Around(cg, half)).ToString());

    [Fact]
    public void Limits_ThatAreNotGiven_SayNothing() => Assert.Null(WeighedBalance.Against(null, WeighedBalance.Around(71, 0.5)));

    [Theory]
    [InlineData(null, 0.1, 0.1)]
    [InlineData(null, 1, 1)]
    [InlineData(null, 0.01, 0.1)]
    [InlineData(0.02, 1, 0.02)]
    public void ScaleError_IsAsGiven_OrTheUsualOrTheLastDigit(double? given, double lastDigit, double expected) =>
        Assert.Equal(expected, WeighedBalance.ScaleErrorG(new BalanceAsked { ScaleErrorG = given }, new SupportReading(100, 0, lastDigit)));

    [Fact]
    public void MovingTheDatum_MovesTheCentreOfGravityAsMuch_AndNothingElse() =>
        Gen.Select(Masses, Gen.Double[-500, 500]).Sample((masses, shift) =>
        {
            MassAndCg before = WeighedBalance.Of(masses), after = WeighedBalance.Of([.. masses.Select(m => m with { PlaceMm = m.PlaceMm + shift })]);
            return Near(after.CgMm.Value, before.CgMm.Value + shift) && Near(after.CgMm.High - after.CgMm.Low, before.CgMm.High - before.CgMm.Low) && after.MassG == before.MassG;
        });

    [Fact]
    public void DoublingEveryReading_LeavesTheCentreOfGravity() =>
        Masses.Sample(masses =>
        {
            MassAndCg before = WeighedBalance.Of(masses), after = WeighedBalance.Of([.. masses.Select(m => m with { MassG = 2 * m.MassG })]);
            return Near(after.CgMm.Value, before.CgMm.Value) && Near(after.MassG.Value, 2 * before.MassG.Value);
        });

    [Fact]
    public void CentreOfGravity_LiesBetweenTheOutermostSupports() =>
        Masses.Sample(masses => WeighedBalance.Of(masses).CgMm.Value is double cg && cg >= masses.Min(m => m.PlaceMm) - 1e-9 && cg <= masses.Max(m => m.PlaceMm) + 1e-9);

    [Fact]
    public void Nothing_HasNoBalance() => Assert.False(WeighedBalance.Of([new(60, 10, 0.1, 0.5), new(-60, 10, 0.1, 0.5)]).CgMm.IsKnown);

    // Two supports, and ballast reckoned out: drawn again and again with the errors that are said to hold 9 times in 10.
    [Theory]
    [InlineData(0)]
    [InlineData(60)]
    public void Interval_HoldsTheTruth_NineTimesInTen(double ballastG)
    {
        const int seed = 20260, repeats = 4000;
        Random random = new(seed);
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        const double bareG = 262, bareMm = 72, ballastMm = 110, front = 20, rear = 150, scale = 1.5, place = 0.8;
        double total = bareG + ballastG, cg = (bareG * bareMm + ballastG * ballastMm) / total;
        int held = 0, heldMass = 0;
        for (int i = 0; i < repeats; i++)
        {
            double atRear = total * (cg - front) / (rear - front);
            BalanceAsked asked = new()
            {
                Readings = [new(total - atRear + Drawn(scale), front + Drawn(place)), new(atRear + Drawn(scale), rear + Drawn(place))],
                ScaleErrorG = scale,
                PlaceErrorMm = place,
                BallastG = ballastG > 0 ? ballastG + Drawn(scale) : 0,
                BallastAtMm = ballastG > 0 ? ballastMm + Drawn(place) : null,
            };
            MassAndCg found = WeighedBalance.Of(ballastG > 0 ? [.. WeighedBalance.Supports(asked), WeighedBalance.BallastOut(asked)] : WeighedBalance.Supports(asked));
            held += found.CgMm.Low <= bareMm && bareMm <= found.CgMm.High ? 1 : 0;
            heldMass += found.MassG.Low <= bareG && bareG <= found.MassG.High ? 1 : 0;
        }
        Assert.True(held is > 86 * repeats / 100 and < 94 * repeats / 100, $"seed {seed}: the centre of gravity was held {100.0 * held / repeats} times in 100");
        Assert.True(heldMass is > 86 * repeats / 100 and < 94 * repeats / 100, $"seed {seed}: the mass was held {100.0 * heldMass / repeats} times in 100");

        double Drawn(double half) => half / HalfOfNinety * Normal();
    }

    private static readonly Gen<MeasuredMass[]> Masses = Gen.Select(Gen.Double[1, 2000], Gen.Double[-500, 500], Gen.Double[0, 2], Gen.Double[0, 2],
        (mass, place, massError, placeError) => new MeasuredMass(mass, place, massError, placeError)).Array[2, 6];

    private static (double Lb, double In) Of((double Lb, double In)[] example)
    {
        MassAndCg found = WeighedBalance.Of([.. example.Select(e => new MeasuredMass(e.Lb * GPerLb, e.In * MmPerIn, 0, 0))]);
        return (found.MassG.Value / GPerLb, found.CgMm.Value / MmPerIn);
    }

    private static bool Near(double a, double b) => Math.Abs(a - b) <= 1e-9 * Math.Max(1, Math.Abs(b));
}
