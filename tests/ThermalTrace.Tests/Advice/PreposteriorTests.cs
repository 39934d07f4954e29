using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Advice;

namespace ThermalTrace.Tests.Advice;

public sealed class PreposteriorTests
{
    private static Matrix<double> Diagonal(params double[] variances) => Matrix<double>.Build.DenseOfDiagonalArray(variances);

    [Fact]
    public void Gain_OfALevelLead_IsTheHalfNormalsMean() => Assert.Equal(0.2 / Math.Sqrt(2 * Math.PI), Preposterior.Gain(0, 0.2), 12);

    // Unit normal loss at 1: φ(1) − Φ(−1) = 0.241971 − 0.158655 (tables of the normal law).
    [Fact]
    public void Gain_OfALeadOfOneSpread_IsTheUnitNormalLoss() => Assert.Equal(0.08332, Preposterior.Gain(1, 1), 5);

    [Fact]
    public void Gain_GrowsWithTheSpreadAndFallsWithTheLead() =>
        Gen.Select(Gen.Double[0, 0.3], Gen.Double[0.001, 0.3], Gen.Double[1.01, 2]).Sample((lead, spread, more) =>
            Preposterior.Gain(lead, spread * more) >= Preposterior.Gain(lead, spread) && Preposterior.Gain(lead * more, spread) <= Preposterior.Gain(lead, spread));

    // Mean of the greatest of three standard normals: 3/(2√π).
    [Fact]
    public void Gain_OfThreeAlike_IsTheirGreatestsMean() =>
        Assert.Equal(3 / (2 * Math.Sqrt(Math.PI)), Preposterior.Gain([0, 0, 0], Diagonal(1, 1, 1), 7), 0.03);

    [Fact]
    public void Gain_OfThreeOfWhichOneIsFarBehind_IsThatOfTheOtherTwo() =>
        Assert.Equal(Preposterior.Gain(0.02, Math.Sqrt(2) * 0.05), Preposterior.Gain([0.02, 0, -5], Diagonal(0.0025, 0.0025, 0.0025), 7), 0.001);

    [Fact]
    public void Gain_OfOptionsThatMoveAsOne_IsNothing() =>
        Assert.Equal(0, Preposterior.Gain([0.1, 0, 0.05], Matrix<double>.Build.Dense(3, 3, 0.04), 7), 9);

    [Fact]
    public void Verdict_OfAWideLeadKnownWell_IsClear() => Assert.Equal("clear", Preposterior.Verdict([0.2, 0], Diagonal(1e-4, 1e-4), [[0], [0]], 1));

    [Fact]
    public void Verdict_OfNoLeadKnownWell_IsNoDifference() => Assert.Equal("no_difference", Preposterior.Verdict([0.001, 0], Diagonal(1e-6, 1e-6), [[0], [0]], 1));

    [Fact]
    public void ChanceSettled_WhereEverythingWillBeKnown_IsCertain()
    {
        (double clear, double alike) = Preposterior.ChanceSettled([0, 0], Diagonal(1, 1), Diagonal(0, 0), [[0], [0]], 1);
        Assert.Equal(1, clear + alike);
    }

    [Fact]
    public void ChanceSettled_WhereAllThatIsOpenIsNoMatterOfGlides_IsNone()
    {
        double[] rest = [-0.5, 0.5];
        Assert.Equal((0, 0), Preposterior.ChanceSettled([0, 0], Diagonal(0, 0), Diagonal(0, 0), [rest, [0.5, -0.5]], 1));
    }
}
