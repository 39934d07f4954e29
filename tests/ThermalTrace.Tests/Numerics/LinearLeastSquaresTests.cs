using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Numerics;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Numerics;

public class LinearLeastSquaresTests
{
    // NIST Statistical Reference Datasets, linear regression, certified values from the files' own heads:
    // estimate, its standard deviation; the residual standard deviation is the last argument but one.
    public static TheoryData<string, double[], double[], double, int> Certified => new()
    {
        {
            "Norris", [-0.262323073774029, 1.00211681802045], [0.232818234301152, 0.000429796848199937], 0.884796396144373, 9
        },
        {
            "Longley",
            [-3482258.63459582, 15.0618722713733, -0.0358191792925910, -2.02022980381683, -1.03322686717359, -0.0511041056535807, 1829.15146461355],
            [890420.383607373, 84.9149257747669, 0.0334910077722432, 0.488399681651699, 0.214274163161675, 0.226073200069370, 455.478499142212],
            304.854073561965, 9
        },
        {
            "Filip",
            [-1467.48961422980, -2772.17959193342, -2316.37108160893, -1127.97394098372, -354.478233703349, -75.1242017393757,
                -10.8753180355343, -1.06221498588947, -0.0670191154593408, -0.00246781078275479, -0.0000402962525080404],
            [298.084530995537, 559.779865474950, 466.477572127796, 227.204274477751, 71.6478660875927, 15.2897178747400,
                2.23691159816033, 0.221624321934227, 0.0142363763154724, 0.000535617408889821, 0.896632837373868e-5],
            0.00334801051324544, 7 // what powers of x rounded to doubles leave of its eleven collinear columns
        },
        {
            "Wampler5", [1, 1, 1, 1, 1, 1],
            [21523262.4678170, 23635517.3469681, 7793435.24331583, 1014755.07550350, 56456.6512170752, 1123.24854679312],
            23601450.2379268, 9
        },
    };

    [SharedTheory]
    [MemberData(nameof(Certified))]
    public void Fit_OfNistReferenceData_HasTheCertifiedDigits(string name, double[] estimates, double[] deviations, double residualSd, int digits)
    {
        double[][] rows = NistData.Read(name);
        LeastSquaresFit fit = LinearLeastSquares.Fit(Design(name, rows), [.. rows.Select(row => row[0])]);

        Assert.Equal(FitStatus.Good, fit.Status);
        Assert.Equal(rows.Length - estimates.Length, fit.DegreesOfFreedom);
        Assert.InRange(NistData.Digits(residualSd, fit.ResidualSd), digits, 15);
        for (int i = 0; i < estimates.Length; i++)
        {
            Assert.InRange(NistData.Digits(estimates[i], fit.Estimates[i]), digits, 15);
            Assert.InRange(NistData.Digits(deviations[i], fit.StandardError(i)), digits, 15);
        }
    }

    // Worked by hand: two readings of one quantity, 10 ± 1 and 12 ± 2, weigh 4 to 1.
    [Fact]
    public void Fit_OfReadingsWithKnownScatter_WeighsThemByIt()
    {
        LeastSquaresFit fit = LinearLeastSquares.Fit(Ones(2), [10, 12], [1, 2], sdIsKnown: true);
        Assert.Equal(10.4, fit.Estimates[0], 1e-12);
        Assert.Equal(Math.Sqrt(0.8), fit.StandardError(0), 1e-12);
    }

    [Fact]
    public void Fit_WithAPriorRow_EqualsAFitWithThatReading()
    {
        LeastSquaresFit withReading = LinearLeastSquares.Fit(Ones(3), [10, 12, 9], [1, 2, 0.5]);
        LeastSquaresFit withPrior = LinearLeastSquares.Fit(Ones(2), [10, 12], [1, 2], [new PriorRow([1], 9, 0.5)]);
        Assert.Equal(withReading.Estimates[0], withPrior.Estimates[0], 1e-14);
        Assert.Equal(withReading.StandardError(0), withPrior.StandardError(0), 1e-14);
        Assert.Equal(2, withPrior.DegreesOfFreedom);
    }

