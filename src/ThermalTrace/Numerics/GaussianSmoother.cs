namespace ThermalTrace.Numerics;

/// <summary>
/// Kalman filter and fixed-interval smoother for a small linear Gaussian state-space model with scalar observations, any
/// number of them at a step. The smoother runs the adjoint of the filter backwards (Bryson and Frazier; Durbin and
/// Koopman, Time Series Analysis by State Space Methods, 2nd ed. 2012, ch. 4.4), which inverts no covariance: constants
/// and running sums among the states make those singular. Matrices are row-major, n by n. docs/models/state-space.md.
/// </summary>
internal sealed class GaussianSmoother
{
    private readonly int _n;
    private readonly int _stride; // rows are padded to whole vectors, inside
    private readonly bool _keep;
    private readonly double[] _state;
    private readonly double[] _covariance;
    private readonly double[] _gain;
    private readonly double[] _scaled;
    private readonly double[] _work;
    private readonly double[] _compact;
    private readonly int[] _weighed;     // entries of an observation's h that are not zero, and their values
    private readonly double[] _weights;
    private readonly int[] _places;
    private readonly SparseTransition _transition;
    private double[] _predictedStates;
    private double[] _predictedCovariances;
    private double[] _diagonals;         // of the transitions, and what stands beside them: rows, columns, values
    private int[] _entryEnds;
    private int[] _entryRows = [];
    private int[] _entryColumns = [];
    private double[] _entryValues = [];
    private double[] _states = [];
    private double[] _covariances = [];
    private double[] _observations = []; // of each as the filter took it: h, gain before division
    private double[] _innovations = [];  // of each: innovation, its variance
    private int[] _observedAt = [];
    private int _observed;

    /// <summary>Starts from a state of <paramref name="n"/> zeros with zero covariance at step 0; see <see cref="Start"/>.</summary>
    public GaussianSmoother(int n, int expectedSteps, bool keepForSmoothing = true)
    {
        _n = n;
        _stride = PaddedRows.Stride(n);
        _state = new double[_stride];
        _covariance = new double[n * _stride];
        (_gain, _scaled, _work) = (new double[_stride], new double[_stride], new double[_stride]);
        _compact = new double[n * n];
        (_weighed, _weights) = (new int[n], new double[n]);
        _places = new int[n * n];
        _transition = new SparseTransition(n);
        int steps = keepForSmoothing ? Math.Max(expectedSteps, 1) : 0;
        _diagonals = new double[steps * _stride];
        _entryEnds = new int[steps + 1];
        _predictedStates = new double[steps * _stride];
        _predictedCovariances = new double[steps * n * _stride];
        _keep = keepForSmoothing;
    }

    /// <summary>Steps stored so far.</summary>
    public int Steps { get; private set; }

    /// <summary>Sum of the observations' log densities given those before, constants included.</summary>
    public double LogLikelihood { get; private set; }

    /// <summary>The state as filtered so far.</summary>
    public ReadOnlySpan<double> State => _state.AsSpan(0, _n);

    /// <summary>The covariance as filtered so far; the next call of this changes what it gave.</summary>
    public ReadOnlySpan<double> Covariance
    {
        get
        {
            for (int i = 0; i < _n; i++)
            {
                _covariance.AsSpan(i * _stride, _n).CopyTo(_compact.AsSpan(i * _n));
            }
            return _compact;
        }
    }

    /// <summary>Sets the state before the first step and forgets all steps.</summary>
    public void Start(ReadOnlySpan<double> state, ReadOnlySpan<double> covariance)
    {
        state.CopyTo(_state);
        for (int i = 0; i < _n; i++)
        {
            covariance.Slice(i * _n, _n).CopyTo(_covariance.AsSpan(i * _stride));
        }
        Steps = 0;
        LogLikelihood = 0;
        _observed = 0;
    }

