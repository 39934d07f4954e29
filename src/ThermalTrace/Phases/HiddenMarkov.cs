namespace ThermalTrace.Phases;

/// <summary>
/// Most probable path and posterior probabilities of a discrete hidden Markov chain whose transitions may change from step
/// to step (Rabiner 1989, from memory). Logarithms throughout.
/// </summary>
internal static class HiddenMarkov
{
    /// <summary>Fills the transition matrix (row-major, from then to) that leads into a step.</summary>
    public delegate void TransitionsInto(int step, Span<double> log);

    /// <param name="states">Number of states.</param>
    /// <param name="emissions">Log likelihoods, steps by states, row-major; negative infinity forbids.</param>
    /// <param name="start">Log probabilities at the first step.</param>
    /// <param name="transitions">See <see cref="TransitionsInto"/>.</param>
    /// <returns>The path, and posterior probabilities, steps by states.</returns>
    public static (int[] Path, double[] Posterior) Solve(int states, double[] emissions, double[] start, TransitionsInto transitions)
    {
        int steps = emissions.Length / states;
        double[] best = new double[states], nextBest = new double[states];
        byte[] from = new byte[steps * states];
        double[] forward = new double[steps * states];
        double[] matrix = new double[states * states];
        for (int s = 0; s < states; s++)
        {
            best[s] = start[s] + emissions[s];
            forward[s] = best[s];
        }
        Normalise(forward.AsSpan(0, states));
        for (int t = 1; t < steps; t++)
        {
            transitions(t, matrix);
            for (int to = 0; to < states; to++)
            {
                double top = double.NegativeInfinity, sum = double.NegativeInfinity;
                int via = 0;
                for (int s = 0; s < states; s++)
                {
                    double step = matrix[s * states + to];
                    double path = best[s] + step;
                    if (path > top)
                    {
                        (top, via) = (path, s);
                    }
                    sum = LogAdd(sum, forward[(t - 1) * states + s] + step);
                }
                double seen = emissions[t * states + to];
                nextBest[to] = top + seen;
                forward[t * states + to] = sum + seen;
                from[t * states + to] = (byte)via;
            }
            (best, nextBest) = (nextBest, best);
            Normalise(forward.AsSpan(t * states, states));
        }
        int[] path2 = new int[steps];
        int state = Array.IndexOf(best, best.Max());
        double[] backward = new double[states], previous = new double[states];
        for (int t = steps - 1; t >= 0; t--)
        {
            path2[t] = state;
            state = t > 0 ? from[t * states + state] : state;
            Span<double> now = forward.AsSpan(t * states, states);
            double[] joint = new double[states];
            for (int s = 0; s < states; s++)
            {
                joint[s] = now[s] + backward[s];
            }
            Normalise(joint);
            for (int s = 0; s < states; s++)
            {
                now[s] = Math.Exp(joint[s]);
            }
            if (t == 0)
            {
                break;
            }
            transitions(t, matrix);
            for (int s = 0; s < states; s++)
            {
                double sum = double.NegativeInfinity;
                for (int to = 0; to < states; to++)
                {
                    sum = LogAdd(sum, matrix[s * states + to] + emissions[t * states + to] + backward[to]);
                }
                previous[s] = sum;
            }
            Normalise(previous);
            (backward, previous) = (previous, backward);
        }
        return (path2, forward);
    }

    private static void Normalise(Span<double> log)
    {
        double sum = double.NegativeInfinity;
        foreach (double value in log)
        {
            sum = LogAdd(sum, value);
        }
        if (double.IsNegativeInfinity(sum))
        {
            log.Fill(-Math.Log(log.Length)); // every state forbidden here: nothing is known
            return;
        }
        for (int i = 0; i < log.Length; i++)
        {
            log[i] -= sum;
        }
    }

    private static double LogAdd(double a, double b)
    {
        if (double.IsNegativeInfinity(a))
        {
            return b;
        }
        if (double.IsNegativeInfinity(b))
        {
            return a;
        }
        return a > b ? a + Math.Log(1 + Math.Exp(b - a)) : b + Math.Log(1 + Math.Exp(a - b));
    }
}
