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
    private readonly List<Taken> _observations = [];

    /// <summary>An observation as the filter took it: which step, h, innovation and its variance, gain before division.</summary>
    private readonly record struct Taken(int Step, double[] H, double Innovation, double Variance, double[] Gain);

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
        _observations.Clear();
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
        if (_keep)
        {
            _observations.Add(new Taken(Steps, h.ToArray(), innovation, total, (double[])_gain.Clone()));
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

    /// <summary>Computes every step's smoothed state and covariance; then <see cref="StateAt"/> and <see cref="CovarianceAt"/> give them.</summary>
    public void Smooth()
    {
        int n = _n;
        _states = new double[Steps * n];
        _covariances = new double[Steps * n * n];
        double[] lambda = new double[n], nextLambda = new double[n];
        double[] information = new double[n * n], product = new double[n * n], other = new double[n * n];
        Span<double> mapped = stackalloc double[n];
        int taken = _observations.Count - 1;
        for (int t = Steps - 1; t >= 0; t--)
        {
            for (; taken >= 0 && _observations[taken].Step == t; taken--)
            {
                Absorb(_observations[taken], lambda, information, mapped);
            }
            ReadOnlySpan<double> predicted = _predictedCovariances.AsSpan(t * n * n, n * n);
            Span<double> covariance = _covariances.AsSpan(t * n * n, n * n);
            SmallMatrix.Multiply(predicted, information, product, n);
            SmallMatrix.Multiply(product, predicted, other, n);
            for (int i = 0; i < n; i++)
            {
                double sum = 0;
                for (int j = 0; j < n; j++)
                {
                    sum += predicted[i * n + j] * lambda[j];
                    covariance[i * n + j] = predicted[i * n + j] - 0.5 * (other[i * n + j] + other[j * n + i]);
                }
                _states[t * n + i] = _predictedStates[t * n + i] - sum;
            }
            Propagate(_transitions.AsSpan(t * n * n, n * n), lambda, nextLambda, information, product);
        }
    }

    /// <summary>λ = (I − h Kᵀ) λ − h ν/S and Λ = (I − h Kᵀ) Λ (I − K hᵀ) + h hᵀ/S.</summary>
    private void Absorb(in Taken seen, double[] lambda, double[] information, Span<double> mapped)
    {
        int n = _n;
        double kLambda = 0, kMapped = 0;
        for (int i = 0; i < n; i++)
        {
            kLambda += seen.Gain[i] * lambda[i];
            double sum = 0;
            for (int j = 0; j < n; j++)
            {
                sum += information[i * n + j] * seen.Gain[j];
            }
            mapped[i] = sum / seen.Variance;
        }
        kLambda /= seen.Variance;
        for (int i = 0; i < n; i++)
        {
            kMapped += seen.Gain[i] * mapped[i] / seen.Variance;
        }
        for (int i = 0; i < n; i++)
        {
            lambda[i] -= seen.H[i] * (kLambda + seen.Innovation / seen.Variance);
            for (int j = 0; j < n; j++)
            {
                information[i * n + j] += -seen.H[i] * mapped[j] - mapped[i] * seen.H[j] + seen.H[i] * seen.H[j] * (kMapped + 1 / seen.Variance);
            }
        }
    }

    /// <summary>λ = Fᵀ λ and Λ = Fᵀ Λ F.</summary>
    private void Propagate(ReadOnlySpan<double> transition, double[] lambda, double[] nextLambda, double[] information, double[] product)
    {
        int n = _n;
        Array.Clear(nextLambda);
        Array.Clear(product);
        for (int k = 0; k < n; k++)
        {
            for (int i = 0; i < n; i++)
            {
                double f = transition[k * n + i];
                if (f == 0)
                {
                    continue;
                }
                nextLambda[i] += f * lambda[k];
                for (int j = 0; j < n; j++)
                {
                    product[j * n + i] += information[j * n + k] * f;
                }
            }
        }
        nextLambda.CopyTo(lambda, 0);
        Array.Clear(information);
        for (int k = 0; k < n; k++)
        {
            for (int i = 0; i < n; i++)
            {
                double f = transition[k * n + i];
                if (f == 0)
                {
                    continue;
                }
                for (int j = 0; j < n; j++)
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

    private void EnsureRoom()
    {
        if ((Steps + 1) * _n <= _predictedStates.Length)
        {
            return;
        }
        int steps = Math.Max(16, 2 * Steps);
        Array.Resize(ref _transitions, steps * _n * _n);
        Array.Resize(ref _predictedStates, steps * _n);
        Array.Resize(ref _predictedCovariances, steps * _n * _n);
    }
}
