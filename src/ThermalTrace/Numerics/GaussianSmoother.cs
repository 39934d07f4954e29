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
    private readonly bool _keep;
    private readonly double[] _state;
    private readonly double[] _covariance;
    private readonly double[] _work;
    private readonly double[] _gain;
    private double[] _transitions;
    private double[] _predictedStates;
    private double[] _predictedCovariances;
    private double[] _states = [];
    private double[] _covariances = [];
    private double[] _observations = []; // of each as the filter took it: h, gain before division, innovation, its variance
    private int[] _observedAt = [];
    private int _observed;

    /// <summary>Starts from a state of <paramref name="n"/> zeros with zero covariance at step 0; see <see cref="Start"/>.</summary>
    public GaussianSmoother(int n, int expectedSteps, bool keepForSmoothing = true)
    {
        _n = n;
        _state = new double[n];
        _covariance = new double[n * n];
        _work = new double[n * n];
        _gain = new double[n];
        int steps = keepForSmoothing ? Math.Max(expectedSteps, 1) : 0;
        _transitions = new double[steps * n * n];
        _predictedStates = new double[steps * n];
        _predictedCovariances = new double[steps * n * n];
        _keep = keepForSmoothing;
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
        _observed = 0;
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
        if (!_keep)
        {
            return;
        }
        Grow(ref _transitions, (Steps + 1) * n * n);
        Grow(ref _predictedStates, (Steps + 1) * n);
        Grow(ref _predictedCovariances, (Steps + 1) * n * n);
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
        if (_keep)
        {
            Remember(h, innovation, total);
        }
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

    /// <summary>Closes the step; call once after each <see cref="Predict"/> and its observations.</summary>
    public void EndStep() => Steps++;

    /// <summary>
    /// Computes every step's smoothed state, and its covariance where wanted; then <see cref="StateAt"/> and
    /// <see cref="CovarianceAt"/> give them. Covariances are most of the work.
    /// </summary>
    public void Smooth(bool covariances = true)
    {
        int n = _n;
        Grow(ref _states, Steps * n);
        Grow(ref _covariances, covariances ? Steps * n * n : 0);
        double[] lambda = new double[n];
        double[] information = new double[n * n], product = new double[n * n], other = new double[n * n];
        Span<double> mapped = stackalloc double[n];
        int taken = _observed - 1;
        for (int t = Steps - 1; t >= 0; t--)
        {
            for (; taken >= 0 && _observedAt[taken] == t; taken--)
            {
                Absorb(taken, lambda);
                if (covariances)
                {
                    Absorb(taken, information, mapped);
                }
            }
            ReadOnlySpan<double> predicted = _predictedCovariances.AsSpan(t * n * n, n * n);
            for (int i = 0; i < n; i++)
            {
                double sum = 0;
                for (int j = 0; j < n; j++)
                {
                    sum += predicted[i * n + j] * lambda[j];
                }
                _states[t * n + i] = _predictedStates[t * n + i] - sum;
            }
            ReadOnlySpan<double> transition = _transitions.AsSpan(t * n * n, n * n);
            if (covariances)
            {
                Span<double> covariance = _covariances.AsSpan(t * n * n, n * n);
                SmallMatrix.Multiply(predicted, information, product, n);
                SmallMatrix.Multiply(product, predicted, other, n);
                for (int i = 0; i < n; i++)
                {
                    for (int j = 0; j < n; j++)
                    {
                        covariance[i * n + j] = predicted[i * n + j] - 0.5 * (other[i * n + j] + other[j * n + i]);
                    }
                }
                Propagate(transition, information, product);
            }
            Propagate(transition, lambda, mapped);
        }
    }

    /// <summary>λ = (I − h Kᵀ) λ − h ν/S.</summary>
    private void Absorb(int observation, double[] lambda)
    {
        Recall(observation, out ReadOnlySpan<double> h, out ReadOnlySpan<double> gain, out double innovation, out double variance);
        double kLambda = 0;
        for (int i = 0; i < _n; i++)
        {
            kLambda += gain[i] * lambda[i];
        }
        double pull = (kLambda + innovation) / variance;
        for (int i = 0; i < _n; i++)
        {
            lambda[i] -= h[i] * pull;
        }
    }

    /// <summary>Λ = (I − h Kᵀ) Λ (I − K hᵀ) + h hᵀ/S.</summary>
    private void Absorb(int observation, double[] information, Span<double> mapped)
    {
        int n = _n;
        Recall(observation, out ReadOnlySpan<double> h, out ReadOnlySpan<double> gain, out _, out double variance);
        double kMapped = 0;
        for (int i = 0; i < n; i++)
        {
            double sum = 0;
            for (int j = 0; j < n; j++)
            {
                sum += information[i * n + j] * gain[j];
            }
            mapped[i] = sum / variance;
            kMapped += gain[i] * mapped[i] / variance;
        }
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
            {
                information[i * n + j] += -h[i] * mapped[j] - mapped[i] * h[j] + h[i] * h[j] * (kMapped + 1 / variance);
            }
        }
    }

    /// <summary>λ = Fᵀ λ.</summary>
    private void Propagate(ReadOnlySpan<double> transition, double[] lambda, Span<double> next)
    {
        next.Clear();
        for (int k = 0; k < _n; k++)
        {
            for (int i = 0; i < _n; i++)
            {
                next[i] += transition[k * _n + i] * lambda[k];
            }
        }
        next.CopyTo(lambda);
    }

    /// <summary>Λ = Fᵀ Λ F, by F's nonzero entries.</summary>
    private void Propagate(ReadOnlySpan<double> transition, double[] information, double[] product)
    {
        int n = _n;
        Array.Clear(product);
        for (int k = 0; k < n; k++)
        {
            for (int i = 0; i < n; i++)
            {
                double f = transition[k * n + i];
                for (int j = 0; f != 0 && j < n; j++)
                {
                    product[j * n + i] += information[j * n + k] * f;
                }
            }
        }
        Array.Clear(information);
        for (int k = 0; k < n; k++)
        {
            for (int i = 0; i < n; i++)
            {
                double f = transition[k * n + i];
                for (int j = 0; f != 0 && j < n; j++)
                {
                    information[i * n + j] += f * product[k * n + j];
                }
            }
        }
    }

    /// <summary>State at a stored step.</summary>
    public ReadOnlySpan<double> StateAt(int step) => _states.AsSpan(step * _n, _n);

    /// <summary>Covariance at a stored step, row-major.</summary>
    public ReadOnlySpan<double> CovarianceAt(int step) => _covariances.AsSpan(step * _n * _n, _n * _n);

    private void Remember(ReadOnlySpan<double> h, double innovation, double variance)
    {
        int width = 2 * _n + 2;
        Grow(ref _observations, (_observed + 1) * width);
        Grow(ref _observedAt, _observed + 1);
        Span<double> into = _observations.AsSpan(_observed * width, width);
        h.CopyTo(into);
        _gain.CopyTo(into[_n..]);
        (into[^2], into[^1]) = (innovation, variance);
        _observedAt[_observed++] = Steps;
    }

    private void Recall(int observation, out ReadOnlySpan<double> h, out ReadOnlySpan<double> gain, out double innovation, out double variance)
    {
        ReadOnlySpan<double> from = _observations.AsSpan(observation * (2 * _n + 2), 2 * _n + 2);
        h = from[.._n];
        gain = from.Slice(_n, _n);
        (innovation, variance) = (from[^2], from[^1]);
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
