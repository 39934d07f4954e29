using ThermalTrace.Phases;

namespace ThermalTrace.Tests.Phases;

public class HiddenMarkovTests
{
    private const int States = 3, Steps = 6;
    private static readonly double[] Start = [Math.Log(0.5), Math.Log(0.3), Math.Log(0.2)];
    private static readonly double[] Move = [0.8, 0.15, 0.05, 0.1, 0.7, 0.2, 0.0, 0.3, 0.7];
    private static readonly HiddenMarkov.Moves Moves = new(Move, [.. Move.Select(p => Math.Log(p))]);

    [Fact]
    public void PathAndProbabilities_AreThoseOfTryingEveryPath()
    {
        Random random = new(7);
        double[] emissions = [.. Enumerable.Range(0, States * Steps).Select(_ => -3 * random.NextDouble())];
        double[] sums = new double[States * Steps];
        double total = 0, best = double.NegativeInfinity;
        int[] bestPath = [];
        for (int code = 0; code < (int)Math.Pow(States, Steps); code++)
        {
            int[] path = [.. Enumerable.Range(0, Steps).Select(t => code / (int)Math.Pow(States, t) % States)];
            double log = Start[path[0]] + emissions[path[0]];
            for (int t = 1; t < Steps; t++)
            {
                log += Moves.Log[path[t - 1] * States + path[t]] + emissions[t * States + path[t]];
            }
            (best, bestPath) = log > best ? (log, path) : (best, bestPath);
            total += Math.Exp(log);
            for (int t = 0; t < Steps; t++)
            {
                sums[t * States + path[t]] += Math.Exp(log);
            }
        }
        Assert.Equal(bestPath, HiddenMarkov.BestPath(States, emissions, Start, _ => Moves));
        double[] posterior = HiddenMarkov.Posterior(States, emissions, Start, _ => Moves);
        for (int i = 0; i < sums.Length; i++)
        {
            Assert.Equal(sums[i] / total, posterior[i], 12);
        }
    }

    [Fact]
    public void WhatWasForbidden_LeavesTheDecisionToWhatIsSeen()
    {
        // State 2 cannot follow state 0, yet a person says it did.
        double[] emissions = [0, -1e6, -1e6, -1e6, -1e6, 0];
        HiddenMarkov.Moves stuck = new([1, 0, 0, 0, 1, 0, 0, 0, 1], [0, double.NegativeInfinity, double.NegativeInfinity,
            double.NegativeInfinity, 0, double.NegativeInfinity, double.NegativeInfinity, double.NegativeInfinity, 0]);
        double[] posterior = HiddenMarkov.Posterior(States, emissions, Start, _ => stuck);
        Assert.All(posterior, p => Assert.InRange(p, 0, 1));
        Assert.Equal(1, posterior[5], 9);
    }
}
