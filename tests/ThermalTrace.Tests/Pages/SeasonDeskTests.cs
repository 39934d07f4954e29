using ThermalTrace.Advice;
using ThermalTrace.Jobs;
using ThermalTrace.Logbook;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Logbook;
using ThermalTrace.Units;
using FieldReading = ThermalTrace.Logbook.FieldReading;

namespace ThermalTrace.Tests.Pages;

/// <summary>The season's desk without a browser.</summary>
public sealed class SeasonDeskTests
{
    private static readonly AskedConditions Asked = new() { WindMps = new AskedRange(4, 4), LiftMps = new AskedRange(1.5, 1.5) };

    [Fact]
    public async Task SessionReplaced_TakenBack_IsAsItWasToTheBit()
    {
        await using Open open = await Open.Of(SeasonFolder.WithPieces());
        await open.Season.AddAsync(new FieldReading("Larkmoor", 2.5, 2), placeless: false);
        Assert.False(open.Season.Deed!.Failed, string.Join("; ", open.Season.Deed.Sentences));
        string before = Stored(open);
        open.Files.Write("flights.csv", "log,flight,ballast_g\nlog-01.csv,,60\n");
        await open.Desk.ReadAsync("again");
        await open.Season.AddAsync(null, placeless: true);
        Assert.Contains("took the place of", open.Season.Deed!.Sentences[0], StringComparison.Ordinal);
        Assert.NotEqual(before, Stored(open));
        await open.Season.UndoAsync();
        Assert.Equal(before, Stored(open));
    }

    [Fact]
    public async Task SessionAdded_TakenBack_IsGone()
    {
        await using Open open = await Open.Of(SeasonFolder.WithPieces());
        await open.Season.AddAsync(null, placeless: true);
        Assert.Null(Assert.Single(open.Season.View.Sessions).Evidence.Field);
        await open.Season.UndoAsync();
        Assert.Empty(open.Season.View.Sessions);
        await open.Season.UndoAsync();
        Assert.Equal(["There is nothing to take back."], open.Season.Deed!.Sentences);
    }

    [Fact]
    public async Task LogbookChangedUnderneath_IsNoticed_AndReadAgain()
    {
        TempFolder files = SeasonFolder.WithPieces();
        SeasonFolder.AddSeason(files, 2);
        await using Open open = await Open.Of(files);
        Assert.False(open.Season.IsStale);
        string content = open.Season.View.Content;
        using (LogbookFile logbook = LogbookFile.OpenToWrite(SeasonFolder.LogbookOf(files)))
        {
            logbook.Remove([open.Season.View.Sessions[0].Id]);
        }
        Assert.True(open.Season.IsStale);
        await open.Season.ReadAsync();
        Assert.Single(open.Season.View.Sessions);
        Assert.NotEqual(content, open.Season.View.Content);
    }

    [Fact]
    public async Task Advice_ThatKeepsItsModelInTheLogbook_StillHolds()
    {
        TempFolder files = SeasonFolder.WithPieces();
        SeasonFolder.AddSeason(files, 2);
        await using Open open = await Open.Of(files);
        string content = open.Season.View.Content;
        string answer = await open.Season.AdviseAsync(Asked);
        await open.Season.ReadAsync();
        Assert.Equal(content, open.Season.View.Content);
        Assert.Equal(answer, await open.Season.AdviseAsync(Asked));
    }

    [Fact]
    public async Task OtherModelsSessions_AreCountedAndNotShown()
    {
        TempFolder files = SeasonFolder.WithPieces();
        using (LogbookFile logbook = LogbookFile.OpenToWrite(SeasonFolder.LogbookOf(files)))
        {
            logbook.Add(MadeUpSession.Of(1, airframe: "Comfrey 300"));
        }
        await using Open open = await Open.Of(files);
        Assert.Empty(open.Season.View.Sessions);
        Assert.Equal(1, open.Season.View.Others);
    }

    [Fact]
    public async Task Logbook_ThatIsNone_IsSaid()
    {
        TempFolder files = SeasonFolder.WithPieces();
        File.WriteAllText(SeasonFolder.LogbookOf(files), "no database, and long enough that it could be one, were it not for its beginning, which is words");
        await using Open open = await Open.Of(files);
        Assert.Contains("is not a logbook", open.Season.View.Complaint, StringComparison.Ordinal);
        await Assert.ThrowsAsync<UnusableInputException>(() => open.Season.AdviseAsync(Asked));
    }

    [Fact]
    public async Task Sheet_IsMadeAnew_WhenTheModelHasChanged()
    {
        await using Open open = await Open.Of(SeasonFolder.WithPieces());
        byte[] first = await open.Season.SheetAsync("pieces", Empty(), "pieces");
        Assert.Same(first, await open.Season.SheetAsync("pieces", Empty(), "pieces"));
        open.Files.Write("airframe.json", File.ReadAllText(Path.Combine(open.Files.Session, "airframe.json")).Replace("\"count\": 3", "\"count\": 1", StringComparison.Ordinal));
        await open.Desk.ReadAsync("again");
        Assert.NotEqual(first, await open.Season.SheetAsync("pieces", Empty(), "pieces"));
    }

    [Fact]
    public async Task Work_ThatIsCancelled_ChangesNothing()
    {
        await using Open open = await Open.Of(SeasonFolder.WithPieces());
        open.Desk.Changed += () =>
        {
            if (open.Desk.Work.Stage is { } stage && !stage.Contains("logbook", StringComparison.Ordinal))
            {
                open.Desk.Work.Cancel();
            }
        };
        await open.Season.AddAsync(null, placeless: false);
        Assert.Equal(["Cancelled; nothing was changed."], open.Season.Deed!.Sentences);
        Assert.False(File.Exists(SeasonFolder.LogbookOf(open.Files)));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => open.Season.SheetAsync("card", Empty(), "card"));
    }

    private static TypedForm Empty() => new(_ => []);

    private static string Stored(Open open)
    {
        using LogbookFile logbook = LogbookFile.OpenToRead(SeasonFolder.LogbookOf(open.Files));
        return MadeUpSession.Text(Assert.Single(logbook.List()).Session!);
    }

    /// <summary>Both desks of a folder, read once.</summary>
    private sealed class Open : IAsyncDisposable
    {
        private Open(TempFolder files) => (Files, Desk) = (files, new FolderDesk(files.Session, SeasonFolder.LogbookOf(files)));

        public TempFolder Files { get; }

        public FolderDesk Desk { get; }

        public SeasonDesk Season { get; private set; } = null!;

        public static async Task<Open> Of(TempFolder files)
        {
            Open open = new(files);
            await open.Desk.ReadAsync("first");
            open.Season = new SeasonDesk(open.Desk, TimeProvider.System);
            await open.Season.ReadAsync();
            return open;
        }

        public ValueTask DisposeAsync()
        {
            Desk.Dispose();
            Files.Dispose();
            return ValueTask.CompletedTask;
        }
    }
}
