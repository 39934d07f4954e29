using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Learning;

/// <summary>What was known of the airframe's drag when so many sessions had been flown.</summary>
/// <param name="Sessions">How many of those that tell of drag; 0 for geometry alone.</param>
/// <param name="Last">The last of them; null for geometry alone.</param>
/// <param name="BestGlide">In still air.</param>
/// <param name="LeastSinkMps">m/s at sea level.</param>
/// <param name="SinkShare">By how much more than predicted it sinks at the speed of the predicted best glide; 0.06 is 6 %.</param>
/// <param name="ParasiteDrag">Coefficient.</param>
/// <param name="InducedDrag">Over the ideal wing's.</param>
internal sealed record TuningPoint(int Sessions, SeasonSession? Last, Band BestGlide, Band LeastSinkMps, Band SinkShare, Band ParasiteDrag, Band InducedDrag);

/// <summary>
/// How tuning went: the model as it would have been tuned after the first session, the first two, and so on to all. Each point is what
/// <see cref="SeasonModel.Tune"/> makes of those sessions, changes of the airframe included, so the last is the model in use.
/// </summary>
/// <param name="BallastG">With which glide and sink are reckoned.</param>
/// <param name="Untold">Sessions that tell nothing of drag.</param>
/// <param name="Points">The first is geometry alone.</param>
/// <param name="Changes">Of the airframe, as far as all sessions together tell.</param>
internal sealed record TuningHistory(double BallastG, int Untold, IReadOnlyList<TuningPoint> Points, IReadOnlyList<SeasonChange> Changes)
{
    // A point costs a tuning without learners, some ten milliseconds with few sessions; looking for changes grows with their number, so a long
    // season is told at as many points as a picture can show.
    private const int MostPoints = 60;
    private const int Draws = 400;
    private const double Normal95 = 1.644854;

    /// <summary>Works it out.</summary>
    /// <param name="airframe">As it is now.</param>
    /// <param name="sessions">Any number, in any order.</param>
    /// <param name="ballastG">To reckon with; null for what was flown in most sessions.</param>
    /// <param name="seed">Seed of the draws.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">A session's evidence is of another program's format.</exception>
    public static TuningHistory Of(Airframe airframe, IReadOnlyList<SeasonSession> sessions, double? ballastG, int seed, CancellationToken cancel)
    {
        Prediction prediction = Prediction.For(airframe);
        IReadOnlyList<SeasonSession> ordered = SeasonModel.InOrder(sessions);
        (DragPool.Part Part, SeasonSession Session)[] parts = [.. SeasonModel.Parts(ordered, prediction, cancel)];
        double ballast = ballastG ?? UsualBallastG(airframe, ordered);
        Reckoner reckoner = new(airframe, prediction, ballast, seed);
        List<TuningPoint> points = [];
        IReadOnlyList<SeasonChange> changes = [];
        foreach (int count in Counts(parts.Length))
        {
            cancel.ThrowIfCancellationRequested();
            DragPool.Part[] drag = [.. parts.Take(count).Select(p => p.Part)];
            IReadOnlyList<(int From, Band Share, double LogFactor)> found = SeasonChanges.Find(prediction, drag);
            TunedDrag tuned = DragPool.Now(DragPool.Add(prediction, drag, [.. found.Select(c => c.From)]), count);
            points.Add(reckoner.Point(count, count == 0 ? null : parts[count - 1].Session, tuned));
            changes = [.. found.Select(c => new SeasonChange(parts[c.From].Session.Id, parts[c.From].Session.Evidence.Date, c.Share, c.LogFactor))];
        }
        return new TuningHistory(ballast, ordered.Count - parts.Length, points, changes);
    }

    /// <summary>None, all, and between them each number or, of many, such as lie evenly.</summary>
    private static IEnumerable<int> Counts(int all) => all <= MostPoints ? Enumerable.Range(0, all + 1)
        : Enumerable.Range(0, MostPoints + 1).Select(k => (int)Math.Round((double)k * all / MostPoints));

    /// <summary>Flown in most sessions, the lightest of those; without any the airframe's lightest option.</summary>
    private static double UsualBallastG(Airframe airframe, IReadOnlyList<SeasonSession> sessions) => sessions
        .SelectMany(s => s.Evidence.BallastsG.Select(b => Math.Round(b, 1)).Distinct())
        .GroupBy(b => b).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => (double?)g.Key).FirstOrDefault()
        ?? airframe.BallastOptionsG.DefaultIfEmpty(0).Min();

    /// <summary>Turns a tuned drag into what a pilot knows, with one ballast.</summary>
    private sealed class Reckoner
    {
        private readonly Option[] _options;
        private readonly DragTerms _terms;
        private readonly double[] _speeds;
        private readonly double[][][] _factors;
        private readonly double _atMps, _predictedMps;
        private readonly int _seed;

        public Reckoner(Airframe airframe, Prediction prediction, double ballastG, int seed)
        {
            _options = [new Option(ballastG, (airframe.UnballastedMassG + ballastG) / 1000, 0, true)];
            _terms = new DragTerms(prediction, 1, 0, 0, 1);
            CurveMaker maker = new(_terms, prediction.Planform, 0);
            _speeds = maker.Speeds(_options[0].MassKg);
            _factors = maker.Factors(_speeds, _options[0].MassKg, 0);
            SinkCurve predicted = new(_speeds, CurveMaker.Sinks(_factors, _speeds, _terms.PredictedMean()));
            _atMps = predicted.BestGlide(0)!.Value.AirspeedMps;
            _predictedMps = predicted.At(_atMps);
            _seed = seed;
        }

        public TuningPoint Point(int sessions, SeasonSession? last, TunedDrag drag)
        {
            SinkCurve central = Curve(drag.Central(_options, _terms));
            SinkCurve[] curves = [.. drag.Draw(_options, _terms, _seed, Draws).Select(Curve)];
            return new TuningPoint(sessions, last,
                About(central, curves, c => c.BestGlide(0)!.Value.Ratio),
                About(central, curves, c => c.LeastSink().SinkMps),
                About(central, curves, c => c.At(_atMps) / _predictedMps - 1),
                Term(drag, DragTerms.Cd0), Term(drag, DragTerms.Induced));
        }

        private SinkCurve Curve(double[] coefficients) => new(_speeds, CurveMaker.Sinks(_factors, _speeds, coefficients));

        private static Band About(SinkCurve central, SinkCurve[] curves, Func<SinkCurve, double> of)
        {
            Band band = Band.Of(curves.Select(of));
            double value = of(central);
            return new Band(value, Math.Min(band.Low, value), Math.Max(band.High, value));
        }

        private static Band Term(TunedDrag drag, int term)
        {
            double value = drag.Mean[term], half = Normal95 * Math.Sqrt(drag.Covariance[term, term]);
            return new Band(value, value - half, value + half);
        }
    }
}
