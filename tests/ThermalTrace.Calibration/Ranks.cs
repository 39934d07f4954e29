using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Calibration;

/// <summary>
/// Where the truth lies among the posterior's draws, as a share of them from 0 to 1; even over many sessions where the
/// posterior is right (simulation-based calibration, Talts et al. 2018, arXiv:1804.06788). NaN where there are no draws.
/// </summary>
public sealed record Ranks
{
    /// <summary>Sink of the lightest ballast flown where its true sink is least, or at the nearest speed flown.</summary>
    public required double SinkAtLeast { get; init; }
    /// <summary>At the middle of the speeds truly flown.</summary>
    public required double SinkAtMiddle { get; init; }
    /// <summary>At the fast end of the speeds truly flown.</summary>
    public required double SinkAtFast { get; init; }
    /// <summary>Round-trip climb of the lightest option.</summary>
    public required double RoundTrip { get; init; }

    /// <summary>The ranks of one session.</summary>
    internal static Ranks Of(Truth truth, DebriefInside debrief)
    {
        double least = double.NaN, middle = double.NaN, fast = double.NaN, trip = double.NaN;
        if (debrief.Drag.Estimate is { } && truth.Flown.Keys.OrderBy(Truth.Grams).FirstOrDefault() is { } key)
        {
            double[] flown = truth.Flown[key];
            int k = Drag.IndexOf(debrief.Drag.Options, Truth.Grams(key));
            double[] speeds = [Math.Clamp(truth.Polars[key].MinBy(r => r[1])![0], flown[0], flown[1]), (flown[0] + flown[1]) / 2, flown[1]];
            double[][][] factors = debrief.Drag.Maker.Factors(speeds, debrief.Drag.Options[k].MassKg, k);
            double[][] sinks = [.. debrief.Drag.Draws.Select(d => CurveMaker.Sinks(factors, speeds, d))];
            double At(int i) => Share(sinks.Select(s => s[i]), truth.SinkMps(key, speeds[i]));
            (least, middle, fast) = (At(0), At(1), At(2));
        }
        if (truth.Session?.Options.MinBy(o => o.BallastG) is { RoundTripClimbMps: { } actual } lightest
            && debrief.Verdict.Outcome.Outcomes.FirstOrDefault(o => Math.Abs(o.Option.BallastG - lightest.BallastG) < 0.5) is { } outcome)
        {
            trip = Share(outcome.RoundTripDrawsMps, actual);
        }
        return new Ranks { SinkAtLeast = least, SinkAtMiddle = middle, SinkAtFast = fast, RoundTrip = trip };
    }

    /// <summary>Share of the draws below a value, ties counted half; not-a-number draws left out.</summary>
    public static double Share(IEnumerable<double> draws, double value) =>
        double.IsNaN(value) ? double.NaN : Score.Mean(draws.Select(d => double.IsNaN(d) ? double.NaN : d < value ? 1.0 : d > value ? 0 : 0.5));
}
