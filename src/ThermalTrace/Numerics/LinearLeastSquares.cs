using System.Globalization;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace ThermalTrace.Numerics;

/// <summary>What a fit by least squares found.</summary>
/// <param name="Status">Whether the rest can be used.</param>
/// <param name="Reason">Why not, in words; empty where it can.</param>
/// <param name="Estimates">One a parameter.</param>
/// <param name="Covariance">Of the estimates; parameters by parameters.</param>
/// <param name="ResidualSd">Root of the weighted sum of squares over the degrees of freedom.</param>
/// <param name="DegreesOfFreedom">Rows less parameters, prior rows counted.</param>
public sealed record LeastSquaresFit(FitStatus Status, string Reason, IReadOnlyList<double> Estimates,
    Matrix<double> Covariance, double ResidualSd, int DegreesOfFreedom)
{
    /// <summary>Standard error of a parameter.</summary>
    public double StandardError(int parameter) => Math.Sqrt(Covariance[parameter, parameter]);

    internal static LeastSquaresFit Unusable(FitStatus status, string reason, int parameters, int degreesOfFreedom) => new(status,
        reason, [.. Enumerable.Repeat(double.NaN, parameters)], Matrix<double>.Build.Dense(parameters, parameters, double.NaN),
        double.NaN, degreesOfFreedom);
}

/// <summary>A belief about a sum of parameters, entered as one more row: Σ coefficient·parameter = value ± sd.</summary>
public sealed record PriorRow(IReadOnlyList<double> Coefficients, double Value, double Sd);

/// <summary>
/// Weighted linear least squares by Householder QR of the column-scaled design, refined in twice the digits. The normal
/// equations would lose twice as many digits as the design does. docs/models/least-squares.md.
/// </summary>
public static class LinearLeastSquares
{
    /// <summary>Smallest share of a scaled column's length that must be independent of the columns before it.</summary>
    private const double RankTolerance = 1e-14;

    /// <summary>Fits response ≈ design · estimates.</summary>
    /// <param name="design">Rows by parameters.</param>
    /// <param name="response">One a row.</param>
    /// <param name="sd">Standard deviation of each row's response, all up to one common factor; null where equal.</param>
    /// <param name="priors">Beliefs, in the unit of <paramref name="sd"/>.</param>
    /// <param name="sdIsKnown">
    /// True where <paramref name="sd"/> is absolute: the covariance rests on it. False where the common factor is to be
    /// estimated from the residuals.
    /// </param>
    /// <exception cref="ArgumentException">Lengths differ, there are no parameters, or an sd is not above zero.</exception>
    public static LeastSquaresFit Fit(Matrix<double> design, IReadOnlyList<double> response, IReadOnlyList<double>? sd = null,
        IReadOnlyList<PriorRow>? priors = null, bool sdIsKnown = false)
    {
        ArgumentNullException.ThrowIfNull(design);
        ArgumentNullException.ThrowIfNull(response);
        priors ??= [];
        int parameters = design.ColumnCount;
        int rows = design.RowCount + priors.Count;
        if (response.Count != design.RowCount || (sd is not null && sd.Count != design.RowCount)
            || priors.Any(prior => prior.Coefficients.Count != parameters))
        {
            throw new ArgumentException($"{design.RowCount} rows of {parameters} parameters do not fit {response.Count} responses, "
                + $"{sd?.Count ?? response.Count} standard deviations or the priors' lengths", nameof(response));
        }
        if ((sd is not null && sd.Any(value => !(value > 0))) || priors.Any(prior => !(prior.Sd > 0)))
        {
            throw new ArgumentException("a standard deviation is not above zero", nameof(sd));
        }

        Matrix<double> x = Matrix<double>.Build.Dense(rows, parameters);
        double[] y = new double[rows];
        for (int row = 0; row < rows; row++)
        {
            PriorRow? prior = row < design.RowCount ? null : priors[row - design.RowCount];
            double rowSd = prior?.Sd ?? sd?[row] ?? 1;
            y[row] = (prior?.Value ?? response[row]) / rowSd;
            for (int column = 0; column < parameters; column++)
            {
                x[row, column] = (prior?.Coefficients[column] ?? design[row, column]) / rowSd;
            }
        }
        return Solve(x, y, sdIsKnown);
    }

