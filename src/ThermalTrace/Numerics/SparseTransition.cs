namespace ThermalTrace.Numerics;

/// <summary>
/// A square matrix that is mostly its diagonal, as transitions of state-space models are: the diagonal and the few entries
/// beside it, row by row. Applied to a symmetric matrix it costs little more than one pass over that.
/// </summary>
internal sealed class SparseTransition
{
    private readonly int _n;
    private readonly int _stride;
    private readonly double[] _diagonal;
    private readonly int[] _rows;
    private readonly int[] _columns;
    private readonly double[] _values;
    private readonly double[] _mixed; // rows of the product so far, one for each row with entries beside the diagonal
    private readonly int[] _starts;   // of each such row, its first entry
    private readonly int[] _places;
    private int _count;

    public SparseTransition(int n)
    {
        _n = n;
        _stride = PaddedRows.Stride(n);
        _diagonal = new double[_stride];
        (_rows, _columns, _values) = (new int[n * n], new int[n * n], new double[n * n]);
        _mixed = new double[n * _stride];
        _starts = new int[n + 1];
        _places = new int[n * n];
    }

    /// <summary>The diagonal, padded with zeros.</summary>
    public ReadOnlySpan<double> Diagonal => _diagonal;

    /// <summary>Rows of the entries beside the diagonal, rising.</summary>
    public ReadOnlySpan<int> Rows => _rows.AsSpan(0, _count);

    /// <summary>Their columns.</summary>
    public ReadOnlySpan<int> Columns => _columns.AsSpan(0, _count);

    /// <summary>Their values.</summary>
    public ReadOnlySpan<double> Values => _values.AsSpan(0, _count);

    /// <summary>Takes the values of a dense matrix, row-major.</summary>
    public void Read(ReadOnlySpan<double> dense)
    {
        _count = 0;
        int found = PaddedRows.NotZero(dense, _places);
        Array.Clear(_diagonal);
        int row = 0;
        foreach (int place in _places.AsSpan(0, found))
        {
            while (place >= (row + 1) * _n)
            {
                row++;
            }
            int column = place - row * _n;
            if (column == row)
            {
                _diagonal[row] = dense[place];
            }
            else
            {
                (_rows[_count], _columns[_count], _values[_count]) = (row, column, dense[place]);
                _count++;
            }
        }
    }

    /// <summary>Takes the transpose of what was stored as diagonal and entries.</summary>
    public void ReadTransposed(ReadOnlySpan<double> diagonal, ReadOnlySpan<int> rows, ReadOnlySpan<int> columns, ReadOnlySpan<double> values)
    {
        diagonal.CopyTo(_diagonal);
        _count = 0;
        for (int i = 0; i < _n; i++)
        {
            for (int k = 0; k < columns.Length; k++)
            {
                if (columns[k] == i)
                {
                    (_rows[_count], _columns[_count], _values[_count]) = (i, rows[k], values[k]);
                    _count++;
                }
            }
        }
    }

    /// <summary>x = F x; <paramref name="work"/> is as long as x, a padded row.</summary>
    public void Apply(Span<double> x, Span<double> work)
    {
        x.CopyTo(work);
        for (int i = 0; i < _n; i++)
        {
            x[i] = _diagonal[i] * work[i];
        }
        for (int k = 0; k < _count; k++)
        {
            x[_rows[k]] += _values[k] * work[_columns[k]];
        }
    }

    /// <summary>P = F P Fᵀ of a symmetric matrix of padded rows.</summary>
    public void Surround(Span<double> matrix)
    {
        // Rows that mix others, by the matrix as it was: F P.
        int mixed = 0;
        for (int k = 0; k < _count; mixed++)
        {
            int row = _rows[k];
            _starts[mixed] = k;
            while (k < _count && _rows[k] == row)
            {
                k++;
            }
            int start = _starts[mixed];
            Span<double> into = _mixed.AsSpan(mixed * _stride, _stride);
            PaddedRows.Mix(matrix, _stride, _columns.AsSpan(start, k - start), _values.AsSpan(start, k - start), into);
            PaddedRows.Add(_diagonal[row], matrix.Slice(row * _stride, _stride), into);
        }
        _starts[mixed] = _count;
        PaddedRows.Scale(matrix, _n, _diagonal);
        for (int a = 0; a < mixed; a++)
        {
            int row = _rows[_starts[a]];
            ReadOnlySpan<double> from = _mixed.AsSpan(a * _stride, _stride);
            for (int j = 0; j < _n; j++)
            {
                double value = from[j] * _diagonal[j];
                matrix[row * _stride + j] = value;
                matrix[j * _stride + row] = value;
            }
        }
        // Where both mix, the column mixes too.
        for (int a = 0; a < mixed; a++)
        {
            ReadOnlySpan<double> from = _mixed.AsSpan(a * _stride, _stride);
            for (int b = 0; b <= a; b++)
            {
                int row = _rows[_starts[a]], column = _rows[_starts[b]];
                double sum = _diagonal[column] * from[column];
                for (int k = _starts[b]; k < _starts[b + 1]; k++)
                {
                    sum += _values[k] * from[_columns[k]];
                }
                matrix[row * _stride + column] = sum;
                matrix[column * _stride + row] = sum;
            }
        }
    }
}
