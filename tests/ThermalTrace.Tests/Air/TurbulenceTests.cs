using ThermalTrace.Air;

namespace ThermalTrace.Tests.Air;

public class TurbulenceTests
{
    // D_LL = C2 (ε r)^(2/3), C2 = 2.0 (Pope 2000, s. 6.2; Saddoughi and Veeravalli 1994); figures computed.
    [Theory]
    [InlineData(0.1, 10, 0.0928318)]
    [InlineData(0.232079, 10, 0.5)]
    public void StructureFunction_AlongThePath_IsKolmogorovs(double edr, double separationM, double expectedM2ps2) =>
        Assert.Equal(expectedM2ps2, TurbulenceEstimator.LongitudinalM2ps2(edr, separationM), 2e-6 * expectedM2ps2 / 0.5);

    // Means over [0, 1] and [1, 2] of a process with E (x(t) − x(s))² = |t − s|^(2/3): the double integral
    // ∫∫ |t − s|^(2/3) over both intervals less that over one, by the midpoint rule.
    [Fact]
    public void MeansOverNeighbouringIntervals_DifferByTheirShareOfTheStructureFunction()
    {
        const int n = 1000;
        double within = 0, across = 0;
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                within += Math.Pow(Math.Abs(i - j) / (double)n, 2.0 / 3);
                across += Math.Pow((n + j - i) / (double)n, 2.0 / 3);
            }
        }
        double integral = (across - within) / ((double)n * n);
        // The closed form for a two-thirds law, (2^(p+2) − 4)/((p+1)(p+2)) with p = 2/3, checks the integral itself.
        Assert.Equal((Math.Pow(2, 8.0 / 3) - 4) / (5.0 / 3 * (8.0 / 3)), integral, 1e-4);
        // An outer length far beyond the reach leaves the pure law: r^(2/3) times that share. Simpson's rule loses some parts in
        // a thousand at the law's vertical start.
        foreach (double reachM in (double[])[1, 8, 27])
        {
            Assert.Equal(1, TurbulenceEstimator.MeansDifference(reachM, 1e9) / (Math.Pow(reachM, 2.0 / 3) * integral), 5e-3);
        }
    }

    [Fact]
    public void MeansOverNeighbouringIntervals_BeyondTheLargestEddies_DifferLessThanThePureLawSays()
    {
        double pure = TurbulenceEstimator.MeansDifference(30, 1e9), bent = TurbulenceEstimator.MeansDifference(30, 10);
        Assert.InRange(bent / pure, 0.05, 0.6);
    }
}
