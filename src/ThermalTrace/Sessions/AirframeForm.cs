using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>A value of airframe.json as a form asks for it.</summary>
/// <param name="Key">Its key; that of a value within another after a point: "ballast_tube.bore_mm".</param>
/// <param name="Label">For people.</param>
/// <param name="Unit">That a bare number is in; empty for text.</param>
/// <param name="Group">Fields of one group stand together.</param>
/// <param name="About">What it is, in a sentence.</param>
public sealed record AirframeField(string Key, string Label, string Unit, string Group, string About)
{
    /// <summary>True where no airframe is without.</summary>
    public bool Required { get; init; }

    /// <summary>Words to choose from; empty where it is typed.</summary>
    public IReadOnlyList<string> Choices { get; init; } = [];

    /// <summary>How many numbers: 0 for text, 1, 2 for a pair, more for any number of them.</summary>
    internal int Numbers { get; init; } = 1;

    /// <summary>Units that may be typed; null where a bare number is all there is.</summary>
    internal UnitFamily? Family { get; init; }

    /// <summary>From the family's first unit to <see cref="Unit"/>.</summary>
    internal double Factor { get; init; } = 1;
}

/// <summary>
/// airframe.json as a form: its values as text, and the file's text after some were typed. What the form does not know is kept; comments are not,
/// since the file is written anew. <see cref="AirframeFile.Read"/> judges the outcome.
/// </summary>
public static class AirframeForm
{
    private const string Wing = "The wing", Weight = "Mass and launch", Balance = "Balance", Tube = "The ballast tube";

    /// <summary>The fields, in their groups.</summary>
    public static IReadOnlyList<AirframeField> Fields { get; } =
    [
        new("name", "Name", "", Wing, "By which you know the model; the logbook keeps its seasons under it.") { Required = true, Numbers = 0 },
        Length("wing_span_mm", "Wing span", Wing, "Tip to tip, seen from above.") with { Required = true },
        new("wing_area_dm2", "Wing area", "dm²", Wing, "Of the planform seen from above, the part in the fuselage too.") { Required = true, Family = UnitFamily.Area },
        Length("mean_chord_mm", "Mean chord", Wing, "Mean aerodynamic chord; left out, area over span."),
        new("airfoil_polar", "Polar of the aerofoil", "", Wing, "Name of a CSV file in this folder with reynolds, cl and cd.") { Numbers = 0 },
        Mass("unballasted_mass_g", "Mass without ballast", Weight, "Ready to fly, on the scales.") with { Required = true },
        Mass("max_flying_mass_g", "Most flying mass", Weight, "Never to be exceeded: the maker's limit or your own."),
        Mass("ballast_options_g", "Ballasts you can fit", Weight, "Each of them, 0 for none: 0, 40, 80.") with { Numbers = 3 },
        new("launch", "Launch", "", Weight, "How it gets its height.") { Numbers = 0, Choices = [.. Enum.GetNames<LaunchKind>().Select(k => k.ToLowerInvariant())] },
        Length("cg_mm", "Centre of gravity", Balance, "Without ballast, aft of the wing root's leading edge."),
        Length("cg_limits_mm", "Its limits", Balance, "Forward and aft: 66, 76.") with { Numbers = 2 },
        Length("neutral_point_mm", "Neutral point", Balance, "Aft of the same place."),
        new("pitch_inertia_kg_m2", "Pitch inertia", "kg m²", Balance, "As a swing on two strings gives it."),
        Length("ballast_tube.bore_mm", "Bore", Tube, "Inside diameter."),
        Length("ballast_tube.length_mm", "Length of the tube", Tube, "That ballast can lie in."),
        Length("ballast_tube.centre_mm", "Its middle", Tube, "Aft of the wing root's leading edge."),
    ];

    /// <summary>What the file says, as text for the fields; keys that it does not have are left out. Works for files that a debrief would refuse.</summary>
    /// <param name="text">The file's text; null where it is not there.</param>
    /// <exception cref="UnusableInputException">It is no JSON object.</exception>
    public static IReadOnlyDictionary<string, string> Values(string? text)
    {
        JsonObject root = Parse(text);
        Dictionary<string, string> values = new(StringComparer.Ordinal);
        foreach (AirframeField field in Fields)
        {
            if (Find(root, field.Key) is { } node)
            {
                values[field.Key] = node is JsonArray list ? string.Join(", ", list.Select(Text)) : Text(node);
            }
        }
        return values;
    }

    /// <summary>Keys of the file that the form does not show, and keeps.</summary>
    /// <exception cref="UnusableInputException">It is no JSON object.</exception>
    public static IReadOnlyList<string> Others(string? text)
    {
        HashSet<string> known = [.. Fields.Select(f => f.Key.Split('.')[0])];
        return [.. Parse(text).Select(m => m.Key).Where(k => !known.Contains(k))];
    }

