using System.Globalization;
using ThermalTrace.Decisions;

namespace ThermalTrace.Reports;

/// <summary>The comparison in a sentence or two, for people.</summary>
internal static class Sentences
{
    /// <summary>Why the best is best, with what it gains and over what.</summary>
    public static string Why(ComparisonOutcome outcome)
    {
        if (outcome.Best < 0)
        {
            return double.IsNaN(outcome.Wind)
                ? "No log tells the wind and none was given, so coming home cannot be weighed against climbing; --wind gives your own estimate."
                : outcome.Outcomes.All(o => !o.LaunchHeightM.IsKnown) && !outcome.RoundTrip
                    ? "There was no lift and no launch to compare the options by."
                    : "The wind was faster than any option's polar reaches.";
        }
        OptionOutcome best = outcome.Outcomes[outcome.Best];
        if (outcome.Rival < 0)
        {
            return $"Only {Mass(best)} can be fitted within the airframe's limit or was flown, so there is nothing to compare it with.";
        }
        string conditions = outcome.RoundTrip
            ? Text($"against {outcome.Wind:0.0} m/s of wind and {outcome.Lift.Value:0.0} m/s of lift")
            : "in still air from its own launch height";
        OptionOutcome rival = outcome.Outcomes[outcome.Rival];
        string gain = outcome.RoundTrip
            ? Gain(best.RoundTripMps.Value - rival.RoundTripMps.Value, "0.00", "m/s", "better")
            : Gain(best.StillAirS.Value - rival.StillAirS.Value, "0", "s", "longer aloft");
        string trade = outcome.RoundTrip && rival.Option.MassKg != best.Option.MassKg
            ? best.Option.MassKg > rival.Option.MassKg
                ? Text($" It climbs {Math.Abs(rival.ClimbMps.Value - best.ClimbMps.Value):0.00} m/s slower and comes home {Math.Abs(best.ReturnAirspeedMps - rival.ReturnAirspeedMps):0.0} m/s faster.")
                : Text($" It climbs {Math.Abs(best.ClimbMps.Value - rival.ClimbMps.Value):0.00} m/s faster and comes home {Math.Abs(rival.ReturnAirspeedMps - best.ReturnAirspeedMps):0.0} m/s slower.")
            : "";
        string close = outcome.Verdict == "no_difference" ? " No two options differ by anything that could be felt." : "";
        return $"{Capital(Mass(best))}: {gain} than {Mass(rival)} {conditions}.{trade}{close}";
    }

    /// <summary>What to fly next to tell the options apart.</summary>
    public static string FlyNext(ComparisonOutcome outcome, bool measured)
    {
        if (!measured)
        {
            return "Log satellite positions as well: without them there is no airspeed, and the polars stay a prediction.";
        }
        if (outcome.Best < 0 || outcome.Rival < 0)
        {
            return "Fly two ballasts or more in turn (A-B-B-A), with test glides in opposite pairs.";
        }
        OptionOutcome best = outcome.Outcomes[outcome.Best], rival = outcome.Outcomes[outcome.Rival];
        double low = Math.Min(best.ReturnAirspeedMps, rival.ReturnAirspeedMps), high = Math.Max(best.ReturnAirspeedMps, rival.ReturnAirspeedMps);
        string speeds = double.IsNaN(low) ? "at the speed of least sink" : Text($"at {low:0} to {Math.Max(high, low + 1):0} m/s, the speeds of coming home");
        return outcome.Verdict == "clear"
            ? $"Nothing is needed for this wind and lift. To know another day's answer, fly {Mass(best)} and {Mass(rival)} in other wind."
            : $"Fly {Mass(best)} and {Mass(rival)} in turn (A-B-B-A), with test glides in opposite pairs {speeds}, held for 20 to 30 s each.";
    }

    private static string Mass(OptionOutcome outcome) => outcome.Option.BallastG == 0 ? "no ballast" : Text($"{outcome.Option.BallastG:0.#} g");

    private static string Capital(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private static string Gain(double difference, string format, string unit, string word)
    {
        string shown = difference.ToString(format, CultureInfo.InvariantCulture);
        return double.Parse(shown, CultureInfo.InvariantCulture) == 0 ? $"hardly {word}" : $"{shown} {unit} {word}";
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
