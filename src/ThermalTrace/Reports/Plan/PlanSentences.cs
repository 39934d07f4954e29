using System.Globalization;
using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Reports.Plan;

/// <summary>The plan in a pilot's words; terminal, page and document say the same thing the same way.</summary>
internal static class PlanSentences
{
    public const string HeavierCaution = "More mass lands faster and hits harder. Fly the legs upwind of yourself with nobody beneath, and turn into the wind when low.";

    public const string HowToFly = "Hold each speed hands off on one line: out into the wind for the seconds given, turn, and straight back for as long. "
        + "Wings level, flaps as they are. A speed that makes no way against the wind is flown across it, both ways.";

    /// <summary>Whether flying pays, and what is left if not.</summary>
    public static string Why(TestPlan plan, bool worth)
    {
        DecisionOutlook o = plan.Outlooks[0];
        if (o.Decision.Rival < 0)
        {
            return "Only one ballast comes home in this wind, so there is nothing to tell apart.";
        }
        Option best = plan.Options[o.Decision.Options[o.Decision.Best]], rival = plan.Options[o.Decision.Options[o.Decision.Rival]];
        double lead = o.Decision.MeansMps[o.Decision.Best] - o.Decision.MeansMps[o.Decision.Rival];
        string stands = lead < LevelMps
            ? Text($"{Words.Capital(Short(best.BallastG))} and {Short(rival.BallastG)} come out level in {Wind(o.Decision.Scene)}, to ±{Ninety(o.Now.Mps)} m/s (9 times in 10).")
            : Text($"{Words.Capital(Short(best.BallastG))} leads {Short(rival.BallastG)} by {lead:0.00} m/s in {Wind(o.Decision.Scene)}, known to ±{Ninety(o.Now.Mps)} (9 times in 10).");
        if (!worth)
        {
            return stands + (o.Verdict switch
            {
                "clear" => " That is clear already: more test glides will not change the choice.",
                "no_difference" => " Nobody could feel the difference: more test glides will not make it matter.",
                _ when o.Now.DragMps < o.Now.RestMps => " What is left open is mostly how lift is found and worked, which test glides do not show: fly as you like and log it.",
                _ => Text($" Choosing now gives away {o.LossNowMps:0.000} m/s on average for not knowing the drag, and these flights would save little of that: more test glides will not settle it."),
            });
        }
        return stands + Text($" Drag leaves ±{Ninety(o.Now.DragMps)} of that open, and test glides narrow it; the rest is how lift is found and worked.");
    }

    private const int MostShown = 3;
    private const double LevelMps = 0.005; // would be printed as nought

    /// <summary>What to expect: of the decisions that are open, the first few; then where the choice is made.</summary>
    public static IReadOnlyList<string> Expectations(PlanDocument plan)
    {
        PlanDecisionEntry[] shown = [.. plan.Decisions.Where((d, i) => d.RivalBallastG is not null && (i == 0 || d.Verdict == "leaning")).Take(MostShown)];
        List<string> said = [.. shown.Select(Expect)];
        PlanDecisionEntry[] rest = [.. plan.Decisions.Except(shown).Where(d => d.Verdict == "clear").OrderBy(d => d.WindMpsLow)];
        List<string> runs = [];
        for (int i = 0; i < rest.Length;)
        {
            int end = i + 1;
            while (end < rest.Length && rest[end].BestBallastG == rest[i].BestBallastG && rest[end].WindMpsLow <= rest[end - 1].WindMpsHigh)
            {
                end++;
            }
            runs.Add($"{Short(rest[i].BestBallastG)} in {Wind(rest[i].WindMpsLow, rest[end - 1].WindMpsHigh)}");
            i = end;
        }
        if (runs.Count > 0)
        {
            said.Add("Clear already: " + string.Join(", ", runs) + ".");
        }
        return said;
    }

    /// <summary>What to expect, for a decision.</summary>
    public static string Expect(PlanDecisionEntry d) => d.RivalBallastG is null ? ""
        : Text($"{Words.Capital(Wind(d.WindMpsLow, d.WindMpsHigh))}, {Short(d.BestBallastG)} against {Short(d.RivalBallastG.Value)} (now {VerdictNow(d.Verdict)}): ")
        + Narrowing(d)
        + Text($"what glides cannot show stays ±{Ninety(d.SpreadNotByGlidesMps)}. ")
        + $"Chance that the answer is {(d.Verdict == "clear" ? "still clear" : "clear")} then: {Words.Percent(d.ChanceClear)}; that nobody could feel a difference: {Words.Percent(d.ChanceNoDifference)}.";

