namespace ThermalTrace.Numerics;

/// <summary>
/// Kalman filter and fixed-interval (Rauch–Tung–Striebel) smoother for a small linear Gaussian state-space model with
/// scalar observations, any number of them at a step. Matrices are row-major, n by n. docs/models/state-space.md;
/// Durbin and Koopman, Time Series Analysis by State Space Methods, 2nd ed. 2012, ch. 4.
/// </summary>
internal sealed class GaussianSmoother
{
    private readonly int _n;
    private readonly double[] _state;
    private readonly double[] _covariance;
    private readonly double[] _work;
    private readonly double[] _gain;
    private double[] _transitions;
    private double[] _predictedStates;
    private double[] _predictedCovariances;
    private double[] _states;
    private double[] _covariances;

    /// <summary>Starts from a state of <paramref name="n"/> zeros with zero covariance at step 0; see <see cref="Start"/>.</summary>
    public GaussianSmoother(int n, int expectedSteps)
    {
        _n = n;
        _state = new double[n];
        _covariance = new double[n * n];
        _work = new double[n * n];
        _gain = new double[n];
        int steps = Math.Max(expectedSteps, 1);
        _transitions = new double[steps * n * n];
        _predictedStates = new double[steps * n];
        _predictedCovariances = new double[steps * n * n];
        _states = new double[steps * n];
        _covariances = new double[steps * n * n];
    }

    /// <summary>Steps stored so far.</summary>
    public int Steps { get; private set; }

    /// <summary>Sum of the observations' log densities given those before, constants included.</summary>
    public double LogLikelihood { get; private set; }

    /// <summary>The state as filtered so far.</summary>
    public ReadOnlySpan<double> State => _state;

    /// <summary>The covariance as filtered so far.</summary>
    public ReadOnlySpan<double> Covariance => _covariance;

    /// <summary>Sets the state before the first step and forgets all steps.</summary>
    public void Start(ReadOnlySpan<double> state, ReadOnlySpan<double> covariance)
    {
        state.CopyTo(_state);
        covariance.CopyTo(_covariance);
        Steps = 0;
        LogLikelihood = 0;
    }

    /// <summary>Moves to the next step: x = F x + noise of covariance Q.</summary>
    public void Predict(ReadOnlySpan<double> transition, ReadOnlySpan<double> noise)
    {
        int n = _n;
        Span<double> next = stackalloc double[n];
        next.Clear();
        Array.Clear(_work);
        // Transitions are mostly zeros: F P and (F P) Fᵀ by their nonzero entries alone.
        for (int i = 0; i < n; i++)
        {
            for (int k = 0; k < n; k++)
            {
                double f = transition[i * n + k];
                if (f == 0)
                {
                    continue;
                }
                next[i] += f * _state[k];
                for (int j = 0; j < n; j++)
                {
                    _work[i * n + j] += f * _covariance[k * n + j];
                }
            }
        }
        next.CopyTo(_state);
        Array.Clear(_covariance);
        for (int j = 0; j < n; j++)
        {
            for (int k = 0; k < n; k++)
            {
                double f = transition[j * n + k];
                if (f == 0)
                {
                    continue;
                }
                for (int i = 0; i < n; i++)
                {
                    _covariance[i * n + j] += f * _work[i * n + k];
                }
            }
        }
        for (int i = 0; i < n * n; i++)
        {
            _covariance[i] += noise[i];
        }
        EnsureRoom();
        transition.CopyTo(_transitions.AsSpan(Steps * n * n));
        _state.CopyTo(_predictedStates.AsSpan(Steps * n));
        _covariance.CopyTo(_predictedCovariances.AsSpan(Steps * n * n));
    }

