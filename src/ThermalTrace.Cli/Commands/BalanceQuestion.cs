using System.CommandLine;
using System.Globalization;
using ThermalTrace.Ballast;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary>The options of <c>balance</c> that say what was measured.</summary>
internal sealed class BalanceQuestion
{
    // Wide enough for the worked examples that handbooks of full-size aircraft print.
    private const double MostReadingG = 2_000_000, FarthestSupportM = 5;
    private const double FarthestM = 2, MostErrorM = 0.02, MostScaleErrorG = 1000, MostBallastG = 50_000;
    private const int UsualSwings = 10, MostSwings = 1000;

    private readonly Option<IReadOnlyList<SupportReading>> _readings = QuantityOptions.Several<SupportReading>("--reading", "MASS@PLACE", TryReading,
        "What a scale or wheel showed, and where the model stood on it, aft of the wing root's leading edge: 152.3g@42mm. Two or more.");
    private readonly Option<double?> _scaleError = QuantityOptions.Single(new("--scale-error", UnitFamily.Mass, 0, MostScaleErrorG), "G",
        $"Of each reading; if not given {Text(UsualErrors.ScaleG)}g, or the reading's last digit where that is coarser.");
    private readonly Option<double?> _placeError = Error("--place-error", UsualErrors.PlaceMm / 1000, "Of each support's place, and of the ballast's");
    private readonly Option<double?> _balanceAt = QuantityOptions.Single(new("--balance-at", UnitFamily.Length, -FarthestM, FarthestM), "PLACE", "In place of readings: where the model balances, such as 71mm.");
    private readonly Option<double?> _balanceError = Error("--balance-error", UsualErrors.BalanceMm / 1000, "Of that place");
    private readonly Option<double?> _ballast = QuantityOptions.Single(new("--ballast", UnitFamily.Mass, 0, MostBallastG), "G", "Ballast that was in while measuring.");
    private readonly Option<double?> _ballastAt = QuantityOptions.Single(new("--ballast-at", UnitFamily.Length, -FarthestM, FarthestM), "PLACE", "Where its middle lay; the model without it is then reckoned back.");
    private readonly Option<IReadOnlyList<SwingTiming>> _swing = QuantityOptions.Several<SwingTiming>("--swing", "TIME", TryTiming,
        $"Time of {UsualSwings} swings on two strings, there and back again, such as 12.1s; again for each timing.");
    private readonly Option<int?> _swings = new("--swings")
    {
        HelpName = "N",
        Description = $"Swings in each timing, if not {UsualSwings}.",
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (int.TryParse(text, CultureInfo.InvariantCulture, out int count) && count is >= 1 and <= MostSwings)
            {
                return count;
            }
            result.AddError($"--swings \"{text}\" is not possible; expected a whole number from 1 to {MostSwings}");
            return null;
        },
    };
    private readonly Option<double?> _string = QuantityOptions.Single(new("--string", UnitFamily.Length, 0.05, 20), "LENGTH", "Length of each string, such as 1m.");
    private readonly Option<double?> _spacing = QuantityOptions.Single(new("--spacing", UnitFamily.Length, 0.02, 5), "LENGTH", "Distance between the strings, such as 40cm.");
    private readonly Option<double?> _stringError = Error("--string-error", UsualErrors.StringM, "Of the strings' length");
    private readonly Option<double?> _spacingError = Error("--spacing-error", UsualErrors.StringM, "Of the distance between them");

    /// <summary>Adds them to the command.</summary>
    public BalanceQuestion(Command command)
    {
        foreach (Option option in (Option[])[_readings, _scaleError, _placeError, _balanceAt, _balanceError, _ballast, _ballastAt, _swing, _swings, _string, _spacing, _stringError, _spacingError])
        {
            command.Options.Add(option);
        }
    }

    /// <summary>What was measured.</summary>
    /// <exception cref="WrongUsageException">Something is missing or does not go together.</exception>
    public BalanceAsked Of(ParseResult parsed)
    {
        IReadOnlyList<SwingTiming> timings = parsed.GetValue(_swing) ?? [];
        double? length = parsed.GetValue(_string), spacing = parsed.GetValue(_spacing);
        bool swung = timings.Count > 0;
        string? wrong = swung && (length is null || spacing is null)
                ? $"--swing is missing its {(length is null ? spacing is null ? "--string and --spacing" : "--string" : "--spacing")}; give the strings' length and the distance between them, such as --string 1m --spacing 40cm"
            : !swung && ((Option[])[_string, _spacing, _swings, _stringError, _spacingError]).FirstOrDefault(o => parsed.GetResult(o) is { Implicit: false }) is { } alone
                ? $"{alone.Name} goes with --swing, the time of {UsualSwings} swings on the strings"
            : parsed.GetValue(_balanceError) is not null && parsed.GetValue(_balanceAt) is null ? "--balance-error goes with --balance-at; the error of a support's place is --place-error"
            : null;
        BalanceAsked asked = new()
        {
            Readings = parsed.GetValue(_readings) ?? [],
            ScaleErrorG = parsed.GetValue(_scaleError),
            PlaceErrorMm = 1000 * parsed.GetValue(_placeError),
            BalanceAtMm = 1000 * parsed.GetValue(_balanceAt),
            BalanceErrorMm = 1000 * parsed.GetValue(_balanceError),
            BallastG = parsed.GetValue(_ballast) ?? 0,
            BallastAtMm = 1000 * parsed.GetValue(_ballastAt),
            Swing = swung && wrong is null
                ? new SwingAsked(timings, parsed.GetValue(_swings) ?? UsualSwings, length!.Value, spacing!.Value, parsed.GetValue(_stringError), parsed.GetValue(_spacingError))
                : null,
        };
        return (wrong ?? asked.Complaint()) is { } complaint ? throw new WrongUsageException(complaint) : asked;
    }

    private static bool TryReading(string text, out SupportReading? reading, out string complaint)
    {
        reading = null;
        int at = text.IndexOf('@', StringComparison.Ordinal);
        if (at < 0)
        {
            complaint = $"--reading \"{text}\" has no place; expected MASS@PLACE, such as 152.3g@42mm";
            return false;
        }
        string mass = text[..at], place = text[(at + 1)..];
        if (AskedText.TryRead($"--reading {text}:", mass, UnitFamily.Mass, 0, MostReadingG, out double grams, out complaint)
            && AskedText.TryRead($"--reading {text}:", place, UnitFamily.Length, -FarthestSupportM, FarthestSupportM, out double metres, out complaint))
        {
            reading = new SupportReading(grams, 1000 * metres, QuantityText.LastDigit(mass, UnitFamily.Mass));
        }
        return reading is not null;
    }

    private static bool TryTiming(string text, out SwingTiming? timing, out string complaint)
    {
        timing = AskedText.TryRead("--swing", text, UnitFamily.Time, 0.1, 600, out double seconds, out complaint)
            ? new SwingTiming(seconds, QuantityText.LastDigit(text, UnitFamily.Time))
            : null;
        return timing is not null;
    }

    private static Option<double?> Error(string name, double usualM, string of) =>
        QuantityOptions.Single(new(name, UnitFamily.Length, 0, MostErrorM), "LENGTH", $"{of} ({Text(1000 * usualM)}mm if not given).");

    private static string Text(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
