namespace ThermalTrace.Numerics;

/// <summary>
/// Kernels for n by n matrices of a few rows, row-major in spans: filters run them once a sample, where a general
/// library's allocation for every product would cost more than the product.
/// </summary>
internal static class SmallMatrix
{
    /// <summary>result = a b.</summary>
    public static void Multiply(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> result, int n)
    {
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                double sum = 0;
                for (int k = 0; k < n; k++)
                {
                    sum += a[i * n + k] * b[k * n + j];
                }
                result[i * n + j] = sum;
            }
        }
    }

    /// <summary>result = a bᵀ.</summary>
    public static void MultiplyTransposed(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> result, int n)
    {
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                double sum = 0;
                for (int k = 0; k < n; k++)
                {
                    sum += a[i * n + k] * b[j * n + k];
                }
                result[i * n + j] = sum;
            }
        }
    }

    /// <summary>
    /// Inverse of a symmetric positive (semi)definite matrix by Cholesky after scaling to unit diagonal; a pivot at
    /// rounding level is treated as no information (its row and column of the inverse are 0).
    /// </summary>
    public static void InvertSymmetric(ReadOnlySpan<double> matrix, Span<double> inverse, int n)
    {
        const double tiniestPivot = 1e-13; // of a unit diagonal: what rounding leaves of an exact zero
        Span<double> scale = stackalloc double[n];
        Span<double> lower = stackalloc double[n * n];
        Span<bool> dead = stackalloc bool[n];
        for (int i = 0; i < n; i++)
        {
            double diagonal = matrix[i * n + i];
            scale[i] = diagonal > 0 ? 1 / Math.Sqrt(diagonal) : 0;
        }
        for (int j = 0; j < n; j++)
        {
            double pivot = matrix[j * n + j] * scale[j] * scale[j];
            for (int k = 0; k < j; k++)
            {
                pivot -= lower[j * n + k] * lower[j * n + k];
            }
            dead[j] = !(pivot > tiniestPivot);
            double root = dead[j] ? 1 : Math.Sqrt(pivot);
            lower[j * n + j] = root;
            for (int i = j + 1; i < n; i++)
            {
                double sum = matrix[i * n + j] * scale[i] * scale[j];
                for (int k = 0; k < j; k++)
                {
                    sum -= lower[i * n + k] * lower[j * n + k];
                }
                lower[i * n + j] = dead[j] ? 0 : sum / root;
            }
        }
        Span<double> column = stackalloc double[n];
        for (int c = 0; c < n; c++)
        {
            for (int i = 0; i < n; i++)
            {
                double sum = i == c && !dead[c] ? 1 : 0;
                for (int k = 0; k < i; k++)
                {
                    sum -= lower[i * n + k] * column[k];
                }
                column[i] = dead[i] ? 0 : sum / lower[i * n + i];
            }
            for (int i = n - 1; i >= 0; i--)
            {
                double sum = column[i];
                for (int k = i + 1; k < n; k++)
                {
                    sum -= lower[k * n + i] * column[k];
                }
                column[i] = dead[i] ? 0 : sum / lower[i * n + i];
            }
            for (int i = 0; i < n; i++)
            {
                inverse[i * n + c] = column[i] * scale[i] * scale[c];
            }
        }
    }
}
