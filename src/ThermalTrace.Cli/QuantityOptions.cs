using System.CommandLine;
using System.Globalization;
using ThermalTrace.Units;

namespace ThermalTrace.Cli;

/// <summary>Options that take a quantity: its unit is read and its range checked while the command line is parsed.</summary>
internal static class QuantityOptions
{
    // Where no length beyond this makes sense, m, people think in millimetres: bounds are told in them, or they may have been meant.
    private const double ToldInMm = 2, MeantInMm = 50;

    /// <summary>An option of one quantity; null where it was not given.</summary>
    /// <param name="name">With its dashes.</param>
    /// <param name="helpName">What stands for the value in the help.</param>
    /// <param name="family">The units.</param>
    /// <param name="least">In the family's first unit.</param>
    /// <param name="most">In the family's first unit.</param>
    /// <param name="about">For the help.</param>
    public static Option<double?> Single(string name, string helpName, UnitFamily family, double least, double most, string about) => new(name)
    {
        HelpName = helpName,
        Description = about,
        CustomParser = result =>
        {
            if (TryRead(name, result.Tokens[0].Value, family, least, most, out double value, out string complaint))
            {
                return value;
            }
            result.AddError(complaint);
            return null;
        },
    };

    /// <summary>An option of one quantity or a range of it, such as 25..35m/s; null where it was not given.</summary>
    /// <param name="name">With its dashes.</param>
    /// <param name="helpName">What stands for the value in the help.</param>
    /// <param name="family">The units.</param>
    /// <param name="least">In the family's first unit.</param>
    /// <param name="most">In the family's first unit.</param>
    /// <param name="about">For the help.</param>
    public static Option<(double Low, double High)?> Range(string name, string helpName, UnitFamily family, double least, double most, string about) => new(name)
    {
        HelpName = helpName,
        Description = about,
        CustomParser = result =>
        {
            string text = result.Tokens[0].Value;
            if (!QuantityText.TryParseRange(text, family, out double low, out double high, out string complaint))
            {
                result.AddError($"{name} {complaint}");
                return null;
            }
            if (OutOfRange(name, text, family, low, high, least, most) is { } outside)
            {
                result.AddError(outside);
                return null;
            }
            return (low, high);
        },
    };

    /// <summary>Reads one of several values.</summary>
    /// <param name="text">What was typed.</param>
    /// <param name="value">The value; default where it cannot be used.</param>
    /// <param name="complaint">Empty where it can.</param>
    public delegate bool TryReadOne<T>(string text, out T? value, out string complaint);

    /// <summary>An option that may be given again and again; its values in the order given, empty where it was not.</summary>
    /// <param name="name">With its dashes.</param>
    /// <param name="helpName">What stands for a value in the help.</param>
    /// <param name="read">Reads one value.</param>
    /// <param name="about">For the help.</param>
    public static Option<IReadOnlyList<T>> Several<T>(string name, string helpName, TryReadOne<T> read, string about) => new(name)
    {
        HelpName = helpName,
        Description = about,
        Arity = ArgumentArity.OneOrMore,
        AllowMultipleArgumentsPerToken = true,
        DefaultValueFactory = _ => [],
        CustomParser = result =>
        {
            List<T> values = [];
            foreach (string text in result.Tokens.Select(t => t.Value))
            {
                if (read(text, out T? value, out string complaint))
                {
                    values.Add(value!);
                }
                else
                {
                    result.AddError(complaint);
                }
            }
            return values;
        },
    };

    /// <summary>Reads a quantity and checks its range.</summary>
    /// <param name="name">The option, for the message.</param>
    /// <param name="text">What was typed.</param>
    /// <param name="family">The units.</param>
    /// <param name="least">In the family's first unit.</param>
    /// <param name="most">In the family's first unit.</param>
    /// <param name="value">In the family's first unit; NaN where it cannot be used.</param>
    /// <param name="complaint">Empty where it can.</param>
    public static bool TryRead(string name, string text, UnitFamily family, double least, double most, out double value, out string complaint)
    {
        if (!QuantityText.TryParse(text, family, out value, out complaint))
        {
            complaint = $"{name} {complaint}";
        }
        else if (OutOfRange(name, text, family, value, value, least, most) is { } outside)
        {
            value = double.NaN;
            complaint = outside;
        }
        return complaint.Length == 0;
    }

    /// <summary>What is wrong with a value, or a range, that is not within bounds; null where it is. All in the family's first unit.</summary>
    public static string? OutOfRange(string name, string text, UnitFamily family, double low, double high, double least, double most)
    {
        if (low >= least && high <= most)
        {
            return null;
        }
        double farthest = family == UnitFamily.Length ? Math.Max(Math.Abs(least), Math.Abs(most)) : double.PositiveInfinity;
        TypedUnit unit = farthest <= ToldInMm ? family.Units.First(u => u.Symbol == "mm") : family.Units[0];
        string Show(double value) => ((value - unit.Offset) / unit.Factor).ToString("0.###", CultureInfo.InvariantCulture);
        return $"{name} {text} is outside {Show(least)} to {Show(most)} {unit.Symbol}" + (farthest <= MeantInMm ? MeantMm(text, least, most) : "");
    }

    /// <summary>A bare length is in metres, which surprises people who build models: says so where millimetres would have fitted.</summary>
    private static string MeantMm(string text, double least, double most) =>
        double.TryParse(text.Trim().Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out double bare) && bare / 1000 >= least && bare / 1000 <= most
        ? $"; {text.Trim()} without a unit is {text.Trim()} m, did you mean {text.Trim()}mm?"
        : "";
}
