using ThermalTrace.Air;

namespace ThermalTrace.Tests.Air;

public class TurningTests
{
    private const double StepS = 0.2;

    // A steady turn at 8 m/s: n = 1/cos φ, R = V²/(g tan φ), turn rate V/R. 30°: 1.154701 and 11.3037 m; 45°: 1.414214 and
    // 6.5262 m; closed forms.
    [Theory]
    [InlineData(11.3037, 1.154701)]
    [InlineData(6.5262, 1.414214)]
    [InlineData(-6.5262, 1.414214)]
    public void SteadyTurn_OfAKnownRadius_HasTheLoadFactorOfItsBank(double radiusM, double loadFactor) =>
        Assert.Equal(loadFactor, LoadFactorAt(8, 8 / radiusM), 1e-5);

    [Fact]
    public void StraightFlight_AndFlightWithoutHeading_AreTakenAsLevel()
    {
        Assert.Equal(1, LoadFactorAt(8, 0));
        Assert.Equal(1, LoadFactorAt(8, double.NaN));
    }

    /// <summary>In the middle of a flight at one airspeed and turn rate, right through north and back.</summary>
    private static double LoadFactorAt(double airspeedMps, double turnRadPerS)
    {
        double[] airspeed = [.. Enumerable.Repeat(airspeedMps, 100)];
        double[] heading = [.. Enumerable.Range(0, 100).Select(i => Math.IEEERemainder(turnRadPerS * StepS * i, 2 * Math.PI))];
        return Turning.LoadFactors(airspeed, heading, StepS)[50];
    }
}
