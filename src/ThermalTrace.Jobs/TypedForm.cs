using ThermalTrace.Advice;
using ThermalTrace.Ballast;

namespace ThermalTrace.Jobs;

/// <summary>
/// Reads what was typed into the fields of a page, or stands in an address, as the command reads its options: the fields have the options'
/// names without dashes, an empty field is one left out.
/// </summary>
/// <param name="typed">All that was typed under a name; empty where nothing was.</param>
internal sealed class TypedForm(Func<string, IReadOnlyList<string>> typed)
{
    // Nothing that is meant is longer; what is longer is not echoed.
    private const int Longest = 200;

    private readonly Dictionary<string, string> _complaints = new(StringComparer.Ordinal);

    /// <summary>What cannot be used, by the name of its field.</summary>
    public IReadOnlyDictionary<string, string> Complaints => _complaints;

    /// <summary>One value; null where it was left out or cannot be used.</summary>
    public double? Single(AskedQuantity quantity) => Read<double?>(quantity.Name, (string text, out double? value, out string complaint) =>
    {
        bool read = quantity.TryRead(text, out double known, out complaint);
        value = read ? known : null;
        return read;
    });

    /// <summary>One value or a range of it; null where it was left out or cannot be used.</summary>
    public (double Low, double High)? Range(AskedQuantity quantity) => Read<(double, double)?>(quantity.Name, (string text, out (double, double)? value, out string complaint) =>
    {
        bool read = quantity.TryReadRange(text, out (double, double) known, out complaint);
        value = read ? known : null;
        return read;
    });

    /// <summary>A condition of the day; null where it was left out or cannot be used.</summary>
    public AskedRange? Condition(AskedCondition condition) => Read<AskedRange?>(condition.Quantity.Name, (string text, out AskedRange? value, out string complaint) =>
    {
        bool read = condition.TryRead(text, out AskedRange known, out complaint);
        value = read ? known : null;
        return read;
    });

    /// <summary>What the wind comes across; null where it was left out or cannot be used.</summary>
    public Ground? Ground() => Read<Ground?>("--ground", (string text, out Ground? value, out string complaint) =>
    {
        bool read = AskedText.TryReadGround(text, out Ground known, out complaint);
        value = read ? known : null;
        return read;
    });

    /// <summary>Number of flights; null where it was left out or cannot be used.</summary>
    public int? Flights() => Read<int?>("--flights", (string text, out int? value, out string complaint) =>
    {
        bool read = AskedText.TryReadFlights(text, out int known, out complaint);
        value = read ? known : null;
        return read;
    });

    /// <summary>Materials, each once; empty where none was named.</summary>
    public IReadOnlyList<Material> Materials() =>
        [.. Values("--material").Select(text => Read("--material", text, (string t, out Material? value, out string complaint) => AskedText.TryReadMaterial(t, out value, out complaint))).OfType<Material>().Distinct()];

    /// <summary>Free text, trimmed; null where it was left out.</summary>
    public string? Text(string name) => Read<string>(name, (string text, out string? value, out string complaint) =>
    {
        (value, complaint) = (text, "");
        return true;
    });

    /// <summary>Names a field that cannot be used.</summary>
    public void Complain(string name, string complaint) => _complaints.TryAdd(Field(name), complaint);

    /// <summary>Goes on only where everything that was typed can be used.</summary>
    /// <exception cref="WrongUsageException">Something cannot; the first thing is said.</exception>
    public void Require()
    {
        if (_complaints.Count > 0)
        {
            throw new WrongUsageException(_complaints.First().Value);
        }
    }

    /// <summary>A field's name: the option's without its dashes.</summary>
    public static string Field(string name) => name.TrimStart('-');

    private delegate bool TryReadOne<T>(string text, out T? value, out string complaint);

    private T? Read<T>(string name, TryReadOne<T> read) => Values(name) is [var text, ..] ? Read(name, text, read) : default;

    private T? Read<T>(string name, string text, TryReadOne<T> read)
    {
        string complaint = text.Length > Longest ? $"{name} is longer than {Longest} characters" : "";
        if (complaint.Length == 0 && read(text, out T? value, out complaint))
        {
            return value;
        }
        Complain(name, complaint);
        return default;
    }

    private string[] Values(string name) => [.. typed(Field(name)).Select(t => t.Trim()).Where(t => t.Length > 0)];
}