    private static string Narrowing(PlanDecisionEntry d)
    {
        string now = Ninety(d.SpreadByDragMps), then = Ninety(d.SpreadByDragAfterMps), good = Ninety(d.SpreadByDragAfterMpsLow), bad = Ninety(d.SpreadByDragAfterMpsHigh);
        return now == good ? $"what drag leaves open of the lead stays ±{now} m/s, however good the day; "
            : now == then ? $"what drag leaves open of the lead stays about ±{now} m/s, ±{good} on a good day; "
            : good == bad ? $"what drag leaves open of the lead falls from ±{now} to ±{then} m/s; "
            : $"what drag leaves open of the lead falls from ±{now} to ±{then} m/s, ±{good} on a good day and ±{bad} on a bad one; ";
    }

    /// <summary>By how much a plan narrows what drag leaves open of the first lead.</summary>
    public static string Narrows(PlanDocument plan, PlanStepEntry step) => plan.Growth[0].SpreadByDragMps is > 0 and double now
        ? Text($"{100 * (1 - step.SpreadByDragMps / now):0.0} %")
        : "-";

    private static string VerdictNow(string verdict) => verdict switch
    {
        "clear" => "clear",
        "no_difference" => "no difference to feel",
        _ => "leaning",
    };

    public static IReadOnlyList<string> Assumptions(TestPlan plan, SeasonModel model)
    {
        List<string> said =
        [
            plan.Worth.Sessions > 0
                ? Text($"Weather, logger and hand as on the {(plan.Worth.Sessions == 1 ? "one past day that tells" : $"{plan.Worth.Sessions} past days that tell")} how much a glide is worth: {plan.Worth.Factor:0.0} times the usual, on one day in ten outside {plan.Worth.Factor * Math.Exp(-1.6449 * plan.Worth.LogSpread):0.0} to {plan.Worth.Factor * Math.Exp(1.6449 * plan.Worth.LogSpread):0.0} times.")
                : "No day is logged yet: how much a glide is worth is taken from what is usual and may be off by a factor of three.",
            plan.LaunchSeen ? Text($"Launches to {plan.LaunchHeightM:0} m, as logged.") : Text($"Launches to {plan.LaunchHeightM:0} m, which is usual for this kind of launch; none is logged yet."),
            "Every leg straight and at its speed. What a day has in common (dew, the logger, the wind's error) is counted once a day, however many flights.",
        ];
        if (!plan.SeasonSeen && model.Sessions.Count == 0)
        {
            said.Add("Wind and lift that were not asked for are those in which models are usually flown.");
        }
        return said;
    }

    /// <summary>A speed as one trims for it.</summary>
    public static string Trim(double airspeedMps, double leastSinkMps, double bestGlideMps) =>
        airspeedMps < 0.97 * leastSinkMps ? "just above the stall"
        : airspeedMps < (leastSinkMps + bestGlideMps) / 2 ? "least sink"
        : airspeedMps < 1.12 * bestGlideMps ? "best glide"
        : airspeedMps < 1.45 * bestGlideMps ? "fast"
        : "very fast";

    /// <summary>"none" or "35 g".</summary>
    public static string Short(double ballastG) => ballastG == 0 ? "none" : Text($"{ballastG:0.#} g");

    /// <summary>How many flights, how long, the ballasts in turn.</summary>
    public static string Headline(PlanDocument plan)
    {
        int days = plan.Flights.Select(f => f.Session).Distinct().Count();
        return (plan.WorthFlying ? "" : "If you fly test glides all the same, ") + $"{Words.Plural(plan.Flights.Count, "flight")}{(days > 1 ? $" on {Words.Plural(days, "day")}" : "")}, "
            + Text($"about {plan.Minutes:0} minutes: ") + string.Join(", ", plan.Flights.Select(f => Short(f.BallastG)));
    }

    /// <summary>A flight's pairs of legs, those alike together.</summary>
    public static IReadOnlyList<string> Pairs(PlanFlightEntry flight) =>
        [.. flight.Pairs.GroupBy(p => p).Select(g => (g.Count() > 1 ? Text($"{g.Count()} x ") : "") + Text($"{g.Key.AirspeedMps:0.#} m/s for {g.Key.SecondsEach:0} s ({g.Key.Trim})"))];

    public static string Wind(double low, double high) => low == high ? Text($"{low:0.#} m/s of wind") : Text($"{low:0.#} to {high:0.#} m/s of wind");

    private static string Wind(PlanScene scene) => Wind(scene.WindMps.Low, scene.WindMps.High);

    /// <summary>Half a 90 % interval. In thousandths where it is small: plans are told apart by them, though nobody feels one.</summary>
    public static string Ninety(double spreadMps) => (1.6449 * spreadMps).ToString(1.6449 * spreadMps < 0.1 ? "0.000" : "0.00", CultureInfo.InvariantCulture);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
