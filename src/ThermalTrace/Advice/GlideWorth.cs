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
    private const double PieceS = 20, LeastGlideS = 30, Least = 0.02, Most = 50;
    private static readonly double[] Speeds = [0.8, 1, 1.25]; // about the mean; common practice, no source
    private const int MostSessions = 40;      // the last ones: enough for a mean, and no waiting with a long logbook

    /// <summary>From the sessions.</summary>
    /// <param name="sessions">In order of their days.</param>
    /// <param name="prediction">Of the airframe as it is now.</param>
    /// <param name="mean">The airframe's terms as tuned.</param>
    public static GlideWorth Of(IReadOnlyList<SeasonSession> sessions, Prediction prediction, Vector<double> mean)
    {
        List<double> logs = [];
        List<double> widenings = [];
        foreach (SessionEvidence evidence in sessions.TakeLast(MostSessions).Select(s => s.Evidence))
        {
            if (Of(evidence, prediction, mean) is { } factor)
            {
                logs.Add(Math.Log(factor));
                widenings.Add(evidence.Widening);
            }
        }
        double middle = logs.Sum() / (logs.Count + 1.0);
        double variance = (UnknownLogSpread * UnknownLogSpread + logs.Sum(l => (l - middle) * (l - middle))) / (logs.Count + 1.0);
        // The day to come differs from the mean as days do; the mean itself is not known exactly either.
        double spread = Math.Sqrt(variance * (1 + 1.0 / (logs.Count + 1.0)));
        return new GlideWorth(Math.Exp(middle), spread, logs.Count, widenings.Count == 0 ? UsualWidening : Middle(widenings));
    }

    /// <summary>
    /// By what the usual information of a session's glides is to be multiplied so that it narrows the drag from geometry by as much, over
    /// all its directions, as the session did. Null for a session without glides, or with several cambers.
    /// </summary>
    private static double? Of(SessionEvidence evidence, Prediction prediction, Vector<double> mean)
    {
        FlightFact[] flights = [.. evidence.Flights.Where(f => f is { Counts: true, GlideWayM: > 0 } && f.GlideS > LeastGlideS)];
        int ballasts = evidence.BallastsG.Count, n = DragTerms.Common + ballasts;
        if (flights.Length == 0 || evidence.Terms.Count != n || DragPool.Of(evidence, prediction) is not { } found)
        {
            return null;
        }
        DragTerms terms = new(prediction, ballasts, 0, 0, 1);
        double[] coefficients = new double[n];
        for (int j = 0; j < TunedDrag.Airframe; j++)
        {
            coefficients[j] = mean[j];
        }
        GlideInformation legs = new(terms, prediction.Planform, coefficients, new TestDay(PolarFit.Usual, WindErrorMps(flights), 1));
        Matrix<double> usual = Matrix<double>.Build.Dense(n, n);
        foreach ((FlightFact f, int i) in flights.Select((f, i) => (f, i)))
        {
            int ballast = evidence.BallastsG.ToList().FindIndex(b => Math.Abs(b - f.BallastG!.Value) < TunedDrag.SameBallastG);
            usual += ballast < 0 ? 0 * usual : legs.Of(f.MassKg, ballast, Legs(f.GlideWayM!.Value / f.GlideS, f.GlideS, i));
        }
        Matrix<double> scale = Scale(terms, ballasts);
        double Narrowing(DragPool.Part part) => (Matrix<double>.Build.DenseIdentity(scale.RowCount) + scale.TransposeThisAndMultiply(part.Information) * scale).Determinant() is > 0 and double d ? Math.Log(d) : 0;
        double goal = Narrowing(found), low = Math.Log(Least), high = Math.Log(Most);
        for (int step = 0; step < 14; step++)
        {
            double half = (low + high) / 2;
            DragPool.Part part = DragPool.Of(evidence with { Information = (usual * Math.Exp(half)).ToRowMajorArray() }, prediction)!;
            (low, high) = Narrowing(part) < goal ? (half, high) : (low, half);
        }
        return Math.Exp((low + high) / 2);
    }

    /// <summary>A root of the prior covariance of the airframe's terms and the ballasts' departures.</summary>
    private static Matrix<double> Scale(DragTerms terms, int ballasts)
    {
        int a = TunedDrag.Airframe, size = a + ballasts;
        Matrix<double> prior = Matrix<double>.Build.DenseDiagonal(size, size, terms.PriorCovariance[DragTerms.Common, DragTerms.Common]);
        prior.SetSubMatrix(0, 0, terms.PriorCovariance.SubMatrix(0, a, 0, a));
        return prior.Cholesky().Factor;
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

    /// <summary>As a pilot flies: about the mean speed, slower, faster, in legs out and back.</summary>
    private static List<PlannedLeg> Legs(double airspeedMps, double seconds, int flight)
    {
        List<PlannedLeg> legs = [];
        for (double left = seconds; left >= PieceS / 2; left -= PieceS)
        {
            legs.Add(new PlannedLeg(airspeedMps * Speeds[(flight + legs.Count / 2) % Speeds.Length], Math.Min(left, PieceS), legs.Count % 2 * Math.PI));
        }
        return legs;
    }
}