    [Fact]
    public void Fit_OfAnExactLine_IsThatLineInAnyUnits() =>
        Gen.Select(Gen.Double[-100, 100], Gen.Double[-100, 100], Gen.Double[1e-6, 1e6]).Sample((offset, slope, unit) =>
        {
            double[] x = [1, 2, 3, 5, 8];
            Matrix<double> design = Matrix<double>.Build.Dense(5, 2, (row, column) => column == 0 ? 1 : x[row] * unit);
            LeastSquaresFit fit = LinearLeastSquares.Fit(design, [.. x.Select(value => offset + slope * value)]);
            return fit.Status == FitStatus.Good && Math.Abs(fit.Estimates[0] - offset) < 1e-11 && Math.Abs(fit.Estimates[1] * unit - slope) < 1e-11;
        });

    [Theory]
    [InlineData(2.0, "4 rows do not tell parameter 2 from those before it")]
    [InlineData(0.0, "nothing among 4 rows depends on parameter 2")]
    public void Fit_OfAColumnThatSaysNothingNew_IsRefusedWithAReason(double value, string reason)
    {
        Matrix<double> design = Matrix<double>.Build.Dense(4, 2, (_, column) => column == 0 ? 1 : value);
        LeastSquaresFit fit = LinearLeastSquares.Fit(design, [1, 2, 3, 4]);
        Assert.Equal(FitStatus.RankDeficient, fit.Status);
        Assert.Equal(reason, fit.Reason);
        Assert.Equal(double.NaN, fit.Estimates[0]);
    }

    [Fact]
    public void Fit_OfFewerRowsThanParameters_IsRefusedUnlessPriorsHelp()
    {
        Matrix<double> design = Matrix<double>.Build.Dense(1, 2, 1);
        Assert.Equal("1 rows cannot tell 2 parameters", LinearLeastSquares.Fit(design, [1]).Reason);
        LeastSquaresFit fit = LinearLeastSquares.Fit(design, [1], [1], [new PriorRow([0, 1], 3, 1)], sdIsKnown: true);
        Assert.Equal(FitStatus.Good, fit.Status);
        Assert.Equal(-2, fit.Estimates[0], 1e-12);
    }

    [Fact]
    public void Fit_OfAsManyRowsAsParameters_HasNoScatterToJudgeBy()
    {
        LeastSquaresFit fit = LinearLeastSquares.Fit(Ones(1), [7]);
        Assert.Equal(FitStatus.NoDegreesOfFreedom, fit.Status);
        Assert.Equal(7, fit.Estimates[0], 1e-14);
        Assert.Equal(double.NaN, fit.StandardError(0));
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    public void Fit_OfAMissingOrInfiniteNumber_IsRefusedWithAReason(double value)
    {
        Assert.Equal(FitStatus.NotFinite, LinearLeastSquares.Fit(Ones(3), [1, value, 2]).Status);
        Assert.Equal(FitStatus.NotFinite, LinearLeastSquares.Fit(Ones(3) * value, [1, 3, 2]).Status);
    }

    [Fact]
    public void Fit_WithAScatterOfZero_IsTheCallersMistake() =>
        Assert.Throws<ArgumentException>(() => LinearLeastSquares.Fit(Ones(2), [1, 2], [1, 0]));

    private static Matrix<double> Ones(int rows) => Matrix<double>.Build.Dense(rows, 1, 1);

    private static Matrix<double> Design(string name, double[][] rows) => name switch
    {
        "Longley" => Matrix<double>.Build.Dense(rows.Length, 7, (row, column) => column == 0 ? 1 : rows[row][column]),
        "Filip" => Powers(rows, 10),
        "Wampler5" => Powers(rows, 5),
        _ => Powers(rows, 1),
    };

    private static Matrix<double> Powers(double[][] rows, int highest) =>
        Matrix<double>.Build.Dense(rows.Length, highest + 1, (row, power) => Math.Pow(rows[row][1], power));
}
