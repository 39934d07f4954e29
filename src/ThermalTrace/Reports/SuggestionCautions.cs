using System.Globalization;
using ThermalTrace.Advice;
using ThermalTrace.Learning;

namespace ThermalTrace.Reports;

/// <summary>What a pilot should mind, and what the answer could not know; each once.</summary>
internal static class SuggestionCautions
{
    private const int EnoughClimbs = 5;

    /// <summary>What to mind.</summary>
    public static IReadOnlyList<string> Of(SeasonModel model, Advised advised)
    {
        List<string> cautions = [];
        double bareKg = model.Airframe.UnballastedMassG / 1000;
        if (advised.Comparison.Best >= 0 && advised.Options[advised.Comparison.Best].Choice.Option is { BallastG: > 0 } best)
        {
            cautions.Add(Text($"More mass lands faster and hits harder: {SuggestionSentences.Grams(best.BallastG)} lands {100 * (Math.Sqrt(best.MassKg / bareKg) - 1):0} % faster than none, with {100 * (best.MassKg * best.MassKg / (bareKg * bareKg) - 1):0} % more energy."));
        }
        else
        {
            cautions.Add("More mass lands faster and hits harder.");
        }
        cautions.Add("Beyond the height to come home, land out. No low turns downwind.");
        string[] heavy = [.. advised.Choices.All.Where(c => c.Refusal == Refusal.Mass).Select(c => SuggestionSentences.Grams(c.Option.BallastG))];
        cautions.Add(model.Airframe.MaxFlyingMassG is { } limit
            ? Text($"Nothing above {limit:0.#} g of flying mass is suggested{(heavy.Length > 0 ? $" ({string.Join(", ", heavy)} would be)" : "")}; the maker's limits and the rules of the place stand above this advice.")
            : "airframe.json gives no max_flying_mass_g: nothing heavier than what it lists or what was flown is suggested. Look up the maker's limit; it and the rules of the place stand above this advice.");
        string[] off = [.. advised.Choices.All.Where(c => c.Refusal == Refusal.Balance).Select(c => SuggestionSentences.Grams(c.Option.BallastG))];
        if (off.Length > 0)
        {
            string[] fitted = [.. off.Where(g => g != "none")];
            string bare = fitted.Length == off.Length ? "" : "Without ballast the centre of gravity is outside its limits: not suggested.";
            cautions.Add((fitted.Length > 0 ? $"No place in the tube keeps the centre of gravity within its limits with {string.Join(", ", fitted)}: not suggested. " : "") + bare);
            cautions[^1] = cautions[^1].TrimEnd();
        }
        else if (!advised.Choices.BalanceKnown)
        {
            cautions.Add("The centre of gravity was not checked: that takes cg_mm, cg_limits_mm and ballast_tube in airframe.json.");
        }
        if (!advised.Choices.FitKnown)
        {
            cautions.Add("airframe.json has no ballast_tube: whether the pieces of the masses in between fit was not checked.");
        }
        string[] elsewhere = [.. advised.Options.Where(o => o.Rests.FlownInOtherAir).Select(FlownIn)];
        if (elsewhere.Length > 0)
        {
            cautions.Add($"Flown only in other air, so that what is said of it here rests on physics: {string.Join("; ", elsewhere)}.");
        }
        return cautions;
    }

    /// <summary>What was not known, and what was taken instead.</summary>
    public static IReadOnlyList<string> Limits(SeasonModel model, Advised advised)
    {
        List<string> limits = [];
        AskedConditions asked = advised.Asked;
        if (model.Sessions.Count == 0)
        {
            limits.Add("Nothing is known of this model's flights: the answer rests on its geometry alone.");
        }
        else if (advised.Support == "predicted")
        {
            limits.Add("In air like this too little was flown with these ballasts: the answer rests on physics, tuned by other flights.");
        }
        if (advised.Air.Lifted && model.Sessions.Sum(s => s.Evidence.Climbs.Count) < EnoughClimbs)
        {
            limits.Add("How wide lift is and what centring loses are usual values: too few climbs are known.");
        }
        if (asked.Edr is null)
        {
            limits.Add(Text($"Turbulence was taken from the wind over {asked.Ground.ToString().ToLowerInvariant()}, {SurfaceWind.FlyingHeightM:0} m up; thermals add to it. --turbulence sets it."));
        }
        if (asked.WindHeightM is { } height && advised.Field is { } field)
        {
            limits.Add(Text($"The wind at {SurfaceWind.FlyingHeightM:0} m was taken as {Math.Exp(field.LogRatio):0.0} times the reading at {height:0.#} m ({Math.Exp(field.LogRatio - 1.645 * field.Spread):0.0} to {Math.Exp(field.LogRatio + 1.645 * field.Spread):0.0})")
                + (field.Readings > 0 ? $", by {Words.Plural(field.Readings, "reading")} at this field." : asked.Field is null ? ", by the logarithmic law." : ", by the logarithmic law: no earlier reading at this field is known."));
        }
        if (advised.Launch.UsualM is { } usual)
        {
            limits.Add(Text($"No launch of this model is known: {usual:0} m was taken as usual, half or twice that being likely too; --from-height sets it."));
        }
        if (asked.TimeS is not null)
        {
            limits.Add(advised.Met.Climbs < EnoughClimbs
                ? "How often lift is met is a guess, about three times in two kilometres of air: too few climbs are known."
                : Text($"Lift is taken to be met as in the logbook: {Words.Plural(advised.Met.Climbs, "climb")} in {advised.Met.WayKm:0.#} km of air."));
        }
        return limits;
    }

    private static string FlownIn(OptionAdvice option)
    {
        string wind = option.Rests.FlownWindMps is { } w ? $"wind {Range(w, "0.#")} m/s" : "wind not known";
        string turbulence = option.Rests.FlownEdr is { } e ? $", turbulence {Range(e, "0.00")}" : "";
        return $"{SuggestionSentences.Grams(option.Choice.Option.BallastG)} ({wind}{turbulence})";
    }

    private static string Range(AskedRange range, string format)
    {
        string low = range.Low.ToString(format, CultureInfo.InvariantCulture), high = range.High.ToString(format, CultureInfo.InvariantCulture);
        return low == high ? low : $"{low} to {high}";
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
