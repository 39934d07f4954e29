using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using System.Text.Unicode;
using ThermalTrace.Units;

namespace ThermalTrace.Reports;

/// <summary>Writes and reads results.json, the document that other programs read (schema "thermaltrace.results/1").</summary>
public static class ResultsJson
{
    private const string Schema = "thermaltrace.results/1";
    private const int LongestQuote = 200;

    private static readonly ResultsJsonContext Context = new(new JsonSerializerOptions(ResultsJsonContext.Default.Options)
    {
        // Names in any script stay readable; characters that matter to HTML are still escaped.
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    });

    /// <summary>How every document of the program is written: keys, rounding, nulls and line ends as in results.json.</summary>
    public static JsonSerializerOptions Style { get; } = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        WriteIndented = true,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
        Converters = { new RoundedNumberConverter(), new IntervalConverter() },
        TypeInfoResolver = new DefaultJsonTypeInfoResolver(),
    };

    /// <summary>
    /// Writes the document as indented UTF-8 without a byte-order mark, lines ended by LF, the same bytes for the same
    /// document. Numbers are rounded to six significant digits, or to thousandths where that is finer; what is not a
    /// finite number is written as null.
    /// </summary>
    public static void Write(Stream utf8, ResultsDocument doc)
    {
        JsonSerializer.Serialize(utf8, doc, Context.ResultsDocument);
        utf8.WriteByte((byte)'\n');
    }

    /// <summary>Reads a document; keys it does not know are passed over.</summary>
    /// <exception cref="UnusableInputException">Not a result document; the message says where and why.</exception>
    public static ResultsDocument Read(Stream utf8)
    {
        ResultsDocument? doc;
        try
        {
            doc = JsonSerializer.Deserialize(utf8, Context.ResultsDocument);
        }
        catch (JsonException error)
        {
            throw new UnusableInputException(
                $"not a result document: line {(error.LineNumber ?? 0) + 1}, {Clipped(error.Path ?? "$")}: {Reason(error)}; " +
                "expected the results.json that a debrief writes, so debrief the session again");
        }

        return doc is { Schema: Schema }
            ? doc
            : throw new UnusableInputException(
                $"not a result document: $.schema is \"{Clipped(doc?.Schema ?? "")}\", expected \"{Schema}\"; debrief the session again");
    }

    /// <summary>The document as it reads back from its file: the report says what the file says, with nothing in between known and not.</summary>
    internal static ResultsDocument AsWritten(ResultsDocument doc)
    {
        using var file = new MemoryStream();
        Write(file, doc);
        file.Position = 0;
        return Read(file);
    }

    // A key, and a text, may be as long as the file.
    private static string Clipped(string text) => text.Length <= LongestQuote ? text : string.Concat(text.AsSpan(0, LongestQuote), "…");

    // The library's message repeats path and line after the reason.
    private static string Reason(JsonException error)
    {
        if (error.Message.StartsWith("The JSON value could not be converted", StringComparison.Ordinal))
        {
            return "what stands there is of another kind"; // the library names its own types
        }
        int tail = error.Message.IndexOf(" Path: ", StringComparison.Ordinal);
        return Clipped((tail < 0 ? error.Message : error.Message[..tail]).TrimEnd('.').ReplaceLineEndings(" "));
    }
}

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.SnakeCaseLower,
    WriteIndented = true,
    NewLine = "\n",
    RespectNullableAnnotations = true,
    RespectRequiredConstructorParameters = true,
    Converters = [typeof(RoundedNumberConverter), typeof(IntervalConverter)])]
[JsonSerializable(typeof(ResultsDocument))]
internal sealed partial class ResultsJsonContext : JsonSerializerContext;
