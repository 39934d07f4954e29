using System.Diagnostics;
using System.Text.Json;
using ThermalTrace.Calibration;
using ThermalTrace.Reports;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Tests.Reports;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Calibration;

/// <summary>The scorer on a document made by hand, and beside the script that others score with.</summary>
public class ScoreTests
{
    private const double SinkOffMps = 0.02;

    private static readonly ResultsDocument Document = ExampleSession.Plain.Document();

    /// <summary>What the example would be worth if everything in it were right but for what is given.</summary>
    private static Truth Truth(double sinkOffMps = 0, double windOffMps = 0, double edrFactor = 1) => new(
        Document.Polars.ToDictionary(p => Key(p.BallastG), p => p.Curve.Select(c => (double[])[c.AirspeedMps, c.SinkMps!.Value - sinkOffMps]).ToArray()),
        Document.Polars.ToDictionary(p => Key(p.BallastG), p => (double[])[.. p.FlownAirspeedMps]),
        [.. Document.Flights.Select(f => new TruthFlight(f.Log, f.Wind.EastMps!.Value + windOffMps, f.Wind.NorthMps!.Value, f.Turbulence.Edr!.Value * edrFactor, f.Launch!.HeightM,
            [.. f.Segments.Select(s => new TruthSegment(s.Kind, s.StartS, s.EndS))]))],
        new TruthSession(4.14, 1.87, 14.2, 0.143, [.. Document.Comparison.Options.Select(o => new TruthOption(o.BallastG, o.RoundTripClimbMps.Value))]));

    private static string Key(double ballastG) => ballastG.ToString(System.Globalization.CultureInfo.InvariantCulture);

    [Fact]
    public void ADocumentThatIsTheTruth_HasNoErrorAnywhere()
    {
        Score score = Score.Of(Document, Truth());
        Assert.Equal(0, score.PolarErrorMps, 12);
        Assert.Equal(1, score.PolarCoverage);
        Assert.Equal(1, score.SpeedSpan, 12);
        Assert.Equal(1, score.Kinds);
        Assert.Equal((0, 0), (score.ClimbMisses, score.ClimbFalse));
        Assert.True(score.ClimbHits > 100);
        Assert.Equal((0, 0, 0), (score.FlightsOver, score.FlightsLost, score.PolarsLost));
        Assert.All(score.WindErrorsMps, e => Assert.Equal(0, e, 12));
        Assert.All(score.EdrLogErrors, e => Assert.Equal(0, e, 12));
        Assert.Equal(0, score.LossMps, 12);
        Assert.All(score.RoundTripInside, i => Assert.Equal(1, i));
        // 40 g is truly best and the heaviest, by the plain rule above 3 m/s of wind, loses 0.00003 (80 − 38)² − 0.00003 (40 − 38)².
        Assert.Equal(0.00003 * (42 * 42 - 2 * 2), score.PlainRuleLossMps, 9);
        Assert.Equal(0.68, score.ProbabilitiesBest[1], 12);
        Assert.Equal([0, 1, 0], score.TrulyBest);
    }

    [Fact]
    public void SinkThatIsOffByAConstant_IsThatErrorAndThatBias()
    {
        Score score = Score.Of(Document, Truth(sinkOffMps: SinkOffMps));
        Assert.Equal(SinkOffMps, score.PolarErrorMps, 9);
        Assert.Equal(SinkOffMps, score.PolarBiasMps, 9);
        // Bands are at least 0.025 to either side.
        Assert.Equal(1, score.PolarCoverage);
        Assert.Equal(0, Score.Of(Document, Truth(sinkOffMps: 0.12)).PolarCoverage, 12);
    }

    [Fact]
    public void WindAndTurbulence_AreScoredAsVectorAndLogarithm()
    {
        Score score = Score.Of(Document, Truth(windOffMps: 0.21 * Math.Sqrt(2), edrFactor: Math.Exp(-0.1)));
        Assert.All(score.WindErrorsMps, e => Assert.Equal(0.21 * Math.Sqrt(2), e, 9));
        Assert.All(score.WindPulls, p => Assert.Equal(1, p, 9));
        Assert.All(score.EdrLogErrors, e => Assert.Equal(0.1, e, 9));
    }

    [Fact]
    public void AFlightThatWasNotFound_CountsAsWrongTime()
    {
        Truth truth = Truth();
        Score score = Score.Of(Document with { Flights = [.. Document.Flights.Skip(1)] }, truth);
        Assert.Equal(1, score.FlightsLost);
        Assert.Equal(-1, score.FlightsOver);
        Assert.Equal(1 - 1.0 / truth.Flights.Count, score.Kinds, 9);
    }

