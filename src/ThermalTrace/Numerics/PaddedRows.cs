using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace ThermalTrace.Numerics;

/// <summary>
/// Kernels for small matrices whose rows are padded with zeros to whole vectors of four. Every element is computed by
/// itself, product and sum rounded apart, and sums run in a fixed order: machines with wider or narrower vectors, with or
/// without a fused multiply-add, round alike.
/// </summary>
internal static class PaddedRows
{
    private const int Lanes = 4;

    /// <summary>Length of a row of <paramref name="n"/> values with its padding.</summary>
    public static int Stride(int n) => (n + Lanes - 1) / Lanes * Lanes;

    /// <summary>into = Σ weights[k] · row indices[k] of <paramref name="rows"/>.</summary>
    /// <param name="rows">Rows of <paramref name="stride"/> values.</param>
    /// <param name="stride">Their length, a multiple of four.</param>
    /// <param name="indices">Which rows.</param>
    /// <param name="weights">As many.</param>
    /// <param name="into">One row.</param>
    public static void Mix(ReadOnlySpan<double> rows, int stride, ReadOnlySpan<int> indices, ReadOnlySpan<double> weights, Span<double> into)
    {
        ref double from = ref MemoryMarshal.GetReference(rows);
        ref double to = ref MemoryMarshal.GetReference(into);
        int c = 0;
        for (; c + 4 * Lanes <= stride; c += 4 * Lanes)
        {
            Vector256<double> sum0 = Vector256<double>.Zero, sum1 = sum0, sum2 = sum0, sum3 = sum0;
            for (int k = 0; k < indices.Length; k++)
            {
                Vector256<double> by = Vector256.Create(weights[k]);
                nuint at = (nuint)(indices[k] * stride + c);
                sum0 += by * Vector256.LoadUnsafe(ref from, at);
                sum1 += by * Vector256.LoadUnsafe(ref from, at + Lanes);
                sum2 += by * Vector256.LoadUnsafe(ref from, at + 2 * Lanes);
                sum3 += by * Vector256.LoadUnsafe(ref from, at + 3 * Lanes);
            }
            sum0.StoreUnsafe(ref to, (nuint)c);
            sum1.StoreUnsafe(ref to, (nuint)c + Lanes);
            sum2.StoreUnsafe(ref to, (nuint)c + 2 * Lanes);
            sum3.StoreUnsafe(ref to, (nuint)c + 3 * Lanes);
        }
        for (; c < stride; c += Lanes)
        {
            Vector256<double> sum = Vector256<double>.Zero;
            for (int k = 0; k < indices.Length; k++)
            {
                sum += Vector256.Create(weights[k]) * Vector256.LoadUnsafe(ref from, (nuint)(indices[k] * stride + c));
            }
            sum.StoreUnsafe(ref to, (nuint)c);
        }
    }

    /// <summary>into = Σ weights[k] · row k.</summary>
    public static void Mix(ReadOnlySpan<double> rows, int stride, ReadOnlySpan<double> weights, Span<double> into) =>
        Mix(rows, stride, Rising[..weights.Length], weights, into);

    private static ReadOnlySpan<int> Rising => [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31];

    /// <summary>Writes the places of what is not zero, rising, and gives their number.</summary>
    public static int NotZero(ReadOnlySpan<double> values, Span<int> places)
    {
        int count = 0, i = 0;
        ref double from = ref MemoryMarshal.GetReference(values);
        for (; i + Lanes <= values.Length; i += Lanes)
        {
            for (uint bits = ~Vector256.Equals(Vector256.LoadUnsafe(ref from, (nuint)i), Vector256<double>.Zero).ExtractMostSignificantBits() & 0xF; bits != 0; bits &= bits - 1)
            {
                places[count++] = i + BitOperations.TrailingZeroCount(bits);
            }
        }
        for (; i < values.Length; i++)
        {
            if (values[i] != 0)
            {
                places[count++] = i;
            }
        }
        return count;
    }

    /// <summary>into += factor · row.</summary>
    public static void Add(double factor, ReadOnlySpan<double> row, Span<double> into)
    {
        ref double from = ref MemoryMarshal.GetReference(row);
        ref double to = ref MemoryMarshal.GetReference(into);
        Vector256<double> by = Vector256.Create(factor);
        for (int c = 0; c < into.Length; c += Lanes)
        {
            (Vector256.LoadUnsafe(ref to, (nuint)c) + by * Vector256.LoadUnsafe(ref from, (nuint)c)).StoreUnsafe(ref to, (nuint)c);
        }
    }

