using System.Text.Json;
using ThermalTrace.Reports;
using ThermalTrace.Tests.EndToEnd;

namespace ThermalTrace.Tests.Cli;

public sealed class CardCommandTests
{
    [Fact]
    public async Task Card_IsWrittenAndSaysWhatItRestsOn()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        string card = Path.Combine(folder.Root, "new", "pocket.html");
        CliRun run = await CliRun.Of("card", "--airframe", folder.Session, "--out", card);
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Equal($"Tansy: rests on physics alone, no session.\nCard: {card}\n", run.Output);
        Assert.StartsWith("<!DOCTYPE html>", await File.ReadAllTextAsync(card), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Json_IsTheDocumentAlone()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        CliRun run = await CliRun.Of("card", "--airframe", folder.Session, "--out", Path.Combine(folder.Root, "card.html"), "--json");
        using JsonDocument document = JsonDocument.Parse(run.Output);
        Assert.Equal("thermaltrace.card/1", document.RootElement.GetProperty("schema").GetString());
        Assert.Equal(JsonValueKind.Array, document.RootElement.GetProperty("grid").GetProperty("best_ballast_g").ValueKind);
        Assert.StartsWith("Card: ", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Results_AreWhatTheCardRestsOn()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", ShortSession.Simulated.AirframeJson);
        string results = Path.Combine(folder.Session, "results.json");
        using (FileStream stream = File.Create(results))
        {
            ResultsJson.Write(stream, ShortSession.Document);
        }
        CliRun run = await CliRun.Of("card", "--airframe", folder.Session, "--results", results, "--out", Path.Combine(folder.Root, "card.html"));
        Assert.Equal((0, ""), (run.ExitCode, run.Messages));
        Assert.Contains("rests on 1 session with 4 flights", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task ACard_IsReplaced_AndWhateverElseIsThereStays()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        string card = Path.Combine(folder.Root, "card.html");
        Assert.Equal(0, (await CliRun.Of("card", "--airframe", folder.Session, "--out", card)).ExitCode);
        Assert.Equal(0, (await CliRun.Of("card", "--airframe", folder.Session, "--out", card)).ExitCode);

        await File.WriteAllTextAsync(card, "<!DOCTYPE html><title>my holidays</title>");
        IReadOnlyList<string> before = folder.Everything();
        CliRun run = await CliRun.Of("card", "--airframe", folder.Session, "--out", card);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("is there already and is no field card", run.Messages, StringComparison.Ordinal);
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public async Task AFolderAsOut_IsRefusedWithAnExample()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        CliRun run = await CliRun.Of("card", "--airframe", folder.Session, "--out", folder.Root);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains($"is a folder; expected a file such as {Path.Combine(folder.Root, "card.html")}", run.Messages, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--results")]
    [InlineData("--airframe")]
    public async Task WhatIsNotThere_IsNamed(string option)
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        string missing = Path.Combine(folder.Root, "missing.json");
        string[] rest = option == "--airframe" ? ["--airframe", missing] : ["--airframe", folder.Session, "--results", missing];
        CliRun run = await CliRun.Of(["card", .. rest, "--out", Path.Combine(folder.Root, "card.html")]);
        Assert.Equal(3, run.ExitCode);
        Assert.Contains("missing.json", run.Messages, StringComparison.Ordinal);
        Assert.False(File.Exists(Path.Combine(folder.Root, "card.html")));
    }
}
