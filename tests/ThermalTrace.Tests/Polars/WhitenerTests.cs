using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;
using ThermalTrace.Tests.Numerics;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Polars;

public class WhitenerTests
{
    private static readonly AirNoise Air = new(0.4, 3, 0.15, 50, 0.1);

    // Generalised least squares the long way: the covariance of every pair of rows written out, the heights at which glides
    // begin eliminated. Covariance of the integral of an Ornstein–Uhlenbeck process from 0 to t ≤ u:
    // σ²τ² (2t/τ − 1 + e^(−t/τ) + e^(−u/τ) − e^(−(u−t)/τ)), closed form.
    [Fact]
    public void NormalEquations_OfWhitenedRows_AreThoseOfGeneralisedLeastSquares() =>
        Gen.Select(Gen.Double[0.3, 2].Array[12], Gen.Double[-3, 3].Array[36], Gen.Int[2, 10], Gen.Double[0.5, 2])
            .Sample((steps, values, secondGlide, roughness) =>
            {
                const int width = 3;
                double[] time = new double[steps.Length];
                for (int i = 1; i < time.Length; i++)
                {
                    time[i] = time[i - 1] + steps[i];
                }
                bool[] fresh = [.. time.Select((_, i) => i == 0 || i == secondGlide)];
                EnergyRows rows = new(time, fresh, values, width, [0, 1], (1, 0, 1), roughness, 0.05);
                double[] normal = new double[width * width];
                double logs = Whitener.Accumulate(rows, Air, normal);

                (Matrix<double> expected, double expectedLogs) = TheLongWay(rows, Air);
                double largest = expected.Enumerate().Max(Math.Abs);
                return Math.Abs(logs - expectedLogs) < 1e-7 && Enumerable.Range(0, width * width)
                    .All(k => Math.Abs(normal[k] - expected[k / width, k % width]) < 1e-8 * largest);
            });

    // NIST Statistical Reference Datasets, certified slopes from the files' own heads. In still air the fit behind the polars
    // is ordinary least squares, the height at which the glide begins its intercept.
    [SharedTheory]
    [InlineData("Norris", new[] { 1.00211681802045 }, 9)]
    [InlineData("Longley", new[] { 15.0618722713733, -0.0358191792925910, -2.02022980381683, -1.03322686717359, -0.0511041056535807, 1829.15146461355 }, 9)]
    public void NormalEquations_InStillAir_GiveNistsCertifiedSlopes(string name, double[] slopes, int digits)
    {
        double[][] data = NistData.Read(name);
        int width = data[0].Length;
        EnergyRows rows = new([.. data.Select((_, i) => (double)i)], [.. data.Select((_, i) => i == 0)], [.. data.SelectMany(row => row)],
            width, [], (1, 0, 1), 1, 0);
        double[] normal = new double[width * width];
        Whitener.Accumulate(rows, new AirNoise(1e-12, 1, 1e-12, 1, 1), normal);

        Matrix<double> full = Matrix<double>.Build.Dense(width, width, normal);
        Vector<double> found = full.SubMatrix(1, width - 1, 1, width - 1).Cholesky().Solve(full.SubMatrix(1, width - 1, 0, 1).Column(0));
        for (int i = 0; i < slopes.Length; i++)
        {
            Assert.InRange(NistData.Digits(slopes[i], found[i]), digits, 15);
        }
    }

    [Fact]
    public void Rows_OfOneGlideBeforeAnotherIsCutIn_KeepTheLevelUnknown()
    {
        // A constant in a column says nothing: every glide begins at a height of its own.
        EnergyRows rows = new([0, 1, 2, 3], [true, false, true, false], [5, 1, 5, 1, 9, 1, 9, 1], 2, [], (1, 0, 1), 1, 0);
        double[] normal = new double[4];
        Whitener.Accumulate(rows, Air, normal);
        Assert.Equal([0, 0, 0, 0], normal);
    }

    private static (Matrix<double> Normal, double Logs) TheLongWay(EnergyRows rows, AirNoise noise)
    {
        int n = rows.TimeS.Length;
        double quick = noise.QuickMps * rows.Roughness;
        Matrix<double> covariance = Matrix<double>.Build.Dense(n, n, (i, j) =>
            Integral(quick, noise.QuickS, rows.TimeS[i], rows.TimeS[j]) + Integral(noise.SlowMps, noise.SlowS, rows.TimeS[i], rows.TimeS[j])
            + (i == j ? noise.NoiseM * noise.NoiseM + rows.ExtraNoiseM * rows.ExtraNoiseM : 0));
        int glides = rows.Fresh.Count(fresh => fresh);
        Matrix<double> levels = Matrix<double>.Build.Dense(n, glides, (i, glide) => rows.Fresh.Take(i + 1).Count(fresh => fresh) == glide + 1 ? 1 : 0);
        Matrix<double> columns = Matrix<double>.Build.DenseOfRowMajor(n, rows.Width, rows.Columns);
        Matrix<double> inverse = covariance.Inverse();
        Matrix<double> known = levels.TransposeThisAndMultiply(inverse * levels);
        Matrix<double> cross = levels.TransposeThisAndMultiply(inverse * columns);
        return (columns.TransposeThisAndMultiply(inverse * columns) - cross.TransposeThisAndMultiply(known.Inverse() * cross),
            Math.Log(covariance.Determinant()) + Math.Log(known.Determinant()));
    }

    private static double Integral(double sd, double memory, double a, double b)
    {
        (double t, double u) = (Math.Min(a, b), Math.Max(a, b));
        return sd * sd * memory * memory * (2 * t / memory - 1 + Math.Exp(-t / memory) + Math.Exp(-u / memory) - Math.Exp(-(u - t) / memory));
    }
}
