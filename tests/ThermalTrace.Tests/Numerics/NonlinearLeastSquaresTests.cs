using ThermalTrace.Numerics;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Numerics;

public class NonlinearLeastSquaresTests
{
    // NIST Statistical Reference Datasets, nonlinear regression: both starts and the certified values are those of the
    // files' own heads.
    private static readonly double[] Misra1a = [238.94212918, 0.00055015643181];
    private static readonly double[] Misra1aSd = [2.7070075241, 7.2668688436e-6];
    private static readonly double[] Thurber = [1288.1396800, 1491.0792535, 583.23836877, 75.416644291, 0.96629502864, 0.39797285797, 0.049727297349];
    private static readonly double[] ThurberSd = [4.6647963344, 39.571156086, 28.698696102, 5.5675370270, 0.031333340687, 0.014984928198, 0.0065842344623];
    private static readonly double[] Mgh09 = [0.19280693458, 0.19128232873, 0.12305650693, 0.13606233068];
    private static readonly double[] Mgh09Sd = [0.011435312227, 0.19633220911, 0.080842031232, 0.090025542308];

    public static TheoryData<string, double[], double[], double[], double> Certified => new()
    {
        { "Misra1a", [500, 0.0001], Misra1a, Misra1aSd, 0.10187876330 },
        { "Misra1a", [250, 0.0005], Misra1a, Misra1aSd, 0.10187876330 },
        { "Thurber", [1000, 1000, 400, 40, 0.7, 0.3, 0.03], Thurber, ThurberSd, 13.714600784 },
        { "Thurber", [1300, 1500, 500, 75, 1, 0.4, 0.05], Thurber, ThurberSd, 13.714600784 },
        { "MGH09", [25, 39, 41.5, 39], Mgh09, Mgh09Sd, 0.0066279236551 },
        { "MGH09", [0.25, 0.39, 0.415, 0.39], Mgh09, Mgh09Sd, 0.0066279236551 },
    };

    [SharedTheory]
    [MemberData(nameof(Certified))]
    public void Fit_OfNistReferenceData_HasSixCertifiedDigitsFromEitherStart(
        string name, double[] start, double[] estimates, double[] deviations, double residualSd)
    {
        double[][] rows = NistData.Read(name);
        LeastSquaresFit fit = NonlinearLeastSquares.Fit(Model(name, [.. rows.Select(row => row[1])]), [.. rows.Select(row => row[0])], start);

        Assert.Equal(FitStatus.Good, fit.Status);
        Assert.InRange(NistData.Digits(residualSd, fit.ResidualSd), 6, 15);
        for (int i = 0; i < estimates.Length; i++)
        {
            Assert.InRange(NistData.Digits(estimates[i], fit.Estimates[i]), 6, 15);
            Assert.InRange(NistData.Digits(deviations[i], fit.StandardError(i)), 6, 15);
        }
    }

    [Fact]
    public void Fit_OfACurveWithoutNoise_FindsTheCurve()
    {
        double[] x = [0, 1, 2, 3, 4, 5];
        double[] y = [.. x.Select(value => 3 * (1 - Math.Exp(-0.4 * value)))];
        LeastSquaresFit fit = NonlinearLeastSquares.Fit(Model("Misra1a", x), y, [1, 1]);
        Assert.Equal(FitStatus.Good, fit.Status);
        Assert.Equal(3, fit.Estimates[0], 1e-9);
        Assert.Equal(0.4, fit.Estimates[1], 1e-9);
    }

    [Fact]
    public void Fit_WhereRowsCannotTellParametersApart_SaysSo()
    {
        double[] y = [1, 2, 3, 4.5];
        LeastSquaresFit fit = NonlinearLeastSquares.Fit(
            (row, parameters, slopes) =>
            {
                slopes[0] = slopes[1] = row;
                return (parameters[0] + parameters[1]) * row;
            },
            y, [1, 1]);
        Assert.Equal(FitStatus.RankDeficient, fit.Status);
        Assert.Equal("4 rows do not tell parameter 2 from those before it", fit.Reason);
        Assert.Equal(double.NaN, fit.StandardError(0));
    }

    [Fact]
    public void Fit_StoppedEarly_SaysThatItHadNotSettled()
    {
        double[] x = [0, 1, 2, 3];
        LeastSquaresFit fit = NonlinearLeastSquares.Fit(Model("Misra1a", x), [0, 1, 1.5, 1.6], [100, 3], maxIterations: 2);
        Assert.Equal(FitStatus.NotConverged, fit.Status);
        Assert.Equal("the search had not settled after 2 steps", fit.Reason);
    }

    [Fact]
    public void Fit_OfAMissingResponse_IsRefusedWithAReason()
    {
        LeastSquaresFit fit = NonlinearLeastSquares.Fit(Model("Misra1a", [0, 1, 2, 3]), [0, 1, double.NaN, 2], [1, 1]);
        Assert.Equal(FitStatus.NotFinite, fit.Status);
    }

    private static CurveModel Model(string name, double[] x) => name switch
    {
        "Misra1a" => (row, b, slopes) =>
        {
            double fall = Math.Exp(-b[1] * x[row]);
            slopes[0] = 1 - fall;
            slopes[1] = b[0] * x[row] * fall;
            return b[0] * (1 - fall);
        }
        ,
        "Thurber" => (row, b, slopes) =>
        {
            double u = x[row];
            double above = b[0] + u * (b[1] + u * (b[2] + u * b[3]));
            double below = 1 + u * (b[4] + u * (b[5] + u * b[6]));
            double power = 1;
            for (int i = 0; i < 4; i++)
            {
                slopes[i] = power / below;
                power *= u;
                if (i < 3)
                {
                    slopes[4 + i] = -above * power / (below * below);
                }
            }
            return above / below;
        }
        ,
        _ => (row, b, slopes) =>
        {
            double u = x[row];
            double above = u * u + u * b[1];
            double below = u * u + u * b[2] + b[3];
            slopes[0] = above / below;
            slopes[1] = b[0] * u / below;
            slopes[2] = -b[0] * above * u / (below * below);
            slopes[3] = -b[0] * above / (below * below);
            return b[0] * above / below;
        }
        ,
    };
}
