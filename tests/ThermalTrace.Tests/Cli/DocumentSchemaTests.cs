using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using ThermalTrace.Cli;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Cli;

/// <summary>The schemas in docs/schemas are those that the program prints, and its documents keep them; an independent library judges.</summary>
public sealed class DocumentSchemaTests
{
    private static readonly string Samples = Path.Combine(SharedFolder.Repository, "sample-logs");
    private static readonly string Model = Path.Combine(Samples, "tansy-150.json");
    private static readonly string[] Sessions = [.. Directory.GetDirectories(Samples).Order(StringComparer.Ordinal)];

    public static TheoryData<string> Names => new(DocumentSchemas.Names);

    [Theory]
    [MemberData(nameof(Names))]
    public async Task TheShippedSchema_IsTheOnePrinted(string name)
    {
        string shipped = Path.Combine(SharedFolder.Repository, "docs", "schemas", name + ".schema.json");
        CliRun run = await CliRun.Of("schema", name);
        Assert.True(File.Exists(shipped), $"thermaltrace schema {name} > docs/schemas/{name}.schema.json");
        Assert.Equal(await File.ReadAllTextAsync(shipped), run.Output);
    }

    [Fact]
    public async Task EveryDocument_KeepsItsSchema()
    {
        using TempFolder folder = new();
        string logbook = Path.Combine(folder.Root, "kept.sqlite"), results = Path.Combine(folder.Root, "results");
        string session = Sessions[0];
        string[] added = ["logbook", "add", results, "--logbook", logbook, "--json"];
        (string Name, string[] Command)[] runs =
        [
            ("results", ["debrief", session, "--out", results, "--json"]),
            ("inspect", ["inspect", session, "--json"]),
            ("predict", ["predict", Model, "--json"]),
            ("logbook_add", added),
            ("logbook_list", ["logbook", "list", "--logbook", logbook, "--json"]),
            ("logbook_verify", ["logbook", "verify", "--logbook", logbook, "--json"]),
            ("logbook_export", ["logbook", "export", Path.Combine(folder.Root, "export"), "--logbook", logbook, "--json"]),
            ("suggestion", ["suggest", "--airframe", session, "--wind", "4..6m/s", "--lift", "2m/s", "--time", "5min", "--logbook", logbook, "--json"]),
            ("suggestion", ["suggest", "--airframe", Model, "--wind", "calm", "--lift", "weak", "--results", Path.Combine(results, "results.json"), "--json"]),
            ("card", ["card", "--airframe", session, "--out", Path.Combine(folder.Root, "card.html"), "--logbook", logbook, "--json"]),
            ("plan", ["plan", "--airframe", session, "--wind", "3m/s", "--flights", "4", "--logbook", logbook, "--json"]),
            ("pieces", ["pieces", "--airframe", Model, "--ballast", "45g", "--cg-forward", "0.7mm", "--json"]),
            ("pieces", ["pieces", "--airframe", Model, "--json"]),
            ("stick", ["stick", "--airframe", Model, "--ballast", "45g", "--json"]),
            ("balance", ["balance", "--airframe", Model, "--reading", "172.4g@42mm", "--reading", "89.7g@130mm", "--json"]),
        ];
        foreach ((string name, string[] command) in runs)
        {
            CliRun run = await CliRun.Of(command);
            Assert.True(run.ExitCode == 0, $"{string.Join(' ', command)}: {run.Messages}");
            Judge(name, run.Output);
        }
        string id = JsonNode.Parse((await CliRun.Of("logbook", "list", "--logbook", logbook, "--json")).Output)!["sessions"]![0]!["id"]!.GetValue<string>();
        Judge("logbook_remove", (await CliRun.Of("logbook", "remove", id, "--logbook", logbook, "--json")).Output);
        Assert.Equal(DocumentSchemas.Names.Order(), runs.Select(r => r.Name).Append("logbook_remove").Distinct().Order());
    }

    [Theory]
    [InlineData("$.flights", "null")]
    [InlineData("$.polars[0].min_sink.sink_mps.low", "null")]
    [InlineData("$.polars[0].min_sink.sink_mps", "0.4")]
    [InlineData("$.comparison.verdict", "7")]
    [InlineData("$.schema", "\"thermaltrace.results/2\"")]
    public async Task ADocumentThatBreaksTheContract_DoesNotKeepTheSchema(string where, string what)
    {
        using TempFolder folder = new();
        CliRun run = await CliRun.Of("debrief", Sessions[0], "--out", Path.Combine(folder.Root, "results"), "--json");
        JsonNode document = JsonNode.Parse(run.Output)!;
        Assert.True(Verdict("results", document).IsValid);
        string[] keys = [.. where[2..].Split('.').SelectMany(k => k.Split('[', ']')).Where(k => k.Length > 0)];
        JsonNode place = keys[..^1].Aggregate(document, (at, key) => int.TryParse(key, out int index) ? at[index]! : at[key]!);
        place[keys[^1]] = JsonNode.Parse(what);
        Assert.False(Verdict("results", document).IsValid);
    }

    private static void Judge(string name, string output)
    {
        EvaluationResults verdict = Verdict(name, JsonNode.Parse(output)!);
        string[] complaints = [.. (verdict.Details ?? []).Where(d => d.Errors is not null)
            .SelectMany(d => d.Errors!.Select(e => $"{name} {d.InstanceLocation}: {e.Value}")).Take(5)];
        Assert.True(verdict.IsValid, string.Join('\n', complaints));
    }

    private static EvaluationResults Verdict(string name, JsonNode document)
    {
        using JsonDocument read = JsonDocument.Parse(document.ToJsonString());
        return JsonSchema.FromText(DocumentSchemas.Of(name)).Evaluate(read.RootElement, new EvaluationOptions { OutputFormat = OutputFormat.List });
    }
}
