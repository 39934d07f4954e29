using System.Globalization;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace ThermalTrace.Numerics;

/// <summary>A curve to be fitted: its value at a row, and there the slope of that value against each parameter.</summary>
/// <param name="row">Counted from 0.</param>
/// <param name="parameters">Where to evaluate.</param>
/// <param name="slopes">To be filled, one a parameter.</param>
public delegate double CurveModel(int row, ReadOnlySpan<double> parameters, Span<double> slopes);

/// <summary>
/// Nonlinear least squares by Levenberg and Marquardt, steps by QR and damping scaled as by Moré (1978, Lecture Notes in
/// Mathematics 630, 105). It has converged when a full step would move the estimates by less than 1e-8 of their own
/// standard errors (relative offset of Bates and Watts 1981, Technometrics 23, 179). docs/models/least-squares.md.
/// </summary>
public static class NonlinearLeastSquares
{
    private const double OffsetTolerance = 1e-8;
    private const double StepTolerance = 1e-14;

    /// <summary>Fits response ≈ model(parameters).</summary>
    /// <param name="model">The curve and its slopes.</param>
    /// <param name="response">One a row.</param>
    /// <param name="start">Where the search begins; finite.</param>
    /// <param name="sd">Standard deviation of each row's response, all up to one common factor; null where equal.</param>
    /// <param name="sdIsKnown">True where <paramref name="sd"/> is absolute; else the factor is estimated from the residuals.</param>
    /// <param name="maxIterations">Evaluations of all rows after which the search gives up.</param>
    /// <exception cref="ArgumentException">Lengths differ, there is no parameter, or an sd is not above zero.</exception>
    public static LeastSquaresFit Fit(CurveModel model, IReadOnlyList<double> response, IReadOnlyList<double> start,
        IReadOnlyList<double>? sd = null, bool sdIsKnown = false, int maxIterations = 2000)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(response);
        ArgumentNullException.ThrowIfNull(start);
        if (start.Count == 0 || (sd is not null && (sd.Count != response.Count || sd.Any(value => !(value > 0)))))
        {
            throw new ArgumentException("a fit needs a parameter and one standard deviation above zero for each row", nameof(sd));
        }
        (int rows, int parameters) = (response.Count, start.Count);
        int degreesOfFreedom = rows - parameters;
        if (degreesOfFreedom < 0)
        {
            return LeastSquaresFit.Unusable(FitStatus.RankDeficient, string.Create(CultureInfo.InvariantCulture,
                $"{rows} rows cannot tell {parameters} parameters"), parameters, degreesOfFreedom);
        }

