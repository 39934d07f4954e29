using System.Globalization;
using System.Text.Json;

namespace ThermalTrace.Sessions;

/// <summary>
/// The members of one object in a hand-edited file, read by name: what is asked for is known, and what is left over at the
/// end is a mistake that gets the nearest known name.
/// </summary>
/// <param name="value">The object.</param>
/// <param name="where">How messages say which object it is, such as "ballast_tube"; empty for the whole file.</param>
/// <param name="complaints">Where to put what is wrong.</param>
internal sealed class JsonFields(CommentedJson value, string where, Complaints complaints)
{
    private readonly List<string> _known = [];

    /// <summary>The member, or null where it is not there. A null in the file is a blank that was not filled in.</summary>
    public CommentedJson? Find(string key, bool required, string expected)
    {
        _known.Add(key);
        foreach ((string name, int line, CommentedJson member) in value.Members)
        {
            if (name != key)
            {
                continue;
            }
            if (member.Kind != JsonTokenType.Null)
            {
                return member;
            }
            complaints.Add(line, required
                ? $"{Path(key)} is not filled in yet; expected {expected}"
                : $"{Path(key)} is null; expected {expected}, or take the line out");
            return null;
        }
        if (required)
        {
            complaints.Add(value.Line, $"{(where.Length > 0 ? where + " has" : "there is")} no \"{key}\"; expected {expected}");
        }
        return null;
    }

    /// <summary>A number within bounds; null (with a complaint) where it is none.</summary>
    public double? Number(string key, bool required, double least, double most, string unit)
    {
        string expected = string.Create(CultureInfo.InvariantCulture, $"a number from {least} to {most}{(unit.Length > 0 ? " " + unit : "")}");
        return Find(key, required, expected) is { } found ? NumberOf(found, Path(key), least, most, expected) : null;
    }

    /// <summary>A list of numbers within bounds; empty where it is not there.</summary>
    public IReadOnlyList<double> Numbers(string key, double least, double most, string unit)
    {
        string expected = string.Create(CultureInfo.InvariantCulture, $"a list such as [0, 30, 60] of numbers from {least} to {most} {unit}");
        if (Find(key, required: false, expected) is not { } found)
        {
            return [];
        }
        if (found.Kind != JsonTokenType.StartArray)
        {
            complaints.Add(found.Line, $"{Path(key)} is {found.Described}; expected {expected}");
            return [];
        }
        List<double> numbers = [];
        foreach (CommentedJson item in found.Items)
        {
            if (NumberOf(item, Path(key), least, most, expected) is { } number)
            {
                numbers.Add(number);
            }
        }
        return numbers;
    }

    /// <summary>Text that is not blank.</summary>
    public string? Text(string key, bool required, string expected)
    {
        if (Find(key, required, expected) is not { } found)
        {
            return null;
        }
        if (found.Kind == JsonTokenType.String && !string.IsNullOrWhiteSpace(found.Text))
        {
            return found.Text.Trim();
        }
        complaints.Add(found.Line, $"{Path(key)} is {found.Described}; expected {expected}");
        return null;
    }

    /// <summary>Complains of what nobody asked for.</summary>
    public void RefuseOthers()
    {
        foreach ((string name, int line, CommentedJson _) in value.Members)
        {
            if (!_known.Contains(name))
            {
                complaints.Add(line, $"unknown key \"{name}\"{(where.Length > 0 ? " in " + where : "")}{NearestName.Hint(name, _known)}");
            }
        }
    }

    private string Path(string key) => where.Length > 0 ? $"{where}.{key}" : key;

    private double? NumberOf(CommentedJson found, string path, double least, double most, string expected)
    {
        // Written so that an overflow to infinity fails too.
        if (found.Kind == JsonTokenType.Number
            && double.TryParse(found.Text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
            && number >= least && number <= most)
        {
            return number;
        }
        complaints.Add(found.Line, $"{path} is {found.Described}; expected {expected}");
        return null;
    }
}