    /// <summary>Moves to the next step: x = F x + noise of covariance Q.</summary>
    public void Predict(ReadOnlySpan<double> transition, ReadOnlySpan<double> noise)
    {
        _transition.Read(transition);
        _transition.Apply(_state, _work);
        _transition.Surround(_covariance);
        int noisy = PaddedRows.NotZero(noise, _places);
        int row = 0;
        foreach (int place in _places.AsSpan(0, noisy))
        {
            while (place >= (row + 1) * _n)
            {
                row++;
            }
            _covariance[row * (_stride - _n) + place] += noise[place];
        }
        if (!_keep)
        {
            return;
        }
        Grow(ref _predictedStates, (Steps + 1) * _stride);
        Grow(ref _predictedCovariances, (Steps + 1) * _n * _stride);
        _state.CopyTo(_predictedStates.AsSpan(Steps * _stride));
        _covariance.CopyTo(_predictedCovariances.AsSpan(Steps * _n * _stride));
        RememberTransition();
    }

    /// <summary>Takes in one scalar observation y = h·x + noise of variance r. NaN is no observation.</summary>
    public void Observe(ReadOnlySpan<double> h, double y, double variance)
    {
        if (double.IsNaN(y))
        {
            return;
        }
        int weighed = PaddedRows.NotZero(h, _weighed);
        for (int k = 0; k < weighed; k++)
        {
            _weights[k] = h[_weighed[k]];
        }
        PaddedRows.Mix(_covariance, _stride, _weighed.AsSpan(0, weighed), _weights.AsSpan(0, weighed), _gain);
        double innovation = y;
        double total = variance;
        for (int k = 0; k < weighed; k++)
        {
            innovation -= _weights[k] * _state[_weighed[k]];
            total += _weights[k] * _gain[_weighed[k]];
        }
        LogLikelihood -= 0.5 * (Math.Log(2 * Math.PI * total) + innovation * innovation / total);
        if (_keep)
        {
            RememberObservation(h, innovation, total);
        }
        PaddedRows.Add(innovation / total, _gain, _state);
        Array.Clear(_scaled);
        PaddedRows.Add(1 / Math.Sqrt(total), _gain, _scaled);
        PaddedRows.SubtractSquare(_covariance, _n, _scaled);
    }

    /// <summary>Closes the step; call once after each <see cref="Predict"/> and its observations.</summary>
    public void EndStep() => Steps++;

    /// <summary>
    /// Computes every step's smoothed state, and its covariance where wanted; then <see cref="StateAt"/> and
    /// <see cref="CovarianceAt"/> give them. Covariances are most of the work.
    /// </summary>
    public void Smooth(bool covariances = true)
    {
        int n = _n, stride = _stride;
        Grow(ref _states, Steps * n);
        Grow(ref _covariances, covariances ? Steps * n * n : 0);
        double[] lambda = new double[stride], pulled = new double[stride], mapped = new double[stride];
        double[] information = new double[n * stride], product = new double[n * stride], other = new double[n * stride];
        int taken = _observed - 1;
        for (int t = Steps - 1; t >= 0; t--)
        {
            for (; taken >= 0 && _observedAt[taken] == t; taken--)
            {
                ReadOnlySpan<double> h = _observations.AsSpan(taken * 2 * stride, stride), gain = _observations.AsSpan((taken * 2 + 1) * stride, stride);
                (double innovation, double variance) = (_innovations[2 * taken], _innovations[2 * taken + 1]);
                // λ = (I − h Kᵀ) λ − h ν/S
                PaddedRows.Add(-(PaddedRows.Dot(gain, lambda) + innovation) / variance, h, lambda);
                if (covariances)
                {
                    Absorb(h, gain, variance, information, mapped);
                }
            }
            ReadOnlySpan<double> predicted = _predictedCovariances.AsSpan(t * n * stride, n * stride);
            PaddedRows.Mix(predicted, stride, lambda.AsSpan(0, n), pulled);
            for (int i = 0; i < n; i++)
            {
                _states[t * n + i] = _predictedStates[t * stride + i] - pulled[i];
            }
            int first = _entryEnds[t], count = _entryEnds[t + 1] - first;
            _transition.ReadTransposed(_diagonals.AsSpan(t * stride, stride), _entryRows.AsSpan(first, count), _entryColumns.AsSpan(first, count), _entryValues.AsSpan(first, count));
            if (covariances)
            {
                Span<double> covariance = _covariances.AsSpan(t * n * n, n * n);
                for (int i = 0; i < n; i++)
                {
                    PaddedRows.Mix(information, stride, predicted.Slice(i * stride, n), product.AsSpan(i * stride, stride));
                    PaddedRows.Mix(predicted, stride, product.AsSpan(i * stride, n), other.AsSpan(i * stride, stride));
                }
                for (int i = 0; i < n; i++)
                {
                    for (int j = 0; j < n; j++)
                    {
                        covariance[i * n + j] = predicted[i * stride + j] - 0.5 * (other[i * stride + j] + other[j * stride + i]);
                    }
                }
                _transition.Surround(information);
            }
            _transition.Apply(lambda, mapped);
        }
    }

