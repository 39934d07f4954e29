using ThermalTrace.Reports;

namespace ThermalTrace.Calibration;

/// <summary>How close one debrief came; NaN where there was nothing to score.</summary>
public sealed record Score
{
    private const double EdgeS = 1.5, LookS = 0.5, LeastOverlap = 0.8, PlainRuleWindMps = 3;

    /// <summary>Root mean square over the middle 90 % of speeds truly flown, each ballast weighing the same, m/s.</summary>
    public required double PolarErrorMps { get; init; }
    /// <summary>Found less true, m/s.</summary>
    public required double PolarBiasMps { get; init; }
    /// <summary>Share of 90 % bands that hold the truth.</summary>
    public required double PolarCoverage { get; init; }
    /// <summary>Mean width of those bands, m/s.</summary>
    public required double PolarWidthMps { get; init; }
    /// <summary>The prediction from geometry alone, m/s.</summary>
    public required double PredictedErrorMps { get; init; }
    /// <summary>Speeds said flown over truly flown.</summary>
    public required double SpeedSpan { get; init; }
    /// <summary>Polars flown and not reported.</summary>
    public required int PolarsLost { get; init; }
    /// <summary>Relative errors of the least sink, where it lies within the speeds flown.</summary>
    public required IReadOnlyList<double> MinSinkErrors { get; init; }
    /// <summary>1 or 0 for every ballast whose interval holds the true least sink or not.</summary>
    public required IReadOnlyList<double> MinSinkInside { get; init; }
    /// <summary>Relative errors of the best glide ratio, where it lies within the speeds flown.</summary>
    public required IReadOnlyList<double> BestGlideErrors { get; init; }
    /// <summary>1 or 0 for every ballast whose interval holds the true best glide ratio or not.</summary>
    public required IReadOnlyList<double> BestGlideInside { get; init; }
    /// <summary>Share of airborne time given its kind, 1.5 s about true changes left out; lost flights count as wrong.</summary>
    public required double Kinds { get; init; }
    /// <summary>Looks, half a second apart, that are climb and were called climb.</summary>
    public required int ClimbHits { get; init; }
    /// <summary>Climb and called something else.</summary>
    public required int ClimbMisses { get; init; }
    /// <summary>Something else and called climb.</summary>
    public required int ClimbFalse { get; init; }
    /// <summary>Flights found less true flights.</summary>
    public required int FlightsOver { get; init; }
    /// <summary>True flights that no reported flight overlaps by 80 %.</summary>
    public required int FlightsLost { get; init; }
    /// <summary>Vector error of each flight's mean wind, m/s.</summary>
    public required IReadOnlyList<double> WindErrorsMps { get; init; }
    /// <summary>Each of those over its own standard error.</summary>
    public required IReadOnlyList<double> WindPulls { get; init; }
    /// <summary>Found less true height at the end of each flight's launch, m.</summary>
    public required IReadOnlyList<double> LaunchHeightErrorsM { get; init; }
    /// <summary>Logarithm of found over true EDR.</summary>
    public required IReadOnlyList<double> EdrLogErrors { get; init; }
    /// <summary>1 where the EDR's interval holds the truth.</summary>
    public required IReadOnlyList<double> EdrInside { get; init; }
    /// <summary>Round-trip climb given away by the chosen ballast, m/s.</summary>
    public required double LossMps { get; init; }
    /// <summary>Given away by "all of it from 3 m/s of wind, else none".</summary>
    public required double PlainRuleLossMps { get; init; }
    /// <summary>What the truly best option gains over the next, m/s.</summary>
    public required double TrueMarginMps { get; init; }
    /// <summary>clear, leaning, no_difference or unknown.</summary>
    public required string Verdict { get; init; }
    /// <summary>Of every option, where all have one.</summary>
    public required IReadOnlyList<double> ProbabilitiesBest { get; init; }
    /// <summary>1 for the truly best of them, else 0.</summary>
    public required IReadOnlyList<double> TrulyBest { get; init; }
    /// <summary>Found less true round-trip climb of every option, m/s.</summary>
    public required IReadOnlyList<double> RoundTripErrorsMps { get; init; }
    /// <summary>1 or 0 for every option whose interval of round-trip climb holds the truth or not.</summary>
    public required IReadOnlyList<double> RoundTripInside { get; init; }

