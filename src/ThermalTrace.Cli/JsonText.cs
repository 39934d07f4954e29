using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Unicode;

namespace ThermalTrace.Cli;

/// <summary>Documents of the commands that have no document of their own in the library.</summary>
internal static class JsonText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    };

    /// <summary>The document with snake_case keys, ending with a line's end.</summary>
    public static string Of<T>(T document) => JsonSerializer.Serialize(document, Options) + "\n";

    /// <summary>JSON has no NaN: what is not known is null.</summary>
    public static double? Known(double value) => double.IsFinite(value) ? value : null;
}
