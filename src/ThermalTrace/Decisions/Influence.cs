using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Polars;

namespace ThermalTrace.Decisions;

/// <summary>What one flight does to the answer: how things would stand without it, less how they stand.</summary>
/// <param name="SinkMps">Change of the polar's sink at the speed of reference, m/s.</param>
/// <param name="Measure">Change of the best ballast's measure, m/s or s; NaN where not known.</param>
/// <param name="Lead">Change of its lead over its rival; NaN where not known.</param>
internal sealed record FlightInfluence(double SinkMps, double Measure, double Lead);

/// <summary>Test glides that could be flown next and what they would do to the lead's uncertainty.</summary>
/// <param name="Option">What to fit.</param>
/// <param name="AirspeedMps">Speed to hold, m/s at sea-level density.</param>
/// <param name="LeadNow">Standard error of the lead as far as the polar makes it, m/s or s.</param>
/// <param name="LeadThen">The same with those glides.</param>
internal sealed record NextGlides(Option Option, double AirspeedMps, double LeadNow, double LeadThen)
{
    public const int Glides = 4;
    public const double SecondsEach = 30;
}

/// <summary>
/// How the lead of the best ballast hangs on each flight, and which glides would narrow it most, from the fit's own
/// information. docs/models/checks.md eq. 5.
/// </summary>
/// <param name="ReferenceMps">Speed at which the sink of the best ballast is compared, m/s.</param>
/// <param name="Flights">In the order of the fit's flights; null for one without glides.</param>
/// <param name="Lead">Lead of the best ballast over its rival at the middle of the polar; NaN where not known.</param>
/// <param name="Next">The best speed for each ballast, most telling first; empty where there is no lead to tell.</param>
internal sealed record Influence(double ReferenceMps, IReadOnlyList<FlightInfluence?> Flights, double Lead, IReadOnlyList<NextGlides> Next)
{
    private const int Repeats = 24; // of lift and wind drawn alike for every variant of the polar

    /// <summary>Works it out.</summary>
    public static Influence Of(Drag drag, PolarEstimate estimate, Verdict verdict)
    {
        DragTerms terms = drag.Maker.Terms;
        ComparisonOutcome outcome = verdict.Outcome;
        int best = outcome.Best, rival = outcome.Rival;
        Option option = drag.Options[Math.Max(best, 0)];
        FlightEvidence?[] each = [.. drag.Flights.Select(f => GlideRows.Build(f.Flight, terms, drag.Maker.Planform, estimate.Mean) is { } rows
            ? FlightEvidence.Of(rows, estimate.Noise, terms.Count) : null)];
        FlightEvidence all = FlightEvidence.Sum(each.OfType<FlightEvidence>(), terms.Count);
        KnownTerms known = KnownTerms.From(terms, all);

        double[] speeds = drag.Maker.Speeds(option.MassKg);
        double home = best >= 0 ? outcome.Outcomes[best].ReturnAirspeedMps : double.NaN;
        double reference = double.IsNaN(home)
            ? new SinkCurve(speeds, CurveMaker.Sinks(drag.Maker.Factors(speeds, option.MassKg, option.Ballast), speeds, known.Mean.ToArray())).LeastSink().AirspeedMps
            : home;
        Vector<double> sink = SinkWeights(drag, option, reference);
        (double Best, double Lead) Measured(Vector<double> mean)
        {
            if (best < 0)
            {
                return (double.NaN, double.NaN);
            }
            double[] draw = mean.ToArray();
            IReadOnlyList<OptionOutcome> outcomes = verdict.Again([.. Enumerable.Repeat(draw, Repeats)]).Outcomes;
            double At(int k) => (outcome.RoundTrip ? outcomes[k].RoundTripMps : outcomes[k].StillAirS).Value;
            return (At(best), rival < 0 ? double.NaN : At(best) - At(rival));
        }
        (double measure, double lead) = Measured(known.Mean);
        List<FlightInfluence?> flights = [];
        foreach (FlightEvidence? own in each)
        {
            if (own is null)
            {
                flights.Add(null);
                continue;
            }
            Vector<double> without = KnownTerms.From(terms, all.Plus(own, -1)).Mean;
            (double m, double l) = Measured(without);
            flights.Add(new FlightInfluence(sink.DotProduct(without - known.Mean), m - measure, l - lead));
        }
        return new Influence(reference, flights, lead, double.IsNaN(lead) ? [] : WhatNext(drag, known, estimate, Gradient(known, mean => Measured(mean).Lead)));
    }

