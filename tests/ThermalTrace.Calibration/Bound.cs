using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Logs;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Tracks;

namespace ThermalTrace.Calibration;

/// <summary>
/// How close the same session could be measured by one who knows what no logger tells: least squares for the same drag terms
/// with true airspeed, true phases and true wind. What is left is the air's own vertical motion, the height sensor, and what
/// the drag terms cannot follow. docs/calibration.md.
/// </summary>
public sealed record Bound
{
    private const int Looks = 200;
    private const double TruthSpreadMps = 0.0005; // rounding of the truth's table and the last of what the terms cannot follow

    /// <summary>Root mean square of the sink's error, as in <see cref="Score.PolarErrorMps"/>, m/s; NaN where the log has no satellite fixes.</summary>
    public required double PolarErrorMps { get; init; }
    /// <summary>Found less true, m/s.</summary>
    public required double PolarBiasMps { get; init; }
    /// <summary>Share of its own 90 % bands that hold the truth.</summary>
    public required double PolarCoverage { get; init; }
    /// <summary>Round-trip climb given away by the ballast named with polar and wind known and the lift, its radius and centring as the debrief has them, m/s.</summary>
    public required double LossMps { get; init; }

    /// <summary>The bound of one session.</summary>
    internal static Bound Of(SimulatedSession simulated, Session session, Truth truth, DebriefInside debrief, int seed, CancellationToken cancel)
    {
        IReadOnlyList<Option> options = debrief.Drag.Options;
        Prediction prediction = Prediction.For(session.Airframe);
        DragTerms terms = new(prediction, options.Count, 1, 0, 1e-4); // the air's motion is taken to be none on the mean, lift or no lift
        CurveMaker maker = new(terms, prediction.Planform, 1);
        PolarEstimate? estimate = Glides(simulated, session, options, cancel) is { Count: > 0 } glides
            ? PolarFit.Fit(glides, terms, prediction.Planform, seed, cancel) : null;
        SinkFigures sink = SinkFigures.Of(truth, options, maker, estimate?.Mean.ToArray() ?? [], estimate?.Draws.Where((_, d) => d % 4 == 0) ?? []);
        return new Bound
        {
            PolarErrorMps = sink.ErrorMps,
            PolarBiasMps = sink.BiasMps,
            PolarCoverage = sink.Coverage,
            LossMps = Loss(truth, debrief, terms, maker, session.Airframe.UnballastedMassG / 1000, seed),
        };
    }

    private static List<GlideFlight> Glides(SimulatedSession simulated, Session session, IReadOnlyList<Option> options, CancellationToken cancel)
    {
        LocalTangentPlane? plane = session.Logs.Select(FlightSearch.PlaneOf).FirstOrDefault(p => p is not null);
        Dictionary<string, IReadOnlyList<Track>> tracks = [];
        for (int l = 0; l < session.Logs.Count; l++)
        {
            tracks[Path.GetFileNameWithoutExtension(session.Logs[l].File)] = TrackBuilder.Build(session.Logs[l], l, plane, cancel);
        }
        TrueFlight[] flights = [.. simulated.TrueFlights];
        double[] edr = [.. flights.Select(f => f.Moments.Where(m => m.Kind != "ground").Average(m => m.Edr))];
        double middle = Math.Max(edr.Order().ElementAt(edr.Length / 2), 1e-3);
        List<GlideFlight> glides = [];
        for (int f = 0; f < flights.Length; f++)
        {
            foreach (FlightAir air in TruePhases.Of(tracks[flights[f].LogStem], flights[f]))
            {
                glides.Add(new GlideFlight(air, flights[f].MassKg, Drag.IndexOf(options, flights[f].BallastG), null, 0, Math.Clamp(edr[f] / middle, 0.5, 2)));
            }
        }
        return glides;
    }

    private static double Loss(Truth truth, DebriefInside debrief, DragTerms terms, CurveMaker maker, double bareMassKg, int seed)
    {
        if (truth.Session is not { } session || session.Options.Any(o => o.RoundTripClimbMps is null))
        {
            return double.NaN;
        }
        IReadOnlyList<Option> options = debrief.Drag.Options;
        double[] coefficients = Coefficients(truth, options, terms, maker);
        List<(FlownClimb, double, int)> climbs = [];
        foreach (FlownFlight f in debrief.Flights.Where(f => f.Counts))
        {
            climbs.AddRange(f.Climbs.Select(c => (c, f.Load.FlyingMassG!.Value / 1000, Drag.IndexOf(options, f.Load.BallastG!.Value))));
        }
        if (climbs.Count == 0)
        {
            return double.NaN;
        }
        ComparisonOutcome outcome = Comparison.Run(
            new DrawnOptions(options, bareMassKg, maker, [.. Enumerable.Repeat(coefficients, Looks)], Comparison.Most),
            new SessionAir(session.WindMps, 0, debrief.Verdict.EdrMedian, climbs, bareMassKg, maker), null, seed);
        return outcome.Best < 0 ? double.NaN : session.LossMps(options[outcome.Best].BallastG);
    }

    /// <summary>The true polars in the estimator's terms: least squares over the truth's tables, the prior where they say nothing.</summary>
    private static double[] Coefficients(Truth truth, IReadOnlyList<Option> options, DragTerms terms, CurveMaker maker)
    {
        Matrix<double> information = terms.PriorPrecision.Clone();
        Vector<double> right = information * terms.PriorMean;
        foreach ((string key, double[][] table) in truth.Polars)
        {
            int k = Drag.IndexOf(options, Truth.Grams(key));
            double[] speeds = [.. table.Select(p => p[0])];
            double[][] rows = maker.Factors(speeds, options[k].MassKg, k)[0];
            for (int i = 0; i < table.Length; i++)
            {
                Vector<double> row = Vector<double>.Build.DenseOfArray(rows[i]) / TruthSpreadMps;
                information += row.OuterProduct(row);
                right += row * (table[i][1] / TruthSpreadMps);
            }
        }
        return information.Cholesky().Solve(right).ToArray();
    }
}