    /// <summary>Squared error of the probabilities, summed over the options; NaN without them.</summary>
    public double Brier => ProbabilitiesBest.Count == 0 ? double.NaN : ProbabilitiesBest.Zip(TrulyBest, (p, t) => Square(p - t)).Sum();

    /// <summary>The same of always saying one over the number of options.</summary>
    public double BrierEven => ProbabilitiesBest.Count == 0 ? double.NaN : 1 - 1.0 / ProbabilitiesBest.Count;

    /// <summary>Scores a document against the truth. Every figure means what the project's scoring script means by it.</summary>
    public static Score Of(ResultsDocument document, Truth truth)
    {
        Polars polars = Polars.Of(document, truth);
        Flights flights = Flights.Of(document, truth);
        List<double> shares = [], best = [], trips = [], tripsInside = [];
        double loss = double.NaN, plain = double.NaN, margin = double.NaN;
        if (truth.Session is { } session && session.Options.All(o => o.RoundTripClimbMps is not null))
        {
            TruthOption winner = session.Options.MaxBy(o => o.RoundTripClimbMps!.Value)!;
            loss = document.Comparison.BestBallastG is { } chosen ? session.LossMps(chosen) : double.NaN;
            plain = session.LossMps(session.WindMps >= PlainRuleWindMps ? session.Options.Max(o => o.BallastG) : session.Options.Min(o => o.BallastG));
            double[] ranked = [.. session.Options.Select(o => o.RoundTripClimbMps!.Value).OrderDescending()];
            margin = ranked.Length > 1 ? ranked[0] - ranked[1] : double.NaN;
            foreach (TruthOption option in session.Options)
            {
                OptionEntry? said = document.Comparison.Options.FirstOrDefault(o => Math.Abs(o.BallastG - option.BallastG) < 0.5);
                if (said?.ProbabilityBest is { } share)
                {
                    shares.Add(share);
                    best.Add(option == winner ? 1 : 0);
                }
                if (said?.RoundTripClimbMps is { Value: { } value, Low: { } low, High: { } high })
                {
                    trips.Add(value - option.RoundTripClimbMps!.Value);
                    tripsInside.Add(low <= option.RoundTripClimbMps && option.RoundTripClimbMps <= high ? 1 : 0);
                }
            }
            if (shares.Count < session.Options.Count)
            {
                (shares, best) = ([], []);
            }
        }
        return new Score
        {
            PolarErrorMps = RootMeanSquare(polars.Errors),
            PolarBiasMps = Mean(polars.Biases),
            PolarCoverage = Mean(polars.Covers),
            PolarWidthMps = Mean(polars.Widths),
            PredictedErrorMps = RootMeanSquare(polars.Predictions),
            SpeedSpan = Mean(polars.Spans),
            PolarsLost = truth.Flown.Count - polars.Errors.Count,
            MinSinkErrors = polars.MinSinkErrors,
            MinSinkInside = polars.MinSinkInside,
            BestGlideErrors = polars.BestGlideErrors,
            BestGlideInside = polars.BestGlideInside,
            Kinds = flights.Looks > 0 ? (double)flights.Right / flights.Looks : double.NaN,
            ClimbHits = flights.ClimbHits,
            ClimbMisses = flights.ClimbMisses,
            ClimbFalse = flights.ClimbFalse,
            FlightsOver = document.Flights.Count - truth.Flights.Count,
            FlightsLost = flights.Lost,
            WindErrorsMps = flights.Wind,
            WindPulls = flights.Pulls,
            LaunchHeightErrorsM = flights.LaunchHeights,
            EdrLogErrors = flights.Edr,
            EdrInside = flights.EdrInside,
            LossMps = loss,
            PlainRuleLossMps = plain,
            TrueMarginMps = margin,
            Verdict = document.Comparison.Verdict,
            ProbabilitiesBest = shares,
            TrulyBest = best,
            RoundTripErrorsMps = trips,
            RoundTripInside = tripsInside,
        };
    }