    /// <summary>Λ = (I − h Kᵀ) Λ (I − K hᵀ) + h hᵀ/S.</summary>
    private void Absorb(ReadOnlySpan<double> h, ReadOnlySpan<double> gain, double variance, double[] information, double[] mapped)
    {
        PaddedRows.Mix(information, _stride, gain[.._n], mapped);
        for (int i = 0; i < _n; i++)
        {
            mapped[i] /= variance;
        }
        // The square of h is shared out between the two products with it.
        PaddedRows.Add(-0.5 * (PaddedRows.Dot(gain, mapped) + 1) / variance, h, mapped);
        PaddedRows.SubtractPair(information, _n, h, mapped);
    }

    /// <summary>State at a stored step.</summary>
    public ReadOnlySpan<double> StateAt(int step) => _states.AsSpan(step * _n, _n);

    /// <summary>Covariance at a stored step, row-major.</summary>
    public ReadOnlySpan<double> CovarianceAt(int step) => _covariances.AsSpan(step * _n * _n, _n * _n);

    private void RememberTransition()
    {
        int first = _entryEnds[Steps], count = _transition.Rows.Length;
        Grow(ref _diagonals, (Steps + 1) * _stride);
        Grow(ref _entryEnds, Steps + 2);
        Grow(ref _entryRows, first + count);
        Grow(ref _entryColumns, first + count);
        Grow(ref _entryValues, first + count);
        _transition.Diagonal.CopyTo(_diagonals.AsSpan(Steps * _stride));
        _transition.Rows.CopyTo(_entryRows.AsSpan(first));
        _transition.Columns.CopyTo(_entryColumns.AsSpan(first));
        _transition.Values.CopyTo(_entryValues.AsSpan(first));
        _entryEnds[Steps + 1] = first + count;
    }

    private void RememberObservation(ReadOnlySpan<double> h, double innovation, double variance)
    {
        Grow(ref _observations, (_observed + 1) * 2 * _stride);
        Grow(ref _innovations, (_observed + 1) * 2);
        Grow(ref _observedAt, _observed + 1);
        h.CopyTo(_observations.AsSpan(_observed * 2 * _stride));
        _gain.CopyTo(_observations.AsSpan((_observed * 2 + 1) * _stride));
        (_innovations[2 * _observed], _innovations[2 * _observed + 1]) = (innovation, variance);
        _observedAt[_observed++] = Steps;
    }

    /// <summary>Room for so many values; what was there stays, and the array never shrinks, so that one smoother serves flight after flight.</summary>
    private static void Grow<T>(ref T[] array, int length)
    {
        if (array.Length < length)
        {
            Array.Resize(ref array, Math.Max(length, 2 * array.Length));
        }
    }
}
