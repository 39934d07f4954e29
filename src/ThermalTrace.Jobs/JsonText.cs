using System.Text.Json;
using ThermalTrace.Reports;

namespace ThermalTrace.Jobs;

/// <summary>Documents of the commands other than debrief.</summary>
internal static class JsonText
{
    /// <summary>The document in the style of results.json, ending with a line's end; what is not a finite number is null.</summary>
    public static string Of<T>(T document) => JsonSerializer.Serialize(document, ResultsJson.Style) + "\n";
}