    /// <summary>Takes in one scalar observation y = h·x + noise of variance r. NaN is no observation.</summary>
    public void Observe(ReadOnlySpan<double> h, double y, double variance)
    {
        if (double.IsNaN(y))
        {
            return;
        }
        int n = _n;
        double innovation = y;
        double total = variance;
        for (int i = 0; i < n; i++)
        {
            double sum = 0;
            for (int j = 0; j < n; j++)
            {
                sum += _covariance[i * n + j] * h[j];
            }
            _gain[i] = sum;
            innovation -= h[i] * _state[i];
            total += h[i] * sum;
        }
        LogLikelihood -= 0.5 * (Math.Log(2 * Math.PI * total) + innovation * innovation / total);
        for (int i = 0; i < n; i++)
        {
            _state[i] += _gain[i] * innovation / total;
        }
        for (int i = 0; i < n; i++)
        {
            for (int j = i; j < n; j++)
            {
                double value = _covariance[i * n + j] - _gain[i] * _gain[j] / total;
                _covariance[i * n + j] = value;
                _covariance[j * n + i] = value;
            }
        }
    }

    /// <summary>Stores the step as filtered; call once after each <see cref="Predict"/> and its observations.</summary>
    public void EndStep()
    {
        _state.CopyTo(_states.AsSpan(Steps * _n));
        _covariance.CopyTo(_covariances.AsSpan(Steps * _n * _n));
        Steps++;
    }

    /// <summary>
    /// Replaces every stored step by its smoothed state and covariance; then <see cref="StateAt"/> and
    /// <see cref="CovarianceAt"/> give them. A predicted covariance that is singular (a constant state) is handled by a
    /// ridge far below the noise.
    /// </summary>
    public void Smooth()
    {
        int n = _n;
        double[] gain = new double[n * n];
        double[] inverse = new double[n * n];
        double[] product = new double[n * n];
        Span<double> delta = stackalloc double[n];
        for (int t = Steps - 2; t >= 0; t--)
        {
            ReadOnlySpan<double> transition = _transitions.AsSpan((t + 1) * n * n, n * n);
            ReadOnlySpan<double> predicted = _predictedCovariances.AsSpan((t + 1) * n * n, n * n);
            Span<double> covariance = _covariances.AsSpan(t * n * n, n * n);
            SmallMatrix.InvertSymmetric(predicted, inverse, n);
            MultiplyTransposed(covariance, transition, product);
            Multiply(product, inverse, gain);
            for (int i = 0; i < n; i++)
            {
                delta[i] = _states[(t + 1) * n + i] - _predictedStates[(t + 1) * n + i];
            }
            for (int i = 0; i < n; i++)
            {
                double sum = 0;
                for (int j = 0; j < n; j++)
                {
                    sum += gain[i * n + j] * delta[j];
                }
                _states[t * n + i] += sum;
            }
            for (int i = 0; i < n * n; i++)
            {
                product[i] = _covariances[(t + 1) * n * n + i] - predicted[i];
            }
            Multiply(gain, product, inverse);
            MultiplyTransposed(inverse, gain, product);
            for (int i = 0; i < n; i++)
            {
                for (int j = i; j < n; j++)
                {
                    double value = covariance[i * n + j] + 0.5 * (product[i * n + j] + product[j * n + i]);
                    covariance[i * n + j] = value;
                    covariance[j * n + i] = value;
                }
            }
        }
    }

    /// <summary>State at a stored step.</summary>
    public ReadOnlySpan<double> StateAt(int step) => _states.AsSpan(step * _n, _n);

    /// <summary>Covariance at a stored step, row-major.</summary>
    public ReadOnlySpan<double> CovarianceAt(int step) => _covariances.AsSpan(step * _n * _n, _n * _n);

    private void EnsureRoom()
    {
        if ((Steps + 1) * _n <= _states.Length)
        {
            return;
        }
        int steps = Math.Max(16, 2 * Steps);
        Array.Resize(ref _transitions, steps * _n * _n);
        Array.Resize(ref _predictedStates, steps * _n);
        Array.Resize(ref _predictedCovariances, steps * _n * _n);
        Array.Resize(ref _states, steps * _n);
        Array.Resize(ref _covariances, steps * _n * _n);
    }

    private void Multiply(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> result) => SmallMatrix.Multiply(a, b, result, _n);

    private void MultiplyTransposed(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> result) =>
        SmallMatrix.MultiplyTransposed(a, b, result, _n);
}