    private static LeastSquaresFit Solve(Matrix<double> x, double[] y, bool sdIsKnown)
    {
        (int rows, int parameters) = (x.RowCount, x.ColumnCount);
        int degreesOfFreedom = rows - parameters;
        double[] length = [.. x.EnumerateColumns().Select(column => column.L2Norm())];
        if (!y.All(double.IsFinite) || !length.All(double.IsFinite))
        {
            return LeastSquaresFit.Unusable(FitStatus.NotFinite, "a number among the rows is missing or infinite", parameters, degreesOfFreedom);
        }
        int silent = Array.FindIndex(length, value => !(value > 0));
        if (degreesOfFreedom < 0 || silent >= 0)
        {
            string reason = silent >= 0
                ? string.Create(CultureInfo.InvariantCulture, $"nothing among {rows} rows depends on parameter {silent + 1}")
                : string.Create(CultureInfo.InvariantCulture, $"{rows} rows cannot tell {parameters} parameters");
            return LeastSquaresFit.Unusable(FitStatus.RankDeficient, reason, parameters, degreesOfFreedom);
        }

        // Powers of two: scaling rounds nothing.
        double[] scale = [.. length.Select(value => Math.ScaleB(1, -Math.ILogB(value)))];
        x.MapIndexedInplace((_, column, value) => value * scale[column]);
        QR<double> qr = x.QR(QRMethod.Thin);
        for (int column = 0; column < parameters; column++)
        {
            if (!(Math.Abs(qr.R[column, column]) > RankTolerance))
            {
                return LeastSquaresFit.Unusable(FitStatus.RankDeficient, string.Create(CultureInfo.InvariantCulture,
                    $"{rows} rows do not tell parameter {column + 1} from those before it"), parameters, degreesOfFreedom);
            }
        }

        (double[] scaledEstimates, double[] residuals) = Refine(x, y, qr);
        double[] estimates = [.. scaledEstimates.Select((value, column) => value * scale[column])];
        double sumOfSquares = residuals.Sum(residual => residual * residual);
        double residualSd = degreesOfFreedom > 0 ? Math.Sqrt(sumOfSquares / degreesOfFreedom) : double.NaN;
        Matrix<double> root = qr.R.Inverse();
        Matrix<double> covariance = root * root.Transpose();
        double factor = sdIsKnown ? 1 : residualSd * residualSd;
        covariance.MapIndexedInplace((row, column, value) => value * factor * scale[row] * scale[column]);
        return !sdIsKnown && degreesOfFreedom == 0
            ? new LeastSquaresFit(FitStatus.NoDegreesOfFreedom, string.Create(CultureInfo.InvariantCulture,
                $"{rows} rows for {parameters} parameters leave none to tell the scatter from"), estimates, covariance, residualSd, 0)
            : new LeastSquaresFit(FitStatus.Good, "", estimates, covariance, residualSd, degreesOfFreedom);
    }

    /// <summary>
    /// Solves residuals + x·estimates = y, xᵀ·residuals = 0, each round for what the one before left over (Björck 1967,
    /// BIT 7, 257): refining the estimates alone fails where residuals are large.
    /// </summary>
    private static (double[] Estimates, double[] Residuals) Refine(Matrix<double> x, double[] y, QR<double> qr)
    {
        double[][] rows = x.ToRowArrays();
        double[][] columns = x.ToColumnArrays();
        Matrix<double> rTransposed = qr.R.Transpose();
        double[] estimates = new double[columns.Length];
        double[] residuals = new double[rows.Length];
        for (int round = 0; round < 4; round++)
        {
            Vector<double> open = Vector<double>.Build.Dense(rows.Length, row => Remainder(y[row], residuals[row], rows[row], estimates));
            Vector<double> crossed = Vector<double>.Build.Dense(columns.Length, column => Remainder(0, 0, columns[column], residuals));
            Vector<double> along = qr.Q.TransposeThisAndMultiply(open);
            Vector<double> tilt = rTransposed.Solve(crossed);
            Vector<double> residualStep = open + qr.Q * (tilt - along);
            Vector<double> estimateStep = qr.R.Solve(along - tilt);
            Accumulate(residuals, residualStep);
            Accumulate(estimates, estimateStep);
        }
        return (estimates, residuals);

        static void Accumulate(double[] sum, Vector<double> step)
        {
            for (int i = 0; i < sum.Length; i++)
            {
                sum[i] += step[i];
            }
        }
    }

    /// <summary>value − subtrahend − a·b, summed with twice the digits: it is a small difference of large terms.</summary>
    private static double Remainder(double value, double subtrahend, ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        (double sum, double rest) = (value, 0);
        Add(-subtrahend, 0);
        for (int i = 0; i < a.Length; i++)
        {
            double product = -a[i] * b[i];
            Add(product, Math.FusedMultiplyAdd(-a[i], b[i], -product));
        }
        return sum + rest;

        void Add(double term, double termRest)
        {
            double next = sum + term;
            double carried = next - sum;
            rest += sum - (next - carried) + (term - carried) + termRest;
            sum = next;
        }
    }
}
