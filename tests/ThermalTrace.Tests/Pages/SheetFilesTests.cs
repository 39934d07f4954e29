using System.Globalization;
using System.Net;
using ThermalTrace.Pages.Serving;
using ThermalTrace.Tests.Cli;

namespace ThermalTrace.Tests.Pages;

/// <summary>Sheets as the pages serve them: the command's file, byte for byte.</summary>
public sealed class SheetFilesTests
{
    public static TheoryData<string, string, string[]> Questions => new()
    {
        { "card", "", [] },
        { "plan", "wind=3..6m%2Fs&lift=weak&flights=6", ["--wind", "3..6m/s", "--lift", "weak", "--flights", "6"] },
        { "pieces", "", [] },
        { "pieces", "ballast=45&cg-forward=0.7mm&step=15", ["--ballast", "45", "--cg-forward", "0.7mm", "--step", "15"] },
        { "stick", "ballast=1.5oz&material=brass&material=bismuth%3D9.8g%2Fcm3&diameter=8mm&throw-speed=25..35m%2Fs", ["--ballast", "1.5oz", "--material", "brass", "--material", "bismuth=9.8g/cm3", "--diameter", "8mm", "--throw-speed", "25..35m/s"] },
    };

    [Theory]
    [MemberData(nameof(Questions))]
    public async Task Sheet_IsTheCommandsFile_ToTheByte(string kind, string query, string[] options)
    {
        await using Served served = await Served.Of(SeasonFolder.WithPieces(), days: 3);
        string file = Path.Combine(served.Files.Root, kind + ".html"), today;
        byte[] bytes;
        do
        {
            // A card names its day: at midnight the two would differ.
            today = Today();
            bytes = (await served.Get($"/{kind}.html?{query}")).Bytes;
            CliRun run = await CliRun.Of([kind, "--airframe", served.Files.Session, "--logbook", SeasonFolder.LogbookOf(served.Files), .. options, "--out", file]);
            Assert.True(run.ExitCode == 0, run.Messages);
        }
        while (today != Today());
        Assert.Equal(Convert.ToHexString(File.ReadAllBytes(file)), Convert.ToHexString(bytes));
    }

    [Theory]
    [InlineData("/stick.html", "Ballast is missing; expected the mass to build")]
    [InlineData("/stick.html?ballast=45&material=cheese", "Material &quot;cheese&quot; is not known")]
    [InlineData("/plan.html?wind=breezy", "Wind &quot;breezy&quot; is not known; expected a speed such as")]
    [InlineData("/plan.html?flights=7", "Flights &quot;7&quot; is not possible")]
    [InlineData("/pieces.html?cg-forward=700", "Cg forward 700 is outside -50 to 50 mm")]
    [InlineData("/pieces.html?ballast=%3Cscript%3Ealert(1)%3C%2Fscript%3E", "&lt;script&gt;")]
    public async Task Question_ThatCannotBeUsed_IsSaidInASentence(string address, string sentence)
    {
        await using Served served = await Served.Of(SeasonFolder.WithPieces());
        (HttpStatusCode status, byte[] bytes) = await served.Get(address);
        Assert.Equal(HttpStatusCode.BadRequest, status);
        string page = System.Text.Encoding.UTF8.GetString(bytes);
        Assert.Contains(sentence, page, StringComparison.Ordinal);
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Question_OfManyCharacters_IsRefusedWithoutEchoingThem()
    {
        await using Served served = await Served.Of(SeasonFolder.WithPieces());
        (HttpStatusCode status, byte[] bytes) = await served.Get("/pieces.html?ballast=" + new string('9', 5000));
        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.True(bytes.Length < 2000);
    }

    [Fact]
    public async Task Sheet_OfAFolderWithoutAModel_IsSaidToBeImpossible()
    {
        TempFolder files = new();
        files.Write("one.csv", TempFolder.QuietLog);
        await using Served served = await Served.Of(files);
        (HttpStatusCode status, byte[] bytes) = await served.Get("/card.html");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("airframe.json is not in the folder", System.Text.Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Card_WithoutAnyLogbook_RestsOnGeometry()
    {
        await using Served served = await Served.Of(SeasonFolder.WithPieces());
        (HttpStatusCode status, byte[] bytes) = await served.Get("/card.html");
        Assert.Equal(HttpStatusCode.OK, status);
        Assert.Contains("geometry", System.Text.Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
        Assert.False(File.Exists(SeasonFolder.LogbookOf(served.Files)), "asking makes no logbook");
    }

    private static string Today() => DateTime.Now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    /// <summary>Pages served to a client that was let in.</summary>
    private sealed class Served : IAsyncDisposable
    {
        private readonly HttpClient _client;

        private Served(TempFolder files, PagesServer server, HttpClient client) => (Files, Server, _client) = (files, server, client);

        public TempFolder Files { get; }

        public PagesServer Server { get; }

        public static async Task<Served> Of(TempFolder files, int days = 0)
        {
            if (days > 0)
            {
                SeasonFolder.AddSeason(files, days);
            }
            PagesServer server = await PagesServer.StartAsync(files.Session, SeasonFolder.LogbookOf(files));
            HttpClient client = new() { BaseAddress = new Uri($"http://127.0.0.1:{server.Port}/"), Timeout = TimeSpan.FromMinutes(3) };
            (await client.GetAsync(server.Invite())).EnsureSuccessStatusCode();
            while (!server.Desk.View.IsRead)
            {
                await Task.Delay(20);
            }
            return new Served(files, server, client);
        }

        public async Task<(HttpStatusCode Status, byte[] Bytes)> Get(string address)
        {
            using HttpResponseMessage answer = await _client.GetAsync(address);
            return (answer.StatusCode, await answer.Content.ReadAsByteArrayAsync());
        }

        public async ValueTask DisposeAsync()
        {
            _client.Dispose();
            await Server.DisposeAsync();
            Files.Dispose();
        }
    }
}