        Linearised here = Linearise(model, response, sd, [.. start]);
        if (!double.IsFinite(here.SumOfSquares))
        {
            return LeastSquaresFit.Unusable(FitStatus.NotFinite, "the curve or a response is missing or infinite at the start",
                parameters, degreesOfFreedom);
        }
        double[] lengths = new double[parameters];
        double damping = 1e-3;
        double growth = 2;
        for (int iteration = 1; iteration < maxIterations; iteration++)
        {
            for (int column = 0; column < parameters; column++)
            {
                double length = here.Slopes.Column(column).L2Norm();
                lengths[column] = Math.Max(lengths[column], length > 0 ? length : 1e-300);
            }
            QR<double> qr = Scaled(here.Slopes, lengths).QR(QRMethod.Thin);
            Vector<double> along = qr.Q.TransposeThisAndMultiply(here.Residuals);
            double expected = along.DotProduct(along);
            if (Offset(expected, here.SumOfSquares, parameters, degreesOfFreedom) < OffsetTolerance)
            {
                return Settled(here, sdIsKnown, degreesOfFreedom);
            }

            Vector<double> step = DampedStep(qr.R, along, damping);
            double[] next = [.. here.Parameters.Select((value, i) => value + step[i] / lengths[i])];
            bool stands = true;
            for (int i = 0; i < parameters; i++)
            {
                stands &= Math.Abs(next[i] - here.Parameters[i]) <= StepTolerance * Math.Abs(here.Parameters[i]);
            }
            if (stands)
            {
                return Settled(here, sdIsKnown, degreesOfFreedom);
            }
            Linearised there = Linearise(model, response, sd, next);
            Vector<double> predictedMove = qr.R * step;
            double predicted = 2 * predictedMove.DotProduct(along) - predictedMove.DotProduct(predictedMove);
            double gain = (here.SumOfSquares - there.SumOfSquares) / predicted;
            if (gain > 0)
            {
                // Nielsen's rule: damping falls smoothly with how well the line predicted the gain.
                damping = Math.Max(1e-15, damping * Math.Max(1.0 / 3, 1 - Math.Pow(2 * gain - 1, 3)));
                growth = 2;
                here = there;
            }
            else
            {
                damping *= growth;
                growth *= 2;
            }
        }
        return Ended(FitStatus.NotConverged, string.Create(CultureInfo.InvariantCulture,
            $"the search had not settled after {maxIterations} steps"), here, degreesOfFreedom);
    }

    private sealed record Linearised(double[] Parameters, Vector<double> Residuals, Matrix<double> Slopes, double SumOfSquares);

    private static Linearised Linearise(CurveModel model, IReadOnlyList<double> response, IReadOnlyList<double>? sd, double[] parameters)
    {
        Vector<double> residuals = Vector<double>.Build.Dense(response.Count);
        Matrix<double> slopes = Matrix<double>.Build.Dense(response.Count, parameters.Length);
        double[] rowSlopes = new double[parameters.Length];
        for (int row = 0; row < response.Count; row++)
        {
            double weight = 1 / (sd?[row] ?? 1);
            residuals[row] = (response[row] - model(row, parameters, rowSlopes)) * weight;
            for (int column = 0; column < rowSlopes.Length; column++)
            {
                slopes[row, column] = rowSlopes[column] * weight;
            }
        }
        double sum = residuals.DotProduct(residuals);
        return new Linearised(parameters, residuals, slopes, double.IsFinite(slopes.FrobeniusNorm()) ? sum : double.NaN);
    }

    private static Matrix<double> Scaled(Matrix<double> slopes, double[] lengths) =>
        slopes.MapIndexed((_, column, value) => value / lengths[column]);

    /// <summary>Solves [R; √damping I] step ≈ [along; 0].</summary>
    private static Vector<double> DampedStep(Matrix<double> r, Vector<double> along, double damping)
    {
        int parameters = along.Count;
        Matrix<double> stacked = r.Stack(Matrix<double>.Build.DenseDiagonal(parameters, Math.Sqrt(damping)));
        Vector<double> target = Vector<double>.Build.Dense(2 * parameters);
        along.CopySubVectorTo(target, 0, 0, parameters);
        return stacked.QR(QRMethod.Thin).Solve(target);
    }

    /// <summary>Length of the residuals within the tangent plane against that across it, each for one degree of freedom.</summary>
    private static double Offset(double along, double sumOfSquares, int parameters, int degreesOfFreedom)
    {
        double across = Math.Max(0, sumOfSquares - along);
        return along <= 0 ? 0 : degreesOfFreedom == 0 || across <= 0 ? double.PositiveInfinity
            : Math.Sqrt(along / parameters / (across / degreesOfFreedom));
    }

    private static LeastSquaresFit Settled(Linearised here, bool sdIsKnown, int degreesOfFreedom)
    {
        LeastSquaresFit tangent = LinearLeastSquares.Fit(here.Slopes, here.Residuals.AsArray(), null, null, sdIsKnown);
        return tangent.Status is FitStatus.Good or FitStatus.NoDegreesOfFreedom
            ? tangent with { Estimates = here.Parameters, ResidualSd = ResidualSd(here, degreesOfFreedom) }
            : Ended(tangent.Status, tangent.Reason, here, degreesOfFreedom);
    }

    private static LeastSquaresFit Ended(FitStatus status, string reason, Linearised here, int degreesOfFreedom) =>
        LeastSquaresFit.Unusable(status, reason, here.Parameters.Length, degreesOfFreedom) with
        {
            Estimates = here.Parameters,
            ResidualSd = ResidualSd(here, degreesOfFreedom),
        };

    private static double ResidualSd(Linearised here, int degreesOfFreedom) =>
        degreesOfFreedom > 0 ? Math.Sqrt(here.SumOfSquares / degreesOfFreedom) : double.NaN;
}
