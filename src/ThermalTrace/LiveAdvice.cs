using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace;

/// <summary>Conditions as three numbers, for sliders.</summary>
/// <param name="WindMps">At flying height.</param>
/// <param name="LiftMps">Of the air in a thermal's core; 0 for none.</param>
/// <param name="Edr">Turbulence, m^(2/3)/s.</param>
public readonly record struct LiveConditions(double WindMps, double LiftMps, double Edr);

/// <summary>
/// A session's choices ranked again for any wind, lift and turbulence, in some milliseconds: what does not hang on the air is worked out once. The
/// same draws and the same comparison as <see cref="Suggestion"/> with this session alone.
/// </summary>
public sealed class LiveAdvice
{
    private readonly SeasonModel _model;
    private readonly BallastChoices _choices;
    private readonly DrawnOptions _options;
    private readonly UsualLaunch _launch;
    private readonly int _seed;

    // Sums split between threads round differently from machine to machine; the same input must give the same bytes.
    static LiveAdvice() => MathNet.Numerics.Control.UseSingleThread();

    private LiveAdvice(Season season, LiveConditions session, string taken, int seed)
    {
        (_model, Session, Taken, _seed) = (season.Model, session, taken, seed);
        _choices = BallastChoices.Of(_model);
        _options = Advisor.Prepare(_model, _choices, seed, PhysicalConstants.SeaLevelDensityKgM3);
        _launch = UsualLaunch.For(_model, null);
    }

    /// <summary>The session's own conditions; what it could not tell is a calm, no lift, or light turbulence.</summary>
    public LiveConditions Session { get; }

    /// <summary>Most that sliders offer: twice the session's, and enough for a day that is otherwise.</summary>
    public LiveConditions Most => new(Round(Math.Max(12, 2 * Session.WindMps), 1), Round(Math.Max(4, 2 * Session.LiftMps), 0.5), Round(Math.Max(0.5, 2 * Session.Edr), 0.1));

    /// <summary>Prepares answers from a debrief.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="document">The debrief's document.</param>
    /// <param name="seed">Seed of every draw.</param>
    /// <param name="cancel">Stops the work.</param>
    /// <exception cref="UnusableInputException">No ballast may be fitted.</exception>
    public static LiveAdvice From(Airframe airframe, ResultsDocument document, int seed = 1, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        ArgumentNullException.ThrowIfNull(document);
        ConditionsEntry flown = document.Comparison.Conditions;
        LiveConditions session = new(Math.Round(flown.WindMps ?? 0, 1), Math.Round(flown.LiftMps ?? 0, 1), Math.Round(flown.Edr ?? 0.1, 2));
        string[] taken = [.. new[]
        {
            flown.WindMps is null ? "no wind" : "",
            flown.LiftMps is null ? "no lift" : "",
            flown.Edr is null ? $"{TurbulenceWord(session.Edr)} turbulence" : "",
        }.Where(t => t.Length > 0)];
        string told = taken.Length == 0 ? "" : $"This session could not tell all of its air: the sliders begin with {string.Join(" and ", taken)}.";
        return new LiveAdvice(Season.Tune(airframe, [new SeasonSession("session", document.Evidence)], cancel), session, told, seed);
    }

    /// <summary>What of <see cref="Session"/> the session could not tell, and what was taken for it; empty where it told all.</summary>
    public string Taken { get; }

    /// <summary>The choices in that air, ranked.</summary>
    /// <param name="air">Conditions; none negative.</param>
    public ComparisonEntry Answer(LiveConditions air)
    {
        AskedConditions asked = new() { WindMps = AskedRange.At(air.WindMps), LiftMps = AskedRange.At(air.LiftMps), Edr = AskedRange.At(air.Edr) };
        ComparedChoices compared = Advisor.Compare(_model, asked, _choices, _options, _launch, null, _seed);
        return SuggestionEntries.Comparison(compared, _choices, asked);
    }

    /// <summary>Conditions as a line of text.</summary>
    public static string InWords(LiveConditions air) =>
        FormattableString.Invariant($"Wind {air.WindMps:0.#} m/s, lift at the core {air.LiftMps:0.#} m/s, turbulence {air.Edr:0.##} m^(2/3)/s ({TurbulenceWord(air.Edr)}).");

    /// <summary>The unit of turbulence as the report shows it; markup.</summary>
    public static string TurbulenceUnit => Reports.Page.Parts.EdrUnit.Source;

    /// <summary>A wind in a word, such as "gentle"; empty between two words.</summary>
    public static string WindWord(double mps) => Word(ConditionWords.Wind, mps);

    /// <summary>A lift in a word.</summary>
    public static string LiftWord(double mps) => Word(ConditionWords.Lift, mps);

    /// <summary>Turbulence in the report's word, which stands on the same page.</summary>
    public static string TurbulenceWord(double edr) => Words.Turbulence(edr);

    private static string Word(IReadOnlyDictionary<string, AskedRange> words, double value) =>
        words.FirstOrDefault(w => value >= w.Value.Low && value <= w.Value.High).Key ?? "";

    private static double Round(double value, double step) => Math.Ceiling(Math.Round(value / step, 6)) * step;
}
