using System.CommandLine;
using ThermalTrace.Advice;

namespace ThermalTrace.Cli;

/// <summary>Options that take a quantity: its unit is read and its range checked while the command line is parsed.</summary>
internal static class QuantityOptions
{
    /// <summary>An option of one quantity; null where it was not given.</summary>
    /// <param name="asked">Name, with its dashes, units and bounds.</param>
    /// <param name="helpName">What stands for the value in the help.</param>
    /// <param name="about">For the help.</param>
    public static Option<double?> Single(AskedQuantity asked, string helpName, string about) => Read<double?>(asked.Name, helpName, about,
        (string text, out double? value, out string complaint) =>
        {
            bool read = asked.TryRead(text, out double number, out complaint);
            value = read ? number : null;
            return read;
        });

    /// <summary>An option of one quantity or a range of it, such as 25..35m/s; null where it was not given.</summary>
    /// <param name="asked">Name, with its dashes, units and bounds.</param>
    /// <param name="helpName">What stands for the value in the help.</param>
    /// <param name="about">For the help.</param>
    public static Option<(double Low, double High)?> Range(AskedQuantity asked, string helpName, string about) => Read<(double, double)?>(asked.Name, helpName, about,
        (string text, out (double, double)? value, out string complaint) =>
        {
            bool read = asked.TryReadRange(text, out (double, double) range, out complaint);
            value = read ? range : null;
            return read;
        });

    /// <summary>An option of a condition of the day, as a figure, a range or a word; null where it was not given.</summary>
    /// <param name="asked">Name, with its dashes, units, bounds and words.</param>
    /// <param name="helpName">What stands for the value in the help.</param>
    /// <param name="about">For the help.</param>
    public static Option<AskedRange?> Condition(AskedCondition asked, string helpName, string about) => Read<AskedRange?>(asked.Quantity.Name, helpName, about,
        (string text, out AskedRange? value, out string complaint) =>
        {
            bool read = asked.TryRead(text, out AskedRange range, out complaint);
            value = read ? range : null;
            return read;
        });

    /// <summary>An option of one value; the type's default where it was not given.</summary>
    /// <param name="name">With its dashes.</param>
    /// <param name="helpName">What stands for the value in the help.</param>
    /// <param name="about">For the help.</param>
    /// <param name="read">Reads it.</param>
    public static Option<T?> Read<T>(string name, string helpName, string about, TryReadOne<T> read) => new(name)
    {
        HelpName = helpName,
        Description = about,
        CustomParser = result =>
        {
            if (read(result.Tokens[0].Value, out T? value, out string complaint))
            {
                return value;
            }
            result.AddError(complaint);
            return default;
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
}
