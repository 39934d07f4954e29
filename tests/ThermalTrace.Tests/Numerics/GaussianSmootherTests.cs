using System.Globalization;
using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Numerics;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Numerics;

public class GaussianSmootherTests
{
    // Annual flow of the Nile at Aswan, local level model: Durbin and Koopman (2012), ch. 2, and computed from its
    // closed forms. Variances of the observations and of the level's steps at maximum likelihood, as printed there.
    private const double ObservationVariance = 15099;
    private const double StepVariance = 1469.1;

    [SharedFact]
    public void Nile_WithADiffuseStart_HasThePublishedLikelihood() =>
        // 99 terms of log 2π: with a diffuse start the first year gives none. Durbin and Koopman print −492.07 for the
        // concentrated likelihood without constants, 49.5 (1 + log 2π) = 140.47 above it.
        Assert.Equal(-632.5456, Filter(Nile(), ObservationVariance, StepVariance).LogLikelihood, 0.0001);

    [SharedFact]
    public void Nile_WithAWideStart_HasTheLikelihoodOfThatStart() =>
        Assert.Equal(-641.5856, FilterFrom(Nile(), 0, 1e7, ObservationVariance, StepVariance).LogLikelihood, 0.0001);

    [SharedFact]
    public void Nile_AtMaximumLikelihood_HasThePublishedVariances()
    {
        double[] flow = Nile();
        Vector<double> best = SimplexSearch.Minimise(
            x => -Filter(flow, Math.Exp(x[0]), Math.Exp(x[1])).LogLikelihood, [Math.Log(10_000), Math.Log(1000)], 0.5, 1e-12, 500);
        Assert.Equal(15098.5, Math.Exp(best[0]), 1.0);
        Assert.Equal(1469.2, Math.Exp(best[1]), 0.5);
    }

    [SharedFact]
    public void Nile_Filtered_SettlesAtThePublishedGain()
    {
        GaussianSmoother filter = Filter(Nile(), ObservationVariance, StepVariance);
        double predicted = filter.Covariance[0] + StepVariance;
        Assert.Equal(5501.258, predicted, 0.0006);
        Assert.Equal(0.267048, predicted / (predicted + ObservationVariance), 6e-7);
    }

    [SharedFact]
    public void Nile_Smoothed_HasThePublishedLevels()
    {
        GaussianSmoother smoother = Filter(Nile(), ObservationVariance, StepVariance);
        smoother.Smooth();
        Assert.Equal(1111.668, smoother.StateAt(0)[0], 0.0006);
        Assert.Equal(798.370, smoother.StateAt(smoother.Steps - 1)[0], 0.0006);
    }

    // Ornstein–Uhlenbeck process with memory 5 s and spread 1.2, seen every second: the transition is exp(−dt/τ) =
    // 0.8187308, the innovation's spread 1.2 √(1 − φ²) = 0.6890132 (closed form). Long unseen, it forgets its start.
    [Fact]
    public void OrnsteinUhlenbeck_LongUnseen_HasItsStationarySpread()
    {
        const double phi = 0.8187308;
        const double innovationSd = 0.6890132;
        GaussianSmoother filter = new(1, 1);
        filter.Start([3], [0]);
        for (int step = 0; step < 200; step++)
        {
            filter.Predict([phi], [innovationSd * innovationSd]);
            filter.Observe([1], double.NaN, 1);
            filter.EndStep();
        }
        Assert.Equal(1.2, Math.Sqrt(filter.Covariance[0]), 1e-6);
        Assert.Equal(0, filter.State[0], 1e-9);
        Assert.Equal(0, filter.LogLikelihood);
    }

    // A start of 0 ± 10 counts as a hundredth of a reading.
    [Fact]
    public void ConstantState_Smoothed_IsTheWeightedMeanAtEveryStep() =>
        Gen.Double[-5, 5].Array[2, 20].Sample(readings =>
        {
            GaussianSmoother smoother = new(1, 1);
            smoother.Start([0], [100]);
            foreach (double reading in readings)
            {
                smoother.Predict([1], [0]);
                smoother.Observe([1], reading, 1);
                smoother.EndStep();
            }
            smoother.Smooth();
            double weight = readings.Length + 0.01;
            return Enumerable.Range(0, readings.Length).All(step =>
                Math.Abs(smoother.StateAt(step)[0] - readings.Sum() / weight) < 1e-9
                && Math.Abs(smoother.CovarianceAt(step)[0] - 1 / weight) < 1e-9);
        });

    /// <summary>The exact diffuse start: after the first year the level is that year's flow, give or take its noise.</summary>
    private static GaussianSmoother Filter(double[] flow, double observationVariance, double stepVariance)
    {
        GaussianSmoother filter = new(1, flow.Length);
        filter.Start([flow[0]], [observationVariance]);
        Run(filter, [double.NaN, .. flow.Skip(1)], observationVariance, stepVariance);
        return filter;
    }

    private static GaussianSmoother FilterFrom(double[] flow, double level, double variance, double observationVariance, double stepVariance)
    {
        GaussianSmoother filter = new(1, flow.Length);
        filter.Start([level], [variance]);
        Run(filter, flow, observationVariance, stepVariance);
        return filter;
    }

    private static void Run(GaussianSmoother filter, double[] flow, double observationVariance, double stepVariance)
    {
        for (int year = 0; year < flow.Length; year++)
        {
            filter.Predict([1], [year == 0 ? 0 : stepVariance]);
            filter.Observe([1], flow[year], observationVariance);
            filter.EndStep();
        }
    }

    private static double[] Nile() => [.. File.ReadLines(Path.Combine(SharedFolder.Path!, "reference", "nile.csv")).Skip(1)
        .Select(line => double.Parse(line.Split(',')[1], CultureInfo.InvariantCulture))];
}
