using CsCheck;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;

namespace ThermalTrace.Tests.Polars;

public sealed class FlightEvidenceTests
{
    private static readonly AirNoise Noise = new(0.3, 3, 0.1, 60, 0.1);

    [Fact]
    public void LogDensity_OfOneMeasurement_IsTheNormals()
    {
        // y = θ + noise of variance 4, θ known as 1 ± 3: y is normal about 1 with variance 13.
        Matrix<double> precision = Matrix<double>.Build.DenseDiagonal(1, 1, 1 / 9.0);
        KnownTerms known = new(Vector<double>.Build.Dense(1, 1), precision, precision.Cholesky());
        const double y = 5.5;
        FlightEvidence evidence = new(Matrix<double>.Build.DenseDiagonal(1, 1, 0.25), Vector<double>.Build.Dense(1, y / 4), y * y / 4, Math.Log(4));

        Assert.Equal(Normal.PDFLn(1, Math.Sqrt(13), y) + 0.5 * Math.Log(2 * Math.PI), evidence.LogDensity(known), 10);
    }

    [Fact]
    public void Without_ATerm_IsTheDensityWithItsPriorAdded()
    {
        Gen.Double[-2, 2].Array[8].Sample(x =>
        {
            // Two rows over two terms; the second is integrated out against ± 0.5.
            Matrix<double> rows = Matrix<double>.Build.DenseOfRowMajor(2, 2, x[..4]);
            Vector<double> y = Vector<double>.Build.DenseOfArray([x[4], x[5]]);
            FlightEvidence evidence = new(rows.TransposeThisAndMultiply(rows), rows.TransposeThisAndMultiply(y), y.DotProduct(y), 0);
            Matrix<double> both = Matrix<double>.Build.DenseOfDiagonalArray([1, 4]), first = Matrix<double>.Build.DenseOfDiagonalArray([1, 1]);
            Vector<double> mean = Vector<double>.Build.DenseOfArray([x[6], 0]);

            double together = evidence.LogDensity(new KnownTerms(mean, both, both.Cholesky()));
            double after = evidence.Without(1, 4).LogDensity(new KnownTerms(mean, first, first.Cholesky()));

            Assert.Equal(together, after, 9);
        });
    }

    [Fact]
    public void Evidence_OfAddedRisingAir_FindsTheRiseThatIsThere()
    {
        double[] time = [.. Enumerable.Range(0, 400).Select(i => (double)i)];
        // A local term that never acts, and the wind's two; energy height rises by 0.4 m/s.
        double[] columns = [.. time.SelectMany(t => new[] { 20 + 0.4 * t, 0.01 * Math.Sin(t), 0, 0 })];
        EnergyRows rows = new(time, [.. time.Select(t => t == 0)], columns, 4, [0], (1, 0, 1), 1, 0);

        FlightEvidence evidence = FlightEvidence.Of(AddedColumns.With(rows, (1, AddedColumns.RisingAir(rows))), Noise, 2);

        Assert.Equal(0.4, evidence.Score[1] / evidence.Information[1, 1], 6);
    }

    [Fact]
    public void Sum_LessOneFlight_IsTheSumOfTheOthers()
    {
        FlightEvidence a = new(Matrix<double>.Build.DenseDiagonal(2, 2, 3), Vector<double>.Build.Dense(2, 1), 5, 2);
        FlightEvidence b = new(Matrix<double>.Build.DenseDiagonal(2, 2, 1), Vector<double>.Build.Dense(2, 7), 4, 1);

        FlightEvidence left = FlightEvidence.Sum([a, b], 2).Plus(b, -1);

        Assert.Equal(a.Information, left.Information);
        Assert.Equal(a.Score, left.Score);
        Assert.Equal((a.Square, a.Logs), (left.Square, left.Logs));
    }
}
