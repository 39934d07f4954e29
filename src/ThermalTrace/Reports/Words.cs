using System.Globalization;
using System.Text;

namespace ThermalTrace.Reports;

/// <summary>The document's keys in a pilot's words; the report and the terminal say the same thing the same way.</summary>
internal static class Words
{
    public const string NetClimb = "Net climb after coming home";
    public const string TimeAloft = "Time aloft in still air";

    public static bool ByClimb(ComparisonEntry comparison) => comparison.Measure == "round_trip_climb";

    /// <summary>The measure that the options are ranked by.</summary>
    public static Interval Measured(ComparisonEntry comparison, OptionEntry option) =>
        ByClimb(comparison) ? option.RoundTripClimbMps : option.StillAirTimeS;

    public static string MeasureName(ComparisonEntry comparison) => ByClimb(comparison) ? NetClimb : TimeAloft;

    public static string MeasureUnit(ComparisonEntry comparison) => ByClimb(comparison) ? "m/s" : "s";

    /// <summary>"30 g", as a label.</summary>
    public static string Grams(double massG) => Estimate.Number(massG, massG % 1 == 0 ? 0 : 1) + " g";

    /// <summary>"30 g of ballast" or "no ballast", inside a sentence.</summary>
    public static string Ballast(double ballastG) => ballastG == 0 ? "no ballast" : Grams(ballastG) + " of ballast";

    public static string Support(string support) => support switch
    {
        "measured" => "its own flights",
        "interpolated" => "flights either side",
        "extrapolated" => "flights of other weights",
        "predicted" => "prediction",
        _ => support,
    };

    public static string Phase(string kind) => kind switch
    {
        "ground" => "on the ground",
        "launch" => "launch",
        "glide" => "glide",
        "climb" => "climb",
        "landing" => "landing",
        _ => kind,
    };

    /// <summary>The eddy dissipation rate's cube root in words; over grass at 30 m it is about 0.15 in 5 m/s of wind and 0.25 in 8 m/s.</summary>
    public static string Turbulence(double edr) => edr switch
    {
        < 0.08 => "smooth",
        < 0.18 => "light",
        < 0.30 => "bumpy",
        _ => "rough",
    };

    /// <summary>The answer in one sentence.</summary>
    public static string Answer(ComparisonEntry comparison)
    {
        if (comparison.Options.Count == 0)
        {
            return "No ballast is known for any flight, so there is nothing to compare.";
        }

        OptionEntry? best = Best(comparison);
        if (comparison.Options.Count == 1)
        {
            return $"There is only one choice, {Ballast(comparison.Options[0].BallastG)}, so there is nothing to compare.";
        }

        if (best is null || comparison.Verdict == "unknown")
        {
            return "This session cannot tell which ballast is best.";
        }

        string name = Ballast(best.BallastG);
        bool flown = best.Flown.Flights > 0 && best.Support != "predicted";
        // Best on average need not be the likeliest to be best: "probably" is said only of better than even chances.
        bool likely = best.ProbabilityBest is >= 0.5;
        string perhaps = likely ? "probably flew" : "may have flown";
        if (best.BallastG == 0 && comparison.Verdict is ("clear" or "leaning"))
        {
            // "No ballast flew best" would say that none of them did.
            return (comparison.Verdict, flown) switch
            {
                ("clear", true) => "The model flew best without ballast.",
                ("clear", false) => "The model would have flown best without ballast.",
                (_, true) => $"The model {perhaps} best without ballast.",
                _ => $"The model would {(likely ? "probably" : "perhaps")} have flown best without ballast.",
            };
        }
        return comparison.Verdict switch
        {
            "clear" => Capital(flown ? $"{name} flew best." : $"{name} would have flown best."),
            "leaning" => Capital(flown ? $"{name} {perhaps} best." : $"{name} would {(likely ? "probably" : "perhaps")} have flown best."),
            _ => "No difference between the ballasts could be shown.",
        };
    }

