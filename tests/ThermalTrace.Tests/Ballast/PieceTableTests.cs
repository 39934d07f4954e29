using ThermalTrace.Ballast;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Ballast;

public class PieceTableTests(ITestOutputHelper output)
{
    private static IReadOnlyList<double> Masses(double bareG, double limitG, params double[] options) =>
        PieceTable.MassesG(AdviceModels.Tansy with { UnballastedMassG = bareG, MaxFlyingMassG = bareG + limitG, BallastOptionsG = options }, limitG, null);

    [Fact]
    public void Masses_GoFromNoneToTheLimit_InRoundSteps()
    {
        Assert.Equal([0, 5, 10, 15, 20, 25, 30, 35, 40, 46], Masses(262, 46));
        Assert.Equal([0], Masses(262, 0));
    }

    // 262 + 45.2 - 262 is a little less than 45.2 to a computer.
    [Fact]
    public void AListedOptionAtTheLimit_IsKept()
    {
        Assert.Equal(45.2, Masses(262, 307.2 - 262, 0, 20, 45.2)[^1]);
        Assert.Equal([0, 4, 8, 12, 16, 20, 24, 28, 32, 36, 40, 45], PieceTable.MassesG(AdviceModels.Tansy with { UnballastedMassG = 262, MaxFlyingMassG = 350, BallastOptionsG = [45] }, 44.9, 4));
    }

    [Fact]
    public void Masses_OfAnyLimitAndList_RiseHoldAllThatIsListedAndEndAtTheLimit()
    {
        output.WriteLine("seed 11");
        System.Random random = new(11);
        for (int i = 0; i < 500; i++)
        {
            double limit = Math.Round(Math.Pow(10, 4 * random.NextDouble()), 1), right = FitTolerances.RightMassG(262);
            double[] options = [.. Enumerable.Range(0, random.Next(8)).Select(_ => Math.Round(1.2 * limit * random.NextDouble())).Distinct().Order()];
            IReadOnlyList<double> masses = Masses(262, limit, options);
            Assert.Equal(masses.Order().Distinct(), masses);
            Assert.All(options.Where(o => o <= limit), o => Assert.Contains(o, masses));
            Assert.Equal(0, masses[0]);
            Assert.InRange(masses[^1], limit - right, limit + 1e-6);
            double step = PieceTable.RoundStepG(limit);
            Assert.True(limit / step <= 15.001 && limit / step >= 5.9, $"{limit} g in steps of {step}");
            Assert.Contains(step / Math.Pow(10, Math.Floor(Math.Log10(step) + 1e-9)), (IEnumerable<double>)[1, 2, 2.5, 5], EqualityComparer<double>.Create((a, b) => Math.Abs(a - b) < 1e-9));
        }
    }
}
