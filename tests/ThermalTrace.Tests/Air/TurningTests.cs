using CsCheck;
using ThermalTrace.Air;

namespace ThermalTrace.Tests.Air;

public class TurningTests
{
    private const double StepS = 0.2, SpeedMps = 8;

    // A steady turn at 8 m/s: n = 1/cos φ, R = V²/(g tan φ), turn rate V/R. 30°: 1.154701 and 11.3037 m; 45°: 1.414214 and
    // 6.5262 m; closed forms.
    [Theory]
    [InlineData(11.3037, 1.154701)]
    [InlineData(6.5262, 1.414214)]
    [InlineData(-6.5262, 1.414214)]
    public void SteadyTurn_OfAKnownRadius_HasTheLoadFactorOfItsBank(double radiusM, double loadFactor) =>
        Assert.Equal(loadFactor, LoadFactors((20, SpeedMps / radiusM))[50], 1e-5);

    [Fact]
    public void LoadFactor_OfAnyTurnBelowItsLimit_IsThatOfTanBankVOmegaOverG() =>
        Gen.Select(Gen.Double[4, 20], Gen.Double[-1, 1]).Sample((speedMps, turnRadPerS) =>
        {
            double tangent = speedMps * turnRadPerS / 9.80665;
            double[] factors = Turning.LoadFactors([.. Enumerable.Repeat(speedMps, 60)], Headings((12, turnRadPerS)), StepS);
            return factors.All(n => Math.Abs(n - Math.Sqrt(1 + Math.Min(tangent * tangent, 1.7 * 1.7))) < 1e-9);
        });

    [Fact]
    public void StraightFlight_AndFlightWithoutHeading_AreTakenAsLevel()
    {
        Assert.All(LoadFactors((20, 0)), n => Assert.Equal(1, n));
        Assert.All(LoadFactors((20, double.NaN)), n => Assert.Equal(1, n));
    }

    [Theory]
    [InlineData(0.55)]
    [InlineData(-0.8)]
    public void Circles_BetweenStraightLegs_AreFoundWithinASecondOfTheirEnds(double turnRadPerS)
    {
        bool[] circling = Circles((25, 0), (30, turnRadPerS), (25, 0));
        Assert.All(At(circling, 0, 23.8), Assert.False);
        Assert.All(At(circling, 26, 54), Assert.True);
        Assert.All(At(circling, 56.2, 80), Assert.False);
    }

    [Theory]
    [InlineData(0.5)]
    [InlineData(1.5)]
    public void TurningRound_ForTheWayBack_IsNoCircle(double turnRadPerS) =>
        Assert.All(Circles((20, 0), (Math.PI / turnRadPerS, turnRadPerS), (20, 0), (Math.PI / turnRadPerS, -turnRadPerS), (20, 0)), Assert.False);

    [Fact]
    public void StraightFlight_ShorterThanRecentring_BelongsToTheCircles_AndLongerDoesNot()
    {
        Assert.All(At(Circles((20, 0), (20, 0.7), (3, 0), (20, 0.7), (20, 0)), 21, 62), Assert.True);
        Assert.All(At(Circles((20, 0), (20, 0.7), (12, 0), (20, 0.7), (20, 0)), 42, 50), Assert.False);
    }

    [Fact]
    public void ACircleToLookAbout_CountsOnlyWhereSoLittleTurningDoes()
    {
        (double, double)[] look = [(20, 0), (9, 0.7), (20, 0)];
        Assert.Contains(true, Circles(look));
        Assert.All(Turning.Circles(Speeds(look), Headings(look), StepS, 10), Assert.False);
    }

    [Fact]
    public void Circles_OfAFlightTurnedByAnyAngleOrSeenInAMirror_AreTheSame() =>
        Gen.Select(Gen.Double[-4, 4], Gen.Double[-0.9, 0.9].Array[5]).Sample((byRad, rates) =>
        {
            (double, double)[] legs = [.. rates.Select(r => (15.0, r))];
            double[] heading = Headings(legs), turned = [.. heading.Select(h => Math.IEEERemainder(h + byRad, 2 * Math.PI))];
            bool[] plain = Turning.Circles(Speeds(legs), heading, StepS);
            return plain.SequenceEqual(Turning.Circles(Speeds(legs), turned, StepS))
                && plain.SequenceEqual(Turning.Circles(Speeds(legs), [.. heading.Select(h => -h)], StepS));
        });

    private static bool[] Circles(params (double Seconds, double TurnRadPerS)[] legs) => Turning.Circles(Speeds(legs), Headings(legs), StepS);

    private static double[] LoadFactors(params (double Seconds, double TurnRadPerS)[] legs) => Turning.LoadFactors(Speeds(legs), Headings(legs), StepS);

    private static double[] Speeds((double, double)[] legs) => [.. Headings(legs).Select(_ => SpeedMps)];

    /// <summary>Heading at every grid point, right through north and back.</summary>
    private static double[] Headings(params (double Seconds, double TurnRadPerS)[] legs)
    {
        List<double> headings = [];
        double heading = 0;
        foreach ((double seconds, double rate) in legs)
        {
            for (int i = 0; i < (int)Math.Round(seconds / StepS); i++)
            {
                headings.Add(Math.IEEERemainder(heading, 2 * Math.PI));
                heading += rate * StepS;
            }
        }
        return [.. headings];
    }

    private static IEnumerable<bool> At(bool[] circling, double fromS, double toS) => circling[(int)(fromS / StepS)..(int)(toS / StepS)];
}
