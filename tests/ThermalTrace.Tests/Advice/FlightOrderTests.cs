using CsCheck;
using ThermalTrace.Advice;

namespace ThermalTrace.Tests.Advice;

public sealed class FlightOrderTests
{
    private static readonly Gen<int[]> Counts = Gen.Int[0, 2].Array[2, 4].Where(c => c.Sum() > 0).Select(c => c.Select(n => 2 * n).ToArray());

    [Fact]
    public void Order_OfTwoAndTwo_IsThereAndBack() => Assert.Equal([0, 1, 1, 0], FlightOrder.Of([2, 2]));

    [Fact]
    public void Order_OfFourAndFour_IsThereAndBackTwice() => Assert.Equal([0, 1, 1, 0, 0, 1, 1, 0], FlightOrder.Of([4, 4]));

    [Fact]
    public void Order_OfThreeBallasts_GoesThroughThemAndBack() => Assert.Equal([0, 1, 2, 2, 1, 0], FlightOrder.Of([2, 2, 2]));

    [Fact]
    public void Order_LeavesNothingOfASteadyDrift() =>
        Counts.Sample(counts =>
        {
            IReadOnlyList<int> order = FlightOrder.Of(counts);
            return Enumerable.Range(0, counts.Length).All(k => counts[k] == order.Count(o => o == k) && Math.Abs(FlightOrder.Drift(order, k, 1)) < 1e-12);
        });

    [Fact]
    public void Blocks_WouldLeaveAllOfIt()
    {
        int[] blocks = [0, 0, 0, 0, 1, 1, 1, 1];
        Assert.Equal(4, FlightOrder.Drift(blocks, 1, 1) - FlightOrder.Drift(blocks, 0, 1), 12);
    }

    [Fact]
    public void Order_OfFourAndFour_LeavesLessOfABentDriftThanFewestChangesWould()
    {
        double Bent(IReadOnlyList<int> order) => Math.Abs(FlightOrder.Drift(order, 0, 2) - FlightOrder.Drift(order, 1, 2));
        Assert.True(Bent(FlightOrder.Of([4, 4])) < Bent([0, 0, 1, 1, 1, 1, 0, 0]) / 2);
    }

    [Fact]
    public void Order_OfAnOddCount_IsRefused() => Assert.Throws<ArgumentException>(() => FlightOrder.Of([3, 2]));
}