    /// <summary>The file's text after values were typed.</summary>
    /// <param name="text">The text before; null where there is no file.</param>
    /// <param name="typed">By key; an empty text takes the value out. Keys that are not among them stay as they are.</param>
    /// <param name="complaints">By key, what cannot be understood; such a value stays as it was.</param>
    /// <exception cref="UnusableInputException">The text before is no JSON object.</exception>
    public static string Write(string? text, IReadOnlyDictionary<string, string> typed, out IReadOnlyDictionary<string, string> complaints)
    {
        ArgumentNullException.ThrowIfNull(typed);
        JsonObject root = Parse(text);
        Dictionary<string, string> wrong = new(StringComparer.Ordinal);
        IReadOnlyDictionary<string, string> before = Values(text);
        foreach (AirframeField field in Fields)
        {
            if (!typed.TryGetValue(field.Key, out string? said) || said.Trim() == before.GetValueOrDefault(field.Key, ""))
            {
                continue;
            }
            if (TryRead(field, said.Trim(), out JsonNode? node, out string complaint))
            {
                Put(root, field.Key, node);
            }
            else
            {
                wrong[field.Key] = complaint;
            }
        }
        complaints = wrong;
        return root.ToJsonString(Style).ReplaceLineEndings("\n") + "\n";
    }

    /// <summary>Sorts the complaints of <see cref="AirframeFile.Read"/> by the field that they speak of; the empty key holds the rest.</summary>
    /// <param name="message">The exception's message: a complaint a line.</param>
    public static IReadOnlyDictionary<string, string> Sorted(string message)
    {
        ArgumentNullException.ThrowIfNull(message);
        Dictionary<string, string> sorted = new(StringComparer.Ordinal);
        foreach (string line in message.Split('\n'))
        {
            // "airframe.json:3: wing_span_mm is …", "airframe.json:1: there is no "name"; …"
            string said = line[(line.IndexOf(": ", StringComparison.Ordinal) is var at and >= 0 ? at + 2 : 0)..];
            string key = Fields.Select(f => f.Key).FirstOrDefault(k => said.StartsWith(k + " ", StringComparison.Ordinal) || said.StartsWith($"there is no \"{k}\"", StringComparison.Ordinal)
                || (k.Split('.') is [var whole, var part] && said.StartsWith($"{whole} has no \"{part}\"", StringComparison.Ordinal))) ?? "";
            sorted[key] = sorted.TryGetValue(key, out string? more) ? more + "\n" + said : said;
        }
        return sorted;
    }

    private static readonly JsonSerializerOptions Style = new() { WriteIndented = true, Encoder = JavaScriptEncoder.Create(System.Text.Unicode.UnicodeRanges.All) };

    private static AirframeField Length(string key, string label, string group, string about) => new(key, label, "mm", group, about) { Family = UnitFamily.Length, Factor = 1000 };

    private static AirframeField Mass(string key, string label, string group, string about) => new(key, label, "g", group, about) { Family = UnitFamily.Mass };

    private static JsonObject Parse(string? text)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return [];
        }
        // The same reader as everywhere, for its words on what is wrong.
        Complaints complaints = new(AirframeFile.Name);
        CommentedJson.Parse(text, complaints);
        complaints.Throw();
        JsonNode? root = JsonNode.Parse(text.TrimStart('\uFEFF'), documentOptions: new JsonDocumentOptions { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true, MaxDepth = 16 });
        return root as JsonObject ?? throw new UnusableInputException($"{AirframeFile.Name}: holds no object {{ … }}, so the form cannot show it; put it right by hand, or take it away");
    }

    private static JsonNode? Find(JsonObject root, string key) => key.Split('.') is [var whole, var part]
        ? root[whole] is JsonObject inside ? inside[part] : null
        : root[key];

    private static void Put(JsonObject root, string key, JsonNode? node)
    {
        if (key.Split('.') is [var whole, var part])
        {
            JsonObject inside = root[whole] as JsonObject ?? [];
            Put(inside, part, node);
            // One without anything in it is none.
            if (inside.Count == 0)
            {
                root.Remove(whole);
            }
            else if (inside.Parent is null)
            {
                root[whole] = inside;
            }
        }
        else if (node is null)
        {
            root.Remove(key);
        }
        else
        {
            root[key] = node;
        }
    }

    private static string Text(JsonNode? node) => node is JsonValue value ? value.TryGetValue(out string? text) ? text : value.ToJsonString() : node?.ToJsonString() ?? "";

    private static bool TryRead(AirframeField field, string said, out JsonNode? node, out string complaint)
    {
        node = null;
        complaint = "";
        if (said.Length == 0)
        {
            return true;
        }
        if (field.Numbers == 0)
        {
            node = JsonValue.Create(said);
            return true;
        }
        if (field.Numbers == 1)
        {
            bool read = TryNumber(field, said, out double value, out complaint);
            node = JsonValue.Create(value);
            return read;
        }
        List<JsonNode> list = [];
        foreach (string part in said.Trim('[', ']').Split(said.AsSpan().IndexOfAny(',', ';') >= 0 ? [',', ';'] : [' '], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            if (!TryNumber(field, part, out double value, out complaint))
            {
                return false;
            }
            list.Add(JsonValue.Create(value));
        }
        node = new JsonArray([.. list]);
        return true;
    }

    private static bool TryNumber(AirframeField field, string said, out double value, out string complaint)
    {
        // A bare number is in the unit that stands beside the field, whatever the family begins with.
        bool bare = double.TryParse(said.Replace('−', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);
        complaint = "";
        if (bare)
        {
            return true;
        }
        if (field.Family is null)
        {
            complaint = $"\"{said}\" is not a number; expected one in {field.Unit}";
            return false;
        }
        bool read = QuantityText.TryParse(said, field.Family, out value, out complaint);
        // What a unit's factor adds beyond twelve digits was never typed.
        value = read ? double.Parse((value * field.Factor).ToString("G12", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) : double.NaN;
        return read;
    }
}