    [Fact]
    public void ADocumentWithoutPolars_HasNoErrorToSpeakOf_AndAllPolarsLost()
    {
        Score score = Score.Of(Document with { Polars = [] }, Truth());
        Assert.True(double.IsNaN(score.PolarErrorMps));
        Assert.Equal(Document.Polars.Count, score.PolarsLost);
    }

    [ScoringScriptFact]
    public void TheScoringScript_SaysTheSame()
    {
        Score score = Score.Of(ShortSession.Document, ThermalTrace.Calibration.Truth.Read(ShortSession.Simulated.TruthJson));
        IReadOnlyDictionary<string, JsonElement> script = ByScript(ShortSession.Document, ShortSession.Simulated.TruthJson);
        (string Key, double Ours)[] figures =
        [
            ("polar_error_rms_mps", score.PolarErrorMps),
            ("polar_bias_mps", score.PolarBiasMps),
            ("polar_coverage", score.PolarCoverage),
            ("polar_width_mps", score.PolarWidthMps),
            ("polar_speed_span", score.SpeedSpan),
            ("predicted_error_rms_mps", score.PredictedErrorMps),
            ("min_sink_error_rms", Score.RootMeanSquare(score.MinSinkErrors)),
            ("min_sink_coverage", Score.Mean(score.MinSinkInside)),
            ("best_glide_error_rms", Score.RootMeanSquare(score.BestGlideErrors)),
            ("best_glide_coverage", Score.Mean(score.BestGlideInside)),
            ("kind_agreement", score.Kinds),
            ("f1_climb", 2.0 * score.ClimbHits / (2.0 * score.ClimbHits + score.ClimbMisses + score.ClimbFalse)),
            ("wind_error_median_mps", Score.Median(score.WindErrorsMps)),
            ("wind_error_over_its_own", Score.RootMeanSquare(score.WindPulls)),
            ("launch_height_error_rms_m", Score.RootMeanSquare(score.LaunchHeightErrorsM)),
            ("edr_log_error_rms", Score.RootMeanSquare(score.EdrLogErrors)),
            ("edr_coverage", Score.Mean(score.EdrInside)),
            ("regret_mps", score.LossMps),
            ("regret_plain_rule_mps", score.PlainRuleLossMps),
            ("true_margin_mps", score.TrueMarginMps),
            ("brier", score.Brier),
            ("brier_even", score.BrierEven),
            ("round_trip_error_rms_mps", Score.RootMeanSquare(score.RoundTripErrorsMps)),
            ("round_trip_coverage", Score.Mean(score.RoundTripInside)),
        ];
        Assert.All(figures, f =>
        {
            // The document's numbers are rounded when they are written.
            double theirs = script[f.Key].ValueKind == JsonValueKind.Null ? double.NaN : script[f.Key].GetDouble();
            Assert.True(double.IsNaN(theirs) ? double.IsNaN(f.Ours) : Math.Abs(theirs - f.Ours) <= 1e-3 * Math.Max(1, Math.Abs(theirs)), $"{f.Key}: script {theirs}, ours {f.Ours}");
        });
        Assert.Equal(score.Verdict, script["verdict"].GetString());
        Assert.Equal(score.FlightsLost, script["flights_true"].GetInt32() - script["flights_matched"].GetInt32());
    }

    private static Dictionary<string, JsonElement> ByScript(ResultsDocument document, string truth)
    {
        string folder = Directory.CreateTempSubdirectory("thermaltrace-score").FullName;
        try
        {
            string results = Path.Combine(folder, "results.json"), truths = Path.Combine(folder, "truth.json");
            using (FileStream file = File.Create(results))
            {
                ResultsJson.Write(file, document);
            }
            File.WriteAllText(truths, truth);
            using Process process = Process.Start(new ProcessStartInfo(ScoringScriptFactAttribute.Python, [ScoringScriptFactAttribute.Script!, results, truths, "--json"]) { RedirectStandardOutput = true })!;
            string said = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            Assert.Equal(0, process.ExitCode);
            return JsonSerializer.Deserialize<Dictionary<string, JsonElement>>(said)!;
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    /// <summary>A test that runs the scoring script of the shared folder; skipped, visibly, where the script or what runs it is missing.</summary>
    [AttributeUsage(AttributeTargets.Method)]
    private sealed class ScoringScriptFactAttribute : FactAttribute
    {
        public const string Python = "python3";

        public static string? Script { get; } = SharedFolder.Path is { } shared && File.Exists(Path.Combine(shared, "score.py")) ? Path.Combine(shared, "score.py") : null;

        public ScoringScriptFactAttribute()
        {
            bool runs = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator).Any(folder => File.Exists(Path.Combine(folder, Python)));
            if (Script is null || !runs)
            {
                Skip = "the scoring script is not beside the repository, or nothing here can run it";
            }
        }
    }
}