    /// <summary>What to fit in air that was asked about, in one sentence.</summary>
    public static string Suggested(ComparisonEntry comparison)
    {
        OptionEntry? best = Best(comparison);
        if (best is null || comparison.Verdict == "unknown")
        {
            return "For this air no ballast can be told.";
        }

        string fit = best.BallastG == 0 ? "fly without ballast" : "fit " + Grams(best.BallastG);
        string odds = best.ProbabilityBest is { } p && double.IsFinite(p) && comparison.Options.Count > 1
            ? $": {Odds(p)} that it is the best of the {Count(comparison.Options.Count)}"
            : "";
        return comparison.Verdict switch
        {
            "clear" => $"{Capital(fit)}. This is clear.",
            "leaning" => $"{Capital(fit)}, probably{odds}.",
            _ => $"It hardly matters; on paper, {fit}{odds}.",
        };
    }

    /// <summary>How sure that is, in plain words.</summary>
    public static string Certainty(ComparisonEntry comparison)
    {
        OptionEntry? best = Best(comparison);
        string odds = best?.ProbabilityBest is { } p && double.IsFinite(p)
            ? $"{Odds(p)} that it is the best of the {Count(comparison.Options.Count)}"
            : "";
        string caution = best?.Support switch
        {
            "predicted" => " It rests on the prediction alone: nothing flown could check it.",
            "extrapolated" => " That weight lies beyond any that was flown.",
            "interpolated" => " That weight was not flown; it lies between weights that were.",
            _ => "",
        };
        if (comparison.Options.Count < 2 || best is null)
        {
            return "";
        }

        return comparison.Verdict switch
        {
            "clear" => "This is clear: better than 9 chances in 10 that it is the best choice, or so close to it that nobody could feel the difference." + caution,
            "leaning" => $"This leans one way and is not settled{(odds.Length > 0 ? ": " + odds : "")}." + caution,
            "no_difference" => "No two choices can be told apart by more than a pilot could feel. "
                + Capital(Ballast(best.BallastG)) + $" is ahead on paper{(odds.Length > 0 ? ", with " + odds : "")}." + caution,
            _ => "",
        };
    }

    public static OptionEntry? Best(ComparisonEntry comparison) =>
        comparison.BestBallastG is { } mass ? comparison.Options.FirstOrDefault(o => o.BallastG == mass) : null;

    /// <summary>"7 chances in 10"; the ends are never called certain.</summary>
    public static string Odds(double probability) => probability switch
    {
        >= 0.985 => "better than 98 chances in 100",
        < 0.05 => "less than 1 chance in 20",
        _ => Math.Round(10 * probability) switch
        {
            <= 1 => "about 1 chance in 10",
            >= 10 => "more than 9 chances in 10",
            double tenths => $"about {tenths.ToString(CultureInfo.InvariantCulture)} chances in 10",
        },
    };

    /// <summary>A share as whole per cent, never 0 or 100.</summary>
    public static string Percent(double share) => share switch
    {
        < 0.01 => "<1 %",
        > 0.99 => ">99 %",
        _ => Math.Round(100 * share).ToString(CultureInfo.InvariantCulture) + " %",
    };

    /// <summary>"4 min 12 s".</summary>
    public static string Duration(double seconds)
    {
        long whole = (long)Math.Round(seconds);
        return whole < 60
            ? string.Create(CultureInfo.InvariantCulture, $"{whole} s")
            : string.Create(CultureInfo.InvariantCulture, $"{whole / 60} min {whole % 60:00} s");
    }

    public static string Plural(int count, string one, string? many = null) =>
        string.Create(CultureInfo.InvariantCulture, $"{count} {(count == 1 ? one : many ?? one + "s")}");

    public static string Capital(string sentence)
    {
        return sentence.Length == 0 ? sentence : char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }

    /// <summary>Untrusted text for a terminal or an attribute: control and direction characters become a space or vanish.</summary>
    public static string Tame(string text)
    {
        var tame = new StringBuilder(text.Length);
        foreach (Rune rune in text.EnumerateRunes())
        {
            switch (Rune.GetUnicodeCategory(rune))
            {
                case UnicodeCategory.Control or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator:
                    tame.Append(' ');
                    break;
                case UnicodeCategory.Format or UnicodeCategory.Surrogate:
                    break;
                default:
                    tame.Append(rune);
                    break;
            }
        }

        return tame.ToString();
    }

    private static string Count(int count) => count switch
    {
        2 => "two",
        3 => "three",
        4 => "four",
        5 => "five",
        6 => "six",
        _ => count.ToString(CultureInfo.InvariantCulture),
    };
}
