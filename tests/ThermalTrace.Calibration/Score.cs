using ThermalTrace.Reports;

namespace ThermalTrace.Calibration;

/// <summary>How close one debrief came; NaN where there was nothing to score.</summary>
public sealed record Score
{
    /// <summary>Root mean square over the middle 90 % of speeds truly flown, m/s.</summary>
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
    /// <summary>Share of airborne time given its kind, 1.5 s about true changes left out; lost flights count as wrong.</summary>
    public required double Kinds { get; init; }
    /// <summary>Flights found less true flights.</summary>
    public required int FlightsOver { get; init; }
    /// <summary>Vector error of each flight's mean wind, m/s.</summary>
    public required IReadOnlyList<double> WindErrorsMps { get; init; }
    /// <summary>Each of those over its own standard error.</summary>
    public required IReadOnlyList<double> WindPulls { get; init; }
    /// <summary>Logarithm of found over true EDR.</summary>
    public required IReadOnlyList<double> EdrLogErrors { get; init; }
    /// <summary>1 where the EDR's interval holds the truth.</summary>
    public required IReadOnlyList<double> EdrInside { get; init; }
    /// <summary>Round-trip climb given away by the chosen ballast, m/s.</summary>
    public required double LossMps { get; init; }
    /// <summary>Given away by "all of it from 3 m/s of wind, else none".</summary>
    public required double PlainRuleLossMps { get; init; }
    /// <summary>The verdict was clear.</summary>
    public required bool Clear { get; init; }
    /// <summary>Share of round-trip intervals that hold the truth.</summary>
    public required double RoundTripCoverage { get; init; }

    /// <summary>Scores a document against the truth.</summary>
    public static Score Of(ResultsDocument document, Truth truth)
    {
        List<double> errors = [], biases = [], covers = [], widths = [], predictions = [], spans = [];
        foreach ((string key, double[] flown) in truth.Flown)
        {
            PolarEntry? polar = document.Polars.FirstOrDefault(p => Math.Abs(p.BallastG - double.Parse(key, System.Globalization.CultureInfo.InvariantCulture)) < 0.5);
            (CurvePoint Point, double True)[] points = polar is null ? [] : [.. polar.Curve
                .Where(c => c.SinkMps is not null && c.AirspeedMps >= flown[0] && c.AirspeedMps <= flown[1])
                .Select(c => (c, truth.SinkMps(key, c.AirspeedMps))).Where(p => !double.IsNaN(p.Item2))];
            if (points.Length == 0)
            {
                continue;
            }
            errors.Add(Math.Sqrt(points.Average(p => Square(p.Point.SinkMps!.Value - p.True))));
            biases.Add(points.Average(p => p.Point.SinkMps!.Value - p.True));
            covers.Add(points.Average(p => p.Point.LowMps <= p.True && p.True <= p.Point.HighMps ? 1.0 : 0));
            widths.Add(points.Average(p => p.Point.HighMps!.Value - p.Point.LowMps!.Value));
            predictions.Add(Math.Sqrt(points.Average(p => Square(p.Point.PredictedMps - p.True))));
            spans.Add((polar!.FlownAirspeedMps[1] - polar.FlownAirspeedMps[0]) / (flown[1] - flown[0]));
        }
        List<double> wind = [], pulls = [], edr = [], inside = [];
        double right = 0, looked = 0;
        foreach (TruthFlight flight in truth.Flights)
        {
            TruthSegment[] air = [.. flight.Segments.Where(s => s.Kind != "ground")];
            (double a, double b) = (air[0].StartS, air[^1].EndS);
            FlightEntry? found = document.Flights.Where(f => f.Log == flight.Log && Math.Min(f.EndS, b) - Math.Max(f.StartS, a) >= 0.8 * (b - a)).FirstOrDefault();
            for (double t = a; t < b; t += 0.5)
            {
                if (flight.Segments.Select(s => s.StartS).Append(b).Min(e => Math.Abs(e - t)) <= 1.5)
                {
                    continue;
                }
                looked++;
                string? kind = found?.Segments.FirstOrDefault(s => s.StartS <= t && t < s.EndS)?.Kind;
                right += kind == flight.Segments.FirstOrDefault(s => s.StartS <= t && t < s.EndS)?.Kind ? 1 : 0;
            }
            if (found?.Wind.EastMps is { } east && found.Wind.NorthMps is { } north)
            {
                wind.Add(Math.Sqrt(Square(east - flight.WindEastMps) + Square(north - flight.WindNorthMps)));
                pulls.Add(wind[^1] / (found.Wind.StandardErrorMps!.Value * Math.Sqrt(2)));
            }
            if (found?.Turbulence.Edr is { } rate)
            {
                edr.Add(Math.Log(rate / flight.Edr));
                inside.Add(found.Turbulence.Low <= flight.Edr && flight.Edr <= found.Turbulence.High ? 1 : 0);
            }
        }
        double loss = double.NaN, plain = double.NaN, trip = double.NaN;
        if (truth.Session is { } session && session.Options.All(o => o.RoundTripClimbMps is not null) && document.Comparison.BestBallastG is { } chosen)
        {
            double best = session.Options.Max(o => o.RoundTripClimbMps!.Value);
            loss = best - session.Options.MinBy(o => Math.Abs(o.BallastG - chosen))!.RoundTripClimbMps!.Value;
            double rule = session.WindMps >= 3 ? session.Options.Max(o => o.BallastG) : session.Options.Min(o => o.BallastG);
            plain = best - session.Options.First(o => o.BallastG == rule).RoundTripClimbMps!.Value;
            trip = session.Options.Average(o => document.Comparison.Options.FirstOrDefault(e => Math.Abs(e.BallastG - o.BallastG) < 0.5)?.RoundTripClimbMps is { Low: { } low, High: { } high }
                && low <= o.RoundTripClimbMps && o.RoundTripClimbMps <= high ? 1.0 : 0);
        }
        return new Score
        {
            PolarErrorMps = RootMeanSquare(errors),
            PolarBiasMps = Mean(biases),
            PolarCoverage = Mean(covers),
            PolarWidthMps = Mean(widths),
            PredictedErrorMps = RootMeanSquare(predictions),
            SpeedSpan = Mean(spans),
            Kinds = looked > 0 ? right / looked : double.NaN,
            FlightsOver = document.Flights.Count - truth.Flights.Count,
            WindErrorsMps = wind,
            WindPulls = pulls,
            EdrLogErrors = edr,
            EdrInside = inside,
            LossMps = loss,
            PlainRuleLossMps = plain,
            Clear = document.Comparison.Verdict == "clear",
            RoundTripCoverage = trip,
        };
    }

    /// <summary>NaN of nothing.</summary>
    public static double RootMeanSquare(IEnumerable<double> values) => Math.Sqrt(Mean(values.Select(Square)));

    /// <summary>Not-a-number values left out; NaN of nothing.</summary>
    public static double Mean(IEnumerable<double> values) => values.Where(v => !double.IsNaN(v)).DefaultIfEmpty(double.NaN).Average();

    private static double Square(double x) => x * x;
}
