using System.Text;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;

namespace ThermalTrace.Tests.Pages;

public sealed class FolderDeskTests
{
    private static readonly string Sample = Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "..", "..", "sample-logs", "larkmoor-evening");

    [Fact]
    public async Task Folder_IsReadWithWhatIsWrongInIt()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        files.Write("two.csv", "no log at all\n");
        files.Write("flights.csv", "log,flight,ballast_g\none.csv,1,heavy\n");
        using FolderDesk desk = await Opened(files);
        Assert.Equal(["one.csv", "two.csv"], desk.View.Logs.Select(l => l.File));
        Assert.NotNull(desk.View.Logs[0].Log);
        Assert.Contains("two.csv", desk.View.Logs[1].Complaint, StringComparison.Ordinal);
        Assert.Equal("Tansy", desk.View.Airframe.Value!.Name);
        Assert.Contains("flights.csv:2", desk.View.Flights.Complaint, StringComparison.Ordinal);
        Assert.Equal(["flights.csv without mistakes"], desk.View.Missing);
    }

    [Fact]
    public async Task EmptyFolder_LacksLogsAndAirframe()
    {
        using TempFolder files = new();
        Directory.CreateDirectory(files.Session);
        using FolderDesk desk = await Opened(files);
        Assert.True(desk.View.IsRead);
        Assert.Equal(["a log that can be used", "the airframe"], desk.View.Missing);
    }

    [Fact]
    public async Task FolderThatIsGone_IsSaid()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        using FolderDesk desk = await Opened(files);
        Directory.Delete(files.Session, recursive: true);
        await desk.ReadAsync("again");
        Assert.Contains(desk.View.Problems, p => p.Contains("there is no such folder", StringComparison.Ordinal));
        Assert.NotNull(await desk.SaveAsync("try", FlightsFile.Name, _ => "log,ballast_g\n"));
    }

    [Fact]
    public async Task Edit_TakenBackAndMadeAgain_IsTheSameToTheByte()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        // As an old spreadsheet writes it: Latin-1, CRLF.
        byte[] before = Encoding.Latin1.GetBytes("log;flight;ballast_g;notes\r\none.csv;1;40;böig\r\n");
        string path = files.Write("flights.csv", before);
        using FolderDesk desk = await Opened(files);
        Assert.Null(await desk.SaveAsync("80 g", FlightsFile.Name, text =>
        {
            Assert.Contains("böig", text, StringComparison.Ordinal);
            return "log,flight,ballast_g\none.csv,1,80\n";
        }));
        Assert.Equal(80, desk.View.Flights.Value![0].BallastG);
        byte[] after = File.ReadAllBytes(path);
        Assert.Equal("80 g", desk.Saved.UndoName);
        Assert.Null(await desk.UndoAsync());
        Assert.Equal(before, File.ReadAllBytes(path));
        Assert.Equal(40, desk.View.Flights.Value![0].BallastG);
        Assert.Equal("80 g", desk.Saved.RedoName);
        Assert.Null(await desk.RedoAsync());
        Assert.Equal(after, File.ReadAllBytes(path));
        Assert.Null(desk.Saved.RedoName);
    }

    [Fact]
    public async Task FileThatAnEditMade_IsGoneWhenItIsTakenBack()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        Assert.Null(await desk.SaveAsync("columns", ColumnsFile.Name, _ => "column,quantity\n"));
        Assert.NotEqual(before, files.Everything());
        Assert.Null(await desk.UndoAsync());
        Assert.Equal(before, files.Everything());
    }

    [Fact]
    public async Task Edits_OneAfterTheOtherAtOnce_AreAllThere()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        using FolderDesk desk = await Opened(files);
        string?[] complaints = await Task.WhenAll(Enumerable.Range(0, 40).Select(i => desk.SaveAsync($"{i}", PhasesFile.Name, text => (text ?? "") + $"# {i}\n")));
        Assert.All(complaints, Assert.Null);
        Assert.Equal(40, File.ReadAllLines(Path.Combine(files.Session, "phases.csv")).Length);
        for (int i = 0; i < 40; i++)
        {
            Assert.Null(await desk.UndoAsync());
        }
        Assert.False(File.Exists(Path.Combine(files.Session, "phases.csv")));
    }

    [Fact]
    public async Task FileUnderEdit_IsNeverSeenHalf()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        string path = files.Write("phases.csv", new string('#', 100_000));
        using FolderDesk desk = await Opened(files);
        using CancellationTokenSource over = new();
        Task<HashSet<int>> seen = Task.Run(() =>
        {
            HashSet<int> lengths = [];
            while (!over.IsCancellationRequested)
            {
                lengths.Add(File.ReadAllBytes(path).Length);
            }
            return lengths;
        });
        for (int i = 1; i <= 30; i++)
        {
            Assert.Null(await desk.SaveAsync("longer", PhasesFile.Name, text => text + new string('#', 100_000)));
        }
        await over.CancelAsync();
        Assert.All(await seen, length => Assert.Equal(0, length % 100_000));
        Assert.DoesNotContain(Directory.EnumerateFiles(files.Session), f => f.EndsWith(".tmp", StringComparison.Ordinal));
    }

    [Fact]
    public async Task Edit_OfAFileThatAnotherProgramChanged_IsRefusedAndNothingLost()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        string path = files.Write("flights.csv", "log,ballast_g\none.csv,40\n");
        using FolderDesk desk = await Opened(files);
        File.WriteAllText(path, "log,ballast_g\none.csv,60\n");
        string? complaint = await desk.SaveAsync("80 g", FlightsFile.Name, _ => "log,ballast_g\none.csv,80\n");
        Assert.Contains("changed by another program", complaint, StringComparison.Ordinal);
        Assert.Contains("60", File.ReadAllText(path), StringComparison.Ordinal);
        Assert.Equal(60, desk.View.Flights.Value![0].BallastG);
        Assert.Null(await desk.SaveAsync("80 g", FlightsFile.Name, _ => "log,ballast_g\none.csv,80\n"));
        File.WriteAllText(path, "log,ballast_g\none.csv,20\n");
        Assert.Contains("changed by another program", await desk.UndoAsync(), StringComparison.Ordinal);
        Assert.Contains("20", File.ReadAllText(path), StringComparison.Ordinal);
    }

    [Fact]
    public async Task FolderChangedUnderneath_IsNoticed()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        using FolderDesk desk = await Opened(files);
        TaskCompletionSource told = new();
        desk.Changed += () =>
        {
            if (desk.News is not null)
            {
                told.TrySetResult();
            }
        };
        files.Write("two.csv", TempFolder.QuietLog);
        await told.Task.WaitAsync(TimeSpan.FromMinutes(1));
        Assert.Equal(["one.csv", "two.csv"], desk.View.Logs.Select(l => l.File));
    }

    [Fact]
    public async Task Edit_ThatCannotBe_IsToldAndLeavesTheFile()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        Assert.Equal("no", await desk.SaveAsync("wrong", FlightsFile.Name, _ => throw new global::ThermalTrace.Units.UnusableInputException("no")));
        Assert.Null(await desk.SaveAsync("nothing", FlightsFile.Name, text => text));
        Assert.Equal(before, files.Everything());
        Assert.Null(desk.Saved.UndoName);
    }

    [Theory]
    [InlineData("../out.csv")]
    [InlineData("..\\out.csv")]
    [InlineData("/var/out.csv")]
    [InlineData("C:\\out.csv")]
    [InlineData("a/b.csv")]
    [InlineData("..")]
    [InlineData(".hidden.csv")]
    [InlineData("NUL.csv")]
    [InlineData("com1.csv")]
    [InlineData("flights.csv")]
    [InlineData("AIRFRAME.JSON")]
    [InlineData("page.html")]
    [InlineData("noending")]
    [InlineData("line\nbreak.csv")]
    [InlineData("what?.csv")]
    public async Task Log_WithANameThatIsNone_IsRefused(string name)
    {
        using TempFolder files = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        using MemoryStream content = new(Encoding.UTF8.GetBytes(TempFolder.QuietLog));
        Assert.NotNull(await desk.AddLogAsync(name, content, _ => { }, default));
        Assert.Equal(before, files.Everything());
    }

    [Fact]
    public async Task Log_Added_IsThere_AndGoneWhenTakenBack_AndBackWhenMadeAgain()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        using MemoryStream content = new(Encoding.UTF8.GetBytes(TempFolder.QuietLog));
        Assert.Null(await desk.AddLogAsync("tow.csv", content, _ => { }, default));
        Assert.Equal(["one.csv", "tow.csv"], desk.View.Logs.Select(l => l.File));
        IReadOnlyList<string> after = files.Everything();
        Assert.Equal("tow.csv added", desk.Saved.UndoName);
        Assert.Null(await desk.UndoAsync());
        Assert.Equal(before, files.Everything());
        Assert.Null(await desk.RedoAsync());
        Assert.Equal(after, files.Everything());
    }

    [Fact]
    public async Task Log_OfANameThatIsThere_IsNeverReplaced()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        using FolderDesk desk = await Opened(files);
        using MemoryStream other = new(Encoding.UTF8.GetBytes(TempFolder.QuietLog + "61,120\n")), same = new(Encoding.UTF8.GetBytes(TempFolder.QuietLog));
        Assert.Contains("is another file", await desk.AddLogAsync("one.csv", other, _ => { }, default), StringComparison.Ordinal);
        Assert.Null(await desk.AddLogAsync("one.csv", same, _ => { }, default));
        Assert.Equal(TempFolder.QuietLog, File.ReadAllText(Path.Combine(files.Session, "one.csv")));
        Assert.Null(desk.Saved.UndoName);
    }

    [Fact]
    public async Task Log_OfThreeGigabytes_IsRefusedOnTheWay_AndLeavesNothing()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        using Endless content = new(3_000_000_000);
        string? complaint = await desk.AddLogAsync("large.csv", content, _ => { }, default);
        Assert.Contains("1,000 MB", complaint, StringComparison.Ordinal);
        Assert.True(content.Given < AddedLogs.MostBytes + 1_000_000, $"{content.Given}");
        Assert.Equal(before, files.Everything());
    }

    [Fact]
    public async Task Log_CancelledOnTheWay_LeavesNothing()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        using CancellationTokenSource cancel = new();
        using Endless content = new(100_000_000);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => desk.AddLogAsync("large.csv", content, bytes =>
        {
            if (bytes > 1_000_000)
            {
                cancel.Cancel();
            }
        }, cancel.Token));
        Assert.Equal(before, files.Everything());
    }

    [Fact]
    public async Task Debrief_WritesWhatTheCommandWrites_ToTheByte()
    {
        using TempFolder files = CopyOfSample(), others = CopyOfSample();
        using FolderDesk desk = await Opened(files);
        await desk.StartDebriefAsync();
        Assert.NotNull(desk.Debrief);
        CliRun command = await CliRun.Of("debrief", others.Session);
        Assert.Equal(0, command.ExitCode);
        Assert.Equal(others.Everything(), files.Everything());
    }

    [Fact]
    public async Task Debrief_IsOutOfDate_AfterAnEdit_AndNoLongerWhenThatIsTakenBack()
    {
        using TempFolder files = CopyOfSample();
        using FolderDesk desk = await Opened(files);
        await desk.StartDebriefAsync();
        Assert.False(desk.DebriefIsStale);
        Assert.Null(await desk.SaveAsync("a remark", FlightsFile.Name, text => text + "# a remark\n"));
        Assert.True(desk.DebriefIsStale);
        Assert.Null(await desk.UndoAsync());
        Assert.False(desk.DebriefIsStale);
    }

    [Fact]
    public async Task Debrief_Cancelled_WritesNothing()
    {
        using TempFolder files = CopyOfSample();
        IReadOnlyList<string> before = files.Everything();
        using FolderDesk desk = await Opened(files);
        desk.Changed += () =>
        {
            if (desk.Work.Fraction > 0.3)
            {
                desk.Work.Cancel();
            }
        };
        await desk.StartDebriefAsync();
        Assert.Null(desk.Debrief);
        Assert.Equal(["Cancelled; nothing was written."], desk.DebriefNotices);
        Assert.Equal(before, files.Everything());
    }

    [Fact]
    public async Task Debrief_OfAFolderWithoutFlights_SaysWhy()
    {
        using TempFolder files = TempFolder.WithQuietSession();
        using FolderDesk desk = await Opened(files);
        await desk.StartDebriefAsync();
        Assert.Null(desk.Debrief);
        Assert.Contains(desk.DebriefNotices, n => n.Contains("no flight was found", StringComparison.Ordinal));
    }

    private static async Task<FolderDesk> Opened(TempFolder files)
    {
        FolderDesk desk = new(files.Session);
        await desk.OpenAsync();
        return desk;
    }

    private static TempFolder CopyOfSample()
    {
        TempFolder files = new();
        Directory.CreateDirectory(files.Session);
        foreach (string file in Directory.EnumerateFiles(Sample))
        {
            File.Copy(file, Path.Combine(files.Session, Path.GetFileName(file)));
        }
        return files;
    }

    /// <summary>Zeros without a disk behind them.</summary>
    private sealed class Endless(long length) : Stream
    {
        public long Given { get; private set; }

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => length;

        public override long Position { get => Given; set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count)
        {
            int read = (int)Math.Min(count, length - Given);
            Given += read;
            return read;
        }

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
