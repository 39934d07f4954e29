using System.Globalization;
using System.Reflection;

namespace ThermalTrace.Calibration;

/// <summary>
/// Results as rows of text, one a session, written as they are done so that a long run can be taken up again: columns are
/// the properties' names, a list's values stand in one field with blanks between, a value that is not known is empty.
/// </summary>
public static class ResultRows
{
    private static readonly PropertyInfo[] OfScore = Stored(typeof(Score)), OfBound = Stored(typeof(Bound)), OfRanks = Stored(typeof(Ranks));

    /// <summary>The columns' names.</summary>
    public static string Header { get; } = string.Join(',', (string[])["Kind", "Seed", "Flights",
        .. OfScore.Select(p => p.Name), .. OfBound.Select(p => "Bound" + p.Name), .. OfRanks.Select(p => "Rank" + p.Name)]);

    /// <summary>One session's row.</summary>
    public static string Write(SessionResult result) => string.Join(',', (string[])[result.Kind, Text(result.Seed), Text(result.Flights),
        .. OfScore.Select(p => Text(p.GetValue(result.Score))), .. OfBound.Select(p => Text(p.GetValue(result.Bound))), .. OfRanks.Select(p => Text(p.GetValue(result.Ranks)))]);

    /// <summary>Rows of a file with its header; a last row cut short by a run that was ended is left out.</summary>
    /// <exception cref="FormatException">The header is another program's or another version's.</exception>
    public static IReadOnlyList<SessionResult> Read(TextReader file, string name)
    {
        if (file.ReadLine() is not { } header || header != Header)
        {
            throw new FormatException($"{name}:1: the columns are not those of this version's results; make the file anew with --csv");
        }
        List<SessionResult> results = [];
        int width = Header.Count(c => c == ',') + 1;
        while (file.ReadLine() is { } line)
        {
            string[] fields = line.Split(',');
            if (fields.Length == width)
            {
                int bound = 3 + OfScore.Length, ranks = bound + OfBound.Length;
                results.Add(new SessionResult(fields[0], long.Parse(fields[1], CultureInfo.InvariantCulture), int.Parse(fields[2], CultureInfo.InvariantCulture),
                    Filled<Score>(OfScore, fields[3..bound]), Filled<Bound>(OfBound, fields[bound..ranks]), Filled<Ranks>(OfRanks, fields[ranks..])));
            }
        }
        return results;
    }

    private static PropertyInfo[] Stored(Type type) => [.. type.GetProperties(BindingFlags.Public | BindingFlags.Instance).Where(p => p.CanWrite)];

    private static string Text(object? value) => value switch
    {
        double.NaN => "",
        double number => number.ToString("R", CultureInfo.InvariantCulture),
        IReadOnlyList<double> list => string.Join(' ', list.Select(v => v.ToString("R", CultureInfo.InvariantCulture))),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture)!,
    };

    private static T Filled<T>(PropertyInfo[] properties, string[] fields)
    {
        T record = (T)System.Runtime.CompilerServices.RuntimeHelpers.GetUninitializedObject(typeof(T));
        for (int i = 0; i < properties.Length; i++)
        {
            Type type = properties[i].PropertyType;
            string text = fields[i];
            properties[i].SetValue(record,
                type == typeof(double) ? (text.Length == 0 ? double.NaN : double.Parse(text, CultureInfo.InvariantCulture))
                : type == typeof(int) ? int.Parse(text, CultureInfo.InvariantCulture)
                : type == typeof(string) ? text
                : (double[])[.. text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(v => double.Parse(v, CultureInfo.InvariantCulture))]);
        }
        return record;
    }
}
