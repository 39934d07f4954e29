using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using System.Text.Json.Serialization;
using System.Text.Json.Serialization.Metadata;
using ThermalTrace.Cli.Commands;
using ThermalTrace.Reports;
using ThermalTrace.Reports.Balance;
using ThermalTrace.Reports.Card;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Reports.Stick;

namespace ThermalTrace.Cli;

/// <summary>JSON Schema (draft 2020-12) of every document, from the types they are written from.</summary>
internal static class DocumentSchemas
{
    private const string Draft = "https://json-schema.org/draft/2020-12/schema";

    // Name, version, type, and what writes it.
    private static readonly (string Name, int Version, Type Type, string From)[] Documents =
    [
        ("results", 1, typeof(ResultsDocument), "results.json and debrief --json"),
        ("inspect", 1, typeof(InspectDocument), "inspect --json"),
        ("predict", 1, typeof(PredictionDocument), "predict --json"),
        ("suggestion", 1, typeof(SuggestionDocument), "suggest --json"),
        ("card", 1, typeof(CardDocument), "card --json"),
        ("plan", 1, typeof(PlanDocument), "plan --json"),
        ("pieces", 1, typeof(PiecesDocument), "pieces --json"),
        ("stick", 1, typeof(StickDocument), "stick --json"),
        ("balance", 1, typeof(BalanceDocument), "balance --json"),
        ("logbook_add", 1, typeof(LogbookAddDocument), "logbook add --json"),
        ("logbook_list", 1, typeof(LogbookListDocument), "logbook list --json"),
        ("logbook_remove", 1, typeof(LogbookRemoveDocument), "logbook remove --json"),
        ("logbook_verify", 1, typeof(LogbookVerifyDocument), "logbook verify --json"),
        ("logbook_export", 1, typeof(LogbookExportDocument), "logbook export --json"),
    ];

    /// <summary>Names of the documents.</summary>
    public static IReadOnlyList<string> Names => [.. Documents.Select(d => d.Name)];

    /// <summary>What writes a document.</summary>
    public static string From(string name) => Documents.Single(d => d.Name == name).From;

    /// <summary>The schema of a document as indented JSON, ending with a line's end. Keys may be added in later versions, so none that is unknown is an error.</summary>
    public static string Of(string name)
    {
        (_, int version, Type type, string from) = Documents.Single(d => d.Name == name);
        JsonNode written = ResultsJson.Style.GetJsonSchemaAsNode(type, new JsonSchemaExporterOptions
        {
            TreatNullObliviousAsNonNullable = true,
            TransformSchemaNode = Described,
        });
        JsonObject schema = new()
        {
            ["$schema"] = Draft,
            ["title"] = $"thermaltrace.{name}/{version}",
            ["description"] = $"Written by {from}. Units stand in the names of the keys; what cannot be known is null.",
        };
        foreach ((string key, JsonNode? value) in written.AsObject())
        {
            schema[key] = value?.DeepClone();
        }
        schema["properties"]!["schema"] = new JsonObject { ["const"] = $"thermaltrace.{name}/{version}" };
        return schema.ToJsonString(ResultsJson.Style) + "\n";
    }

    /// <summary>The types that have converters of their own, which the exporter cannot look into.</summary>
    private static JsonNode Described(JsonSchemaExporterContext context, JsonNode schema)
    {
        Type type = context.TypeInfo.Type;
        if (type == typeof(double) || type == typeof(double?))
        {
            return new JsonObject { ["type"] = new JsonArray("number", "null") };
        }
        if (type != typeof(Interval))
        {
            // Keys that are left out where there is nothing to say.
            foreach (JsonPropertyInfo key in context.TypeInfo.Properties.Where(p => p.AttributeProvider?.IsDefined(typeof(JsonIgnoreAttribute), inherit: false) == true))
            {
                (schema as JsonObject)?["required"]?.AsArray().RemoveAll(k => k!.GetValue<string>() == key.Name);
            }
            return schema;
        }
        // Three numbers or none.
        static JsonObject Bounds(string kind) => new()
        {
            ["properties"] = new JsonObject { ["value"] = Kind(kind), ["low"] = Kind(kind), ["high"] = Kind(kind) },
        };
        static JsonObject Kind(string kind) => new() { ["type"] = kind };
        bool absent = context.PropertyInfo is { IsGetNullable: true };
        JsonArray either = [Bounds("number"), Bounds("null")];
        JsonObject interval = new() { ["type"] = "object", ["required"] = new JsonArray("value", "low", "high"), ["anyOf"] = either };
        return absent ? new JsonObject { ["anyOf"] = new JsonArray(interval, Kind("null")) } : interval;
    }
}
