namespace ThermalTrace.Phases;

/// <summary>
/// Most probable path and posterior probabilities of a discrete hidden Markov chain whose transitions may change from step
/// to step (Rabiner 1989, from memory): the path in logarithms, the probabilities scaled at every step.
/// </summary>
internal static class HiddenMarkov
{
    /// <summary>Probabilities of going from one state to another within a step, row-major (from then to), and their logarithms.</summary>
    internal sealed record Moves(double[] Probability, double[] Log);

    /// <summary>The most probable path.</summary>
    /// <param name="states">Number of states.</param>
    /// <param name="emissions">Log likelihoods, steps by states, row-major; negative infinity forbids.</param>
    /// <param name="start">Log probabilities at the first step.</param>
    /// <param name="into">The moves that lead into a step.</param>
    public static int[] BestPath(int states, double[] emissions, double[] start, Func<int, Moves> into)
    {
        int steps = emissions.Length / states;
        double[] best = new double[states], next = new double[states];
        byte[] from = new byte[steps * states];
        for (int s = 0; s < states; s++)
        {
            best[s] = start[s] + emissions[s];
        }
        for (int t = 1; t < steps; t++)
        {
            double[] log = into(t).Log;
            for (int to = 0; to < states; to++)
            {
                double top = double.NegativeInfinity;
                int via = to;
                for (int s = 0; s < states; s++)
                {
                    double path = best[s] + log[s * states + to];
                    if (path > top)
                    {
                        (top, via) = (path, s);
                    }
                }
                next[to] = top + emissions[t * states + to];
                from[t * states + to] = (byte)via;
            }
            (best, next) = (next, best);
        }
        int[] result = new int[steps];
        int state = Array.IndexOf(best, best.Max());
        for (int t = steps - 1; t >= 0; t--)
        {
            result[t] = state;
            state = t > 0 ? from[t * states + state] : state;
        }
        return result;
    }

    /// <summary>The probabilities of the states at every step, steps by states; parameters as for the path.</summary>
    public static double[] Posterior(int states, double[] emissions, double[] start, Func<int, Moves> into)
    {
        int steps = emissions.Length / states;
        double[] seen = new double[steps * states];
        for (int t = 0; t < steps; t++)
        {
            double top = double.NegativeInfinity;
            for (int s = 0; s < states; s++)
            {
                top = Math.Max(top, emissions[t * states + s]);
            }
            for (int s = 0; s < states; s++)
            {
                seen[t * states + s] = double.IsNegativeInfinity(top) ? 1 : Math.Exp(emissions[t * states + s] - top);
            }
        }
        double[] forward = new double[steps * states];
        for (int s = 0; s < states; s++)
        {
            forward[s] = Math.Exp(start[s]) * seen[s];
        }
        Normalise(forward.AsSpan(0, states), seen.AsSpan(0, states));
        for (int t = 1; t < steps; t++)
        {
            double[] probability = into(t).Probability;
            ReadOnlySpan<double> before = forward.AsSpan((t - 1) * states, states);
            Span<double> now = forward.AsSpan(t * states, states);
            for (int s = 0; s < states; s++)
            {
                double weight = before[s];
                for (int to = 0; to < states; to++)
                {
                    now[to] += weight * probability[s * states + to];
                }
            }
            for (int to = 0; to < states; to++)
            {
                now[to] *= seen[t * states + to];
            }
            Normalise(now, seen.AsSpan(t * states, states));
        }
        double[] backward = new double[states], weighed = new double[states];
        Array.Fill(backward, 1.0);
        for (int t = steps - 1; t >= 0; t--)
        {
            Span<double> now = forward.AsSpan(t * states, states);
            for (int s = 0; s < states; s++)
            {
                weighed[s] = seen[t * states + s] * backward[s];
                now[s] *= backward[s];
            }
            Normalise(now, weighed);
            if (t == 0)
            {
                break;
            }
            double[] probability = into(t).Probability;
            for (int s = 0; s < states; s++)
            {
                double sum = 0;
                for (int to = 0; to < states; to++)
                {
                    sum += probability[s * states + to] * weighed[to];
                }
                backward[s] = sum;
            }
            Normalise(backward, seen.AsSpan((t - 1) * states, states));
        }
        return forward;
    }

    /// <summary>To a sum of 1; where nothing that was possible before is possible here, what is seen here decides alone.</summary>
    private static void Normalise(Span<double> values, ReadOnlySpan<double> otherwise)
    {
        double sum = 0;
        foreach (double value in values)
        {
            sum += value;
        }
        if (!(sum > 1e-280))
        {
            otherwise.CopyTo(values);
            sum = 0;
            foreach (double value in values)
            {
                sum += value;
            }
        }
        double scale = sum > 0 ? 1 / sum : 0;
        for (int i = 0; i < values.Length; i++)
        {
            values[i] = scale > 0 ? values[i] * scale : 1.0 / values.Length;
        }
    }
}
