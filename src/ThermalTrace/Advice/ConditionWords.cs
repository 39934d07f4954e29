namespace ThermalTrace.Advice;

/// <summary>Words for conditions, where a number is too much to ask for. docs/suggest.md lists them.</summary>
public static class ConditionWords
{
    /// <summary>Eddy dissipation rate^(1/3), m^(2/3)/s.</summary>
    public static IReadOnlyDictionary<string, AskedRange> Turbulence { get; } = new Dictionary<string, AskedRange>(StringComparer.OrdinalIgnoreCase)
    {
        ["calm"] = AskedRange.At(0.03),
        ["light"] = AskedRange.At(0.08),
        ["moderate"] = AskedRange.At(0.16),
        ["rough"] = AskedRange.At(0.30),
        ["wooded"] = AskedRange.At(0.40), // in the lee of trees
    };

    /// <summary>m/s at flying height: classes of the Beaufort scale, which has them 10 m up (from memory).</summary>
    public static IReadOnlyDictionary<string, AskedRange> Wind { get; } = new Dictionary<string, AskedRange>(StringComparer.OrdinalIgnoreCase)
    {
        ["calm"] = new AskedRange(0, 0.3),
        ["light"] = new AskedRange(1.6, 3.3),
        ["gentle"] = new AskedRange(3.4, 5.4),
        ["moderate"] = new AskedRange(5.5, 7.9),
        ["fresh"] = new AskedRange(8.0, 10.7),
    };

    /// <summary>Of the air in a thermal's core, m/s; common practice, no source.</summary>
    public static IReadOnlyDictionary<string, AskedRange> Lift { get; } = new Dictionary<string, AskedRange>(StringComparer.OrdinalIgnoreCase)
    {
        ["none"] = AskedRange.At(0),
        ["weak"] = new AskedRange(0.5, 1),
        ["middling"] = new AskedRange(1, 2),
        ["strong"] = new AskedRange(2, 4),
    };
}
