using ThermalTrace.Advice;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.EndToEnd;

namespace ThermalTrace.Tests.Advice;

/// <summary>Airframes, seasons and questions for tests of advice.</summary>
internal static class AdviceModels
{
    /// <summary>A small model as the sample logs have it, with more to choose from.</summary>
    public static Airframe Tansy { get; } = new()
    {
        Name = "Tansy 150",
        WingSpanMm = 1500,
        WingAreaDm2 = 21.3,
        UnballastedMassG = 248,
        MaxFlyingMassG = 420,
        Launch = LaunchKind.Discus,
        BallastOptionsG = [0, 20, 40, 60, 80, 100, 120],
    };

    /// <summary>Nothing flown.</summary>
    public static SeasonModel Predicted(Airframe airframe) => SeasonModel.Tune(airframe, [], 1);

    /// <summary>Evidence of a real debrief of a simulated session with ballasts 0 and 70, twice as two days.</summary>
    public static IReadOnlyList<SeasonSession> TwoDays(Func<FlightFact, FlightFact>? change = null)
    {
        SessionEvidence evidence = ShortSession.Document.Evidence;
        evidence = change is null ? evidence : evidence with { Flights = [.. evidence.Flights.Select(change)] };
        return [new SeasonSession("a", evidence), new SeasonSession("b", evidence)];
    }

    /// <summary>A question with everything said.</summary>
    public static AskedConditions Ask(double wind, double lift, double edr) =>
        new() { WindMps = AskedRange.At(wind), LiftMps = AskedRange.At(lift), Edr = AskedRange.At(edr) };

    /// <summary>Its answer.</summary>
    public static Advised Answer(SeasonModel model, AskedConditions asked) => Advisor.Answer(model, asked, [], 1);
}
