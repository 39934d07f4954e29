using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Numerics;
using ThermalTrace.Sessions;

namespace ThermalTrace.Decisions;

/// <summary>
/// Launch height against mass and head wind together: <c>ln h = a + p ln(m/m0) + q W</c>, with an energy argument as prior: a
/// throw of fixed work gives h ~ 1/m, one of fixed speed the same h. Ballast goes in when it blows, and wind raises a throw: one without
/// the other would be credited to the wrong cause. docs/models/launch.md.
/// </summary>
internal sealed class LaunchHeights
{
    private const double MassPower = -0.5, MassPowerSpread = 0.35; // between the two energy arguments
    private const double WindEffect = 0.01, WindEffectSpread = 0.02; // per m/s; common practice, no source
    private const double LeastScatter = 0.05;

    private readonly Vector<double> _mean;
    private readonly Matrix<double> _spread;
    private readonly bool _chosen;

    private LaunchHeights(Vector<double> mean, Matrix<double> spread, bool chosen) => (_mean, _spread, _chosen) = (mean, spread, chosen);

    /// <summary>Fits; null without a single launch.</summary>
    /// <param name="launches">Height m, mass over bare mass, wind m/s.</param>
    /// <param name="kind">A model under power chooses its height: mass then has no say in it.</param>
    public static LaunchHeights? Fit(IReadOnlyList<(double HeightM, double MassRatio, double WindMps)> launches, LaunchKind? kind)
    {
        List<(double HeightM, double MassRatio, double WindMps)> good = [.. launches.Where(l => l.HeightM > 1)];
        if (good.Count == 0)
        {
            return null;
        }
        bool chosen = kind is LaunchKind.Electric or LaunchKind.Tow;
        double[] prior = [Math.Log(good.Average(l => l.HeightM)), chosen ? 0 : MassPower, chosen ? 0 : WindEffect];
        double[] priorSd = [1, chosen ? 0.01 : MassPowerSpread, chosen ? 0.001 : WindEffectSpread];
        PriorRow[] priors = [.. prior.Select((value, i) => new PriorRow([.. prior.Select((_, j) => i == j ? 1.0 : 0)], value, priorSd[i]))];
        Matrix<double> design = Matrix<double>.Build.DenseOfRows(good.Select(l => new[] { 1, Math.Log(l.MassRatio), l.WindMps }));
        double[] logs = [.. good.Select(l => Math.Log(l.HeightM))];
        double scatter = 0.12;
        LeastSquaresFit fit;
        int round = 0;
        do
        {
            fit = LinearLeastSquares.Fit(design, logs, [.. logs.Select(_ => scatter)], priors, sdIsKnown: true);
            double square = (Vector<double>.Build.Dense(logs) - design * Vector<double>.Build.DenseOfEnumerable(fit.Estimates)).Sum(r => r * r);
            // Three throws do not make a scatter: one of 12 %, worth three, stands beside them.
            scatter = Math.Max(LeastScatter, Math.Sqrt((square + 3 * 0.12 * 0.12) / (good.Count + 3)));
        }
        while (++round < 4);
        return new LaunchHeights(Vector<double>.Build.DenseOfEnumerable(fit.Estimates), fit.Covariance.Cholesky().Factor, chosen);
    }

    /// <summary>Its numbers, to be kept: three means, the factor of their covariance row by row.</summary>
    public double[] Numbers => [.. _mean, .. _spread.ToRowMajorArray()];

    /// <summary>From its numbers.</summary>
    public static LaunchHeights From(double[] numbers, bool chosen) => new(Vector<double>.Build.DenseOfArray(numbers[..3]),
        Matrix<double>.Build.DenseOfRowMajor(3, 3, numbers[3..]), chosen);

    /// <summary>True where the pilot chooses the height, so that options are compared at equal height.</summary>
    public bool Chosen => _chosen;

    /// <summary>A draw of the three coefficients.</summary>
    public double[] Draw(System.Random random)
    {
        Vector<double> z = Vector<double>.Build.Dense(3, _ => Normal.Sample(random, 0, 1));
        return (_mean + _spread * z).ToArray();
    }

    /// <summary>Height, m, for a draw.</summary>
    public static double HeightM(double[] draw, double massRatio, double windMps) => Math.Exp(draw[0] + draw[1] * Math.Log(massRatio) + draw[2] * windMps);
}