    /// <summary>Not-a-number values left out; NaN of nothing.</summary>
    public static double RootMeanSquare(IEnumerable<double> values) => Math.Sqrt(Mean(values.Select(Square)));

    /// <summary>Not-a-number values left out; NaN of nothing.</summary>
    public static double Mean(IEnumerable<double> values) => values.Where(v => !double.IsNaN(v)).DefaultIfEmpty(double.NaN).Average();

    /// <summary>The upper middle one of an even number, as the scoring script has it; not-a-number values left out; NaN of nothing.</summary>
    public static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Where(v => !double.IsNaN(v)).Order()];
        return sorted.Length > 0 ? sorted[sorted.Length / 2] : double.NaN;
    }

    private static double Square(double x) => x * x;

    private static double Holds(Interval said, double actual) => said is { Low: { } low, High: { } high } ? (low <= actual && actual <= high ? 1 : 0) : double.NaN;

    /// <summary>Over the middle 90 % of the speeds truly flown, a value for each ballast.</summary>
    private sealed class Polars
    {
        public List<double> Errors { get; } = [];
        public List<double> Biases { get; } = [];
        public List<double> Covers { get; } = [];
        public List<double> Widths { get; } = [];
        public List<double> Predictions { get; } = [];
        public List<double> Spans { get; } = [];
        public List<double> MinSinkErrors { get; } = [];
        public List<double> MinSinkInside { get; } = [];
        public List<double> BestGlideErrors { get; } = [];
        public List<double> BestGlideInside { get; } = [];

        public static Polars Of(ResultsDocument document, Truth truth)
        {
            Polars score = new();
            foreach ((string key, double[] flown) in truth.Flown)
            {
                PolarEntry? polar = document.Polars.FirstOrDefault(p => Math.Abs(p.BallastG - Truth.Grams(key)) < 0.5);
                (CurvePoint Point, double True)[] points = polar is null ? [] : [.. polar.Curve
                    .Where(c => c.SinkMps is not null && c.AirspeedMps >= flown[0] && c.AirspeedMps <= flown[1])
                    .Select(c => (c, truth.SinkMps(key, c.AirspeedMps))).Where(p => !double.IsNaN(p.Item2))];
                if (points.Length > 0)
                {
                    score.Add(polar!, points, flown, truth.Polars[key]);
                }
            }
            return score;
        }

        private void Add(PolarEntry polar, (CurvePoint Point, double True)[] points, double[] flown, double[][] table)
        {
            Errors.Add(RootMeanSquare(points.Select(p => p.Point.SinkMps!.Value - p.True)));
            Biases.Add(points.Average(p => p.Point.SinkMps!.Value - p.True));
            (CurvePoint Point, double True)[] banded = [.. points.Where(p => p.Point is { LowMps: not null, HighMps: not null })];
            Covers.Add(Mean(banded.Select(p => p.Point.LowMps <= p.True && p.True <= p.Point.HighMps ? 1.0 : 0)));
            Widths.Add(Mean(banded.Select(p => p.Point.HighMps!.Value - p.Point.LowMps!.Value)));
            Predictions.Add(RootMeanSquare(points.Select(p => p.Point.PredictedMps - p.True)));
            Spans.Add(polar.FlownAirspeedMps is [var slow, var fast] ? (fast - slow) / (flown[1] - flown[0]) : 0);
            double[] least = table.MinBy(r => r[1])!, flattest = table.MaxBy(r => r[0] / r[1])!;
            if (polar.MinSink.SinkMps.Value is { } sink)
            {
                MinSinkErrors.AddRange(flown[0] <= least[0] && least[0] <= flown[1] ? [sink / least[1] - 1] : []);
                MinSinkInside.Add(Holds(polar.MinSink.SinkMps, least[1]));
            }
            if (polar.BestGlide.Ratio.Value is { } ratio)
            {
                BestGlideErrors.AddRange(flown[0] <= flattest[0] && flattest[0] <= flown[1] ? [ratio * flattest[1] / flattest[0] - 1] : []);
                BestGlideInside.Add(Holds(polar.BestGlide.Ratio, flattest[0] / flattest[1]));
            }
        }
    }

    /// <summary>Flights matched by overlap; kinds compared every half second.</summary>
    private sealed class Flights
    {
        public List<double> Wind { get; } = [];
        public List<double> Pulls { get; } = [];
        public List<double> LaunchHeights { get; } = [];
        public List<double> Edr { get; } = [];
        public List<double> EdrInside { get; } = [];
        public int Looks { get; private set; }
        public int Right { get; private set; }
        public int ClimbHits { get; private set; }
        public int ClimbMisses { get; private set; }
        public int ClimbFalse { get; private set; }
        public int Lost { get; private set; }

        public static Flights Of(ResultsDocument document, Truth truth)
        {
            Flights score = new();
            foreach (TruthFlight flight in truth.Flights)
            {
                TruthSegment[] air = [.. flight.Segments.Where(s => s.Kind != "ground")];
                (double from, double to) = (air[0].StartS, air[^1].EndS);
                double Overlap(FlightEntry f) => Math.Min(f.EndS, to) - Math.Max(f.StartS, from);
                FlightEntry? found = document.Flights.Where(f => f.Log == flight.Log).MaxBy(Overlap);
                found = found is not null && Overlap(found) >= LeastOverlap * (to - from) ? found : null;
                score.Compare(flight, found, from, to);
                if (found is null)
                {
                    score.Lost++;
                    continue;
                }
                score.Measure(flight, found);
            }
            return score;
        }

        private void Compare(TruthFlight flight, FlightEntry? found, double from, double to)
        {
            double[] edges = [.. flight.Segments.Select(s => s.StartS), to];
            for (double t = from; t < to; t += LookS)
            {
                if (edges.Min(e => Math.Abs(t - e)) <= EdgeS)
                {
                    continue;
                }
                string? actual = flight.Segments.FirstOrDefault(s => s.StartS <= t && t < s.EndS)?.Kind;
                string? said = found?.Segments.FirstOrDefault(s => s.StartS <= t && t < s.EndS)?.Kind;
                Looks++;
                Right += actual == said ? 1 : 0;
                ClimbHits += actual == "climb" && said == "climb" ? 1 : 0;
                ClimbMisses += actual == "climb" && said != "climb" ? 1 : 0;
                ClimbFalse += actual != "climb" && said == "climb" ? 1 : 0;
            }
        }

        private void Measure(TruthFlight flight, FlightEntry found)
        {
            if (found.Wind is { EastMps: { } east, NorthMps: { } north })
            {
                Wind.Add(Math.Sqrt(Square(east - flight.WindEastMps) + Square(north - flight.WindNorthMps)));
                Pulls.AddRange(found.Wind.StandardErrorMps is > 0 and var own ? [Wind[^1] / (own * Math.Sqrt(2))] : []);
            }
            LaunchHeights.AddRange(found.Launch is { } launch && flight.LaunchHeightM != 0 ? [launch.HeightM - flight.LaunchHeightM] : []);
            if (found.Turbulence.Edr is { } rate and not 0)
            {
                Edr.Add(Math.Log(rate / flight.Edr));
                EdrInside.Add(found.Turbulence is { Low: { } low, High: { } high } ? (low <= flight.Edr && flight.Edr <= high ? 1 : 0) : double.NaN);
            }
        }
    }
}
