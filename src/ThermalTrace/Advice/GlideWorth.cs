using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>
/// What a second of gliding told on the season's days over what the usual noise says it should. One number for the weather, the
/// sensors and the pilot's hand together. docs/models/plan.md eq. 2.
/// </summary>
/// <param name="Factor">Geometric mean over the days.</param>
/// <param name="LogSpread">Standard deviation of its logarithm from day to day.</param>
/// <param name="Sessions">Days behind it.</param>
/// <param name="Widening">Usual widening of a session's variances for what is not known of the air.</param>
internal sealed record GlideWorth(double Factor, double LogSpread, int Sessions, double Widening)
{
    // Without past days: half or double is nothing special. Worth one day beside those seen. Common practice, no source.
    private const double UnknownLogSpread = 0.6;
    private const double UsualWidening = 1.2; // common practice, no source
    private const double PieceS = 20, LeastGlideS = 30;
    private const int MostSessions = 40;      // the last ones: enough for a mean, and no waiting with a long logbook

    /// <summary>From the sessions.</summary>
    /// <param name="sessions">In order of their days.</param>
    /// <param name="make">Information of legs on a day whose glides are worth 1, for a session's mean wind error.</param>
    public static GlideWorth Of(IReadOnlyList<SeasonSession> sessions, Func<double, GlideInformation> make)
    {
        List<double> logs = [];
        List<double> widenings = [];
        foreach (SessionEvidence evidence in sessions.TakeLast(MostSessions).Select(s => s.Evidence))
        {
            FlightFact[] flights = [.. evidence.Flights.Where(f => f is { Counts: true, GlideWayM: > 0 } && f.GlideS > LeastGlideS)];
            if (evidence.Information.Count == 0 || flights.Length == 0)
            {
                continue;
            }
            GlideInformation legs = make(WindErrorMps(flights));
            double expected = flights.Sum(f => OfAllDrag(legs.Of(f.MassKg, 0, Legs(f.GlideWayM!.Value / f.GlideS, f.GlideS))));
            int n = evidence.Terms.Count;
            double found = OfAllDrag(Matrix<double>.Build.Dense(n, n, (a, b) => evidence.Information[a * n + b]));
            if (expected > 0 && found > 0)
            {
                logs.Add(Math.Log(found / expected));
                widenings.Add(evidence.Widening);
            }
        }
        double mean = logs.Sum() / (logs.Count + 1.0);
        double variance = (UnknownLogSpread * UnknownLogSpread + logs.Sum(l => (l - mean) * (l - mean))) / (logs.Count + 1.0);
        // The day to come differs from the mean as days do; the mean itself is not known exactly either.
        double spread = Math.Sqrt(variance * (1 + 1.0 / (logs.Count + 1.0)));
        return new GlideWorth(Math.Exp(mean), spread, logs.Count, widenings.Count == 0 ? UsualWidening : Middle(widenings));
    }

    /// <summary>Usual standard error of a flight's mean wind, m/s.</summary>
    public static double WindErrorMps(IEnumerable<FlightFact> flights)
    {
        const double usual = 0.3; // common practice, no source
        List<double> known = [.. flights.Select(f => f.WindErrorMps).OfType<double>().Where(e => e > 0)];
        return known.Count == 0 ? usual : Middle(known);
    }

    private static double Middle(List<double> values)
    {
        values.Sort();
        return values[values.Count / 2];
    }

    /// <summary>Information on a share of all drag, everything else known: the discrepancy's nodes together.</summary>
    private static double OfAllDrag(Matrix<double> information) =>
        information.SubMatrix(DragTerms.Physical, DragTerms.Nodes, DragTerms.Physical, DragTerms.Nodes).Enumerate().Sum();

    private static List<PlannedLeg> Legs(double airspeedMps, double seconds)
    {
        List<PlannedLeg> legs = [];
        for (double left = seconds; left >= PieceS / 2; left -= PieceS)
        {
            legs.Add(new PlannedLeg(airspeedMps, Math.Min(left, PieceS), legs.Count % 2 * Math.PI));
        }
        return legs;
    }
}