    /// <summary>row i, column j of the matrix −= v[i] · v[j]; what was symmetric stays so to the last bit.</summary>
    public static void SubtractSquare(Span<double> matrix, int n, ReadOnlySpan<double> v)
    {
        int stride = v.Length;
        ref double to = ref MemoryMarshal.GetReference(matrix);
        ref double from = ref MemoryMarshal.GetReference(v);
        for (int c = 0; c < stride; c += Lanes)
        {
            Vector256<double> across = Vector256.LoadUnsafe(ref from, (nuint)c);
            nuint at = (nuint)c;
            for (int i = 0; i < n; i++, at += (nuint)stride)
            {
                (Vector256.LoadUnsafe(ref to, at) - Vector256.Create(v[i]) * across).StoreUnsafe(ref to, at);
            }
        }
    }

    /// <summary>row i, column j of the matrix −= a[i] · b[j] + b[i] · a[j].</summary>
    public static void SubtractPair(Span<double> matrix, int n, ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        int stride = a.Length;
        ref double to = ref MemoryMarshal.GetReference(matrix);
        ref double left = ref MemoryMarshal.GetReference(a);
        ref double right = ref MemoryMarshal.GetReference(b);
        for (int c = 0; c < stride; c += Lanes)
        {
            Vector256<double> acrossA = Vector256.LoadUnsafe(ref left, (nuint)c), acrossB = Vector256.LoadUnsafe(ref right, (nuint)c);
            nuint at = (nuint)c;
            for (int i = 0; i < n; i++, at += (nuint)stride)
            {
                Vector256<double> pair = Vector256.Create(a[i]) * acrossB + Vector256.Create(b[i]) * acrossA;
                (Vector256.LoadUnsafe(ref to, at) - pair).StoreUnsafe(ref to, at);
            }
        }
    }

    /// <summary>row i, column j of the matrix ·= factors[i] · factors[j].</summary>
    public static void Scale(Span<double> matrix, int n, ReadOnlySpan<double> factors)
    {
        int stride = factors.Length;
        ref double to = ref MemoryMarshal.GetReference(matrix);
        ref double from = ref MemoryMarshal.GetReference(factors);
        for (int c = 0; c < stride; c += Lanes)
        {
            Vector256<double> across = Vector256.LoadUnsafe(ref from, (nuint)c);
            nuint at = (nuint)c;
            for (int i = 0; i < n; i++, at += (nuint)stride)
            {
                (Vector256.LoadUnsafe(ref to, at) * (Vector256.Create(factors[i]) * across)).StoreUnsafe(ref to, at);
            }
        }
    }

    /// <summary>sums row a, column b += Σ over rows r of rows[r][a] · rows[r][b]; whole vectors from the diagonal's on are right, what is before is not touched.</summary>
    public static void AddProducts(ReadOnlySpan<double> rows, int count, int stride, Span<double> sums, int width)
    {
        ref double from = ref MemoryMarshal.GetReference(rows);
        ref double to = ref MemoryMarshal.GetReference(sums);
        for (int a = 0; a < width; a++)
        {
            int c = a / Lanes * Lanes;
            for (; c + 2 * Lanes <= stride; c += 2 * Lanes)
            {
                nuint at = (nuint)(a * stride + c);
                Vector256<double> sum0 = Vector256.LoadUnsafe(ref to, at), sum1 = Vector256.LoadUnsafe(ref to, at + Lanes);
                for (int r = 0; r < count; r++)
                {
                    Vector256<double> by = Vector256.Create(rows[r * stride + a]);
                    sum0 += by * Vector256.LoadUnsafe(ref from, (nuint)(r * stride + c));
                    sum1 += by * Vector256.LoadUnsafe(ref from, (nuint)(r * stride + c + Lanes));
                }
                sum0.StoreUnsafe(ref to, at);
                sum1.StoreUnsafe(ref to, at + Lanes);
            }
            for (; c < stride; c += Lanes)
            {
                nuint at = (nuint)(a * stride + c);
                Vector256<double> sum = Vector256.LoadUnsafe(ref to, at);
                for (int r = 0; r < count; r++)
                {
                    sum += Vector256.Create(rows[r * stride + a]) * Vector256.LoadUnsafe(ref from, (nuint)(r * stride + c));
                }
                sum.StoreUnsafe(ref to, at);
            }
        }
    }

    /// <summary>Σ a[k] b[k].</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public static double Dot(ReadOnlySpan<double> a, ReadOnlySpan<double> b)
    {
        ref double left = ref MemoryMarshal.GetReference(a);
        ref double right = ref MemoryMarshal.GetReference(b);
        Vector256<double> sum = Vector256<double>.Zero;
        for (int c = 0; c < a.Length; c += Lanes)
        {
            sum += Vector256.LoadUnsafe(ref left, (nuint)c) * Vector256.LoadUnsafe(ref right, (nuint)c);
        }
        return sum[0] + sum[1] + (sum[2] + sum[3]);
    }
}