    /// <summary>Level-flight sink as a sum over the terms; the air's own sink is no part of it.</summary>
    private static Vector<double> SinkWeights(Drag drag, Option option, double airspeedMps)
    {
        double[] row = (double[])drag.Maker.Factors([airspeedMps], option.MassKg, option.Ballast)[0][0].Clone();
        row[DragTerms.AirSink] = 0;
        return Vector<double>.Build.DenseOfArray(row);
    }

    /// <summary>Slope of the lead over the terms, by differences of one standard error either way.</summary>
    private static Vector<double> Gradient(KnownTerms known, Func<Vector<double>, double> lead)
    {
        int n = known.Mean.Count;
        Matrix<double> covariance = known.Factor.Solve(Matrix<double>.Build.DenseIdentity(n));
        Vector<double> gradient = Vector<double>.Build.Dense(n);
        for (int j = 0; j < n; j++)
        {
            double step = Math.Sqrt(covariance[j, j]);
            Vector<double> up = known.Mean.Clone(), down = known.Mean.Clone();
            up[j] += step;
            down[j] -= step;
            gradient[j] = (lead(up) - lead(down)) / (2 * step);
        }
        return gradient;
    }

    private static IReadOnlyList<NextGlides> WhatNext(Drag drag, KnownTerms known, PolarEstimate estimate, Vector<double> gradient)
    {
        const int speeds = 12;
        Vector<double> direction = known.Factor.Solve(gradient);
        double now = gradient.DotProduct(direction);
        double noise = GlideVariance(estimate.Noise, NextGlides.SecondsEach) / NextGlides.Glides;
        List<NextGlides> next = [];
        foreach (Option option in drag.Options.Where(o => o.Allowed))
        {
            // From near the stall to as fast as a pilot can hold a steady glide low down.
            double slow = drag.Maker.Planform.AirspeedMps(0.9, option.MassKg), fast = drag.Maker.Planform.AirspeedMps(0.18, option.MassKg);
            NextGlides? telling = null;
            for (int i = 0; i < speeds; i++)
            {
                double v = slow + (fast - slow) * i / (speeds - 1);
                Vector<double> sink = SinkWeights(drag, option, v);
                double across = sink.DotProduct(direction);
                double then = Math.Max(now - across * across / (known.Variance(sink) + noise), 0);
                NextGlides glides = new(option, v, Math.Sqrt(now), Math.Sqrt(then));
                telling = telling is null || glides.LeadThen < telling.LeadThen ? glides : telling;
            }
            next.Add(telling!);
        }
        return [.. next.OrderBy(n => n.LeadThen).ThenBy(n => n.Option.BallastG)];
    }

    /// <summary>Variance of the air's mean motion over a glide and of the heights at its ends, m²/s².</summary>
    internal static double GlideVariance(AirNoise noise, double seconds)
    {
        static double Mean(double sd, double time, double over)
        {
            double x = over / time;
            return 2 * sd * sd / x * (1 - (1 - Math.Exp(-x)) / x);
        }
        return Mean(noise.QuickMps, noise.QuickS, seconds) + Mean(noise.SlowMps, noise.SlowS, seconds) + 2 * noise.NoiseM * noise.NoiseM / (seconds * seconds);
    }
}
