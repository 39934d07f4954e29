using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;

namespace ThermalTrace.Advice;

/// <summary>A flight that could be flown: a ballast, a card, and what that tells.</summary>
/// <param name="Option">Index of the ballast.</param>
/// <param name="Card">Its legs.</param>
/// <param name="Information">Over the session's terms.</param>
internal sealed record FlightChoice(int Option, GlideCard Card, Matrix<double> Information);

/// <summary>
/// Which flights to fly: two of one ballast at a time, those that are worth most to the decisions; then each flight's card is changed
/// where another is worth more. docs/models/plan.md eq. 5.
/// </summary>
/// <param name="Known">What is known, and how it adds up.</param>
/// <param name="Decisions">What is to be decided; each counts the same.</param>
/// <param name="Choices">By option, the flights that can be flown.</param>
/// <param name="Always">Options of which each day has a couple, whatever they are worth: the two that are hardest to tell apart, side by side.</param>
internal sealed record PlanSearch(PlannedInformation Known, IReadOnlyList<PlanDecision> Decisions, IReadOnlyList<FlightChoice>[] Choices, IReadOnlyList<int> Always)
{
    private const int Rounds = 2;
    private const double Enough = 1.002; // another card for less is not worth its own line on the sheet

    /// <summary>Flights by session, for growing numbers of them; element n has 2(n + 1).</summary>
    /// <param name="couples">Up to how many couples of flights.</param>
    /// <param name="sessions">On how many days: couples are dealt to them in turn.</param>
    /// <param name="cancel">Stops the work.</param>
    public IReadOnlyList<IReadOnlyList<FlightChoice>[]> Grow(int couples, int sessions, CancellationToken cancel)
    {
        List<FlightChoice>[] taken = [.. Enumerable.Range(0, sessions).Select(_ => new List<FlightChoice>())];
        Matrix<double>[] sums = [.. taken.Select(_ => Nothing)];
        List<IReadOnlyList<FlightChoice>[]> path = [];
        for (int c = 0; c < couples; c++)
        {
            int s = c % sessions;
            FlightChoice Best(IEnumerable<FlightChoice> choices, double times)
            {
                cancel.ThrowIfCancellationRequested();
                return choices.MaxBy(choice => WorthOf(sums, s, sums[s] + times * choice.Information))!;
            }
            // No ballast more than half of a day's couples: what the model does not foresee is seen between ballasts flown in turn.
            bool InTurn(int option) => taken[s].Count(f => f.Option == option) / 2 < (taken[s].Count / 2 + 2) / 2;
            FlightChoice first = Best(c / sessions < Always.Count ? Choices[Always[c / sessions]] : Choices.Where((_, k) => InTurn(k)).SelectMany(o => o), 2);
            sums[s] += first.Information;
            FlightChoice[] others = [.. Choices[first.Option].Where(choice => Spans([first, choice]))];
            FlightChoice second = others.Length == 0 ? first : Best(others, 1);
            sums[s] += second.Information;
            taken[s].AddRange([first, second]);
            path.Add([.. taken.Select(t => t.ToArray())]);
        }
        return path;
    }

    /// <summary>Changes single cards for better ones.</summary>
    public IReadOnlyList<FlightChoice>[] Exchange(IReadOnlyList<FlightChoice>[] flights, CancellationToken cancel)
    {
        FlightChoice[][] taken = [.. flights.Select(f => f.ToArray())];
        Matrix<double>[] sums = [.. taken.Select(Sum)];
        double now = Worth(After(sums));
        for (int round = 0; round < Rounds; round++)
        {
            bool changed = false;
            for (int s = 0; s < taken.Length; s++)
            {
                for (int f = 0; f < taken[s].Length; f++)
                {
                    Matrix<double> others = sums[s] - taken[s][f].Information;
                    foreach (FlightChoice choice in Choices[taken[s][f].Option])
                    {
                        cancel.ThrowIfCancellationRequested();
                        FlightChoice[] then = [.. taken[s].Where((t, i) => i != f && t.Option == choice.Option), choice];
                        if (Spans(taken[s].Where(t => t.Option == choice.Option)) && !Spans(then))
                        {
                            continue;
                        }
                        double worth = WorthOf(sums, s, others + choice.Information);
                        if (worth > now * Enough)
                        {
                            (now, taken[s][f], changed) = (worth, choice, true);
                            sums[s] = others + choice.Information;
                        }
                    }
                }
            }
            if (!changed)
            {
                break;
            }
        }
        return [.. taken];
    }

    /// <summary>True for more than one speed: glides all at one speed could not show that the curve is another.</summary>
    private static bool Spans(IEnumerable<FlightChoice> flights) => flights.SelectMany(f => f.Card.Pairs.Select(p => p.AirspeedMps)).Distinct().Skip(1).Any();

    /// <summary>Covariance of the scaled terms once flights are flown.</summary>
    public Matrix<double> After(IReadOnlyList<FlightChoice>[] flights) => After([.. flights.Select(Sum)]);

    private Matrix<double> After(Matrix<double>[] sums) => Known.After(sums.Where(s => s.FrobeniusNorm() > 0));

    private double WorthOf(Matrix<double>[] sums, int changed, Matrix<double> sum)
    {
        Matrix<double>[] all = [.. sums];
        all[changed] = sum;
        return Worth(After(all));
    }

    /// <summary>Mean over the decisions of what looking first saves.</summary>
    public double Worth(Matrix<double> after)
    {
        Matrix<double> moves = Matrix<double>.Build.DenseIdentity(after.RowCount) - after;
        return Decisions.Average(d => d.Worth(moves));
    }

    private Matrix<double> Nothing => Matrix<double>.Build.Dense(Choices[0][0].Information.RowCount, Choices[0][0].Information.ColumnCount);

    private Matrix<double> Sum(IReadOnlyList<FlightChoice> flights) => flights.Aggregate(Nothing, (sum, f) => sum + f.Information);
}
