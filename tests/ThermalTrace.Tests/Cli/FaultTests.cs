using System.Diagnostics;
using System.Globalization;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Tests.Support;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Cli;

/// <summary>What goes wrong around a program: disks, rights, names, signals, places. Each has its sentence, and nothing is left half-written.</summary>
public sealed class FaultTests
{
    private static readonly string Model = Path.Combine(SharedFolder.Repository, "sample-logs", "tansy-150.json");

    [SmallDiskFact]
    public async Task ADiskThatIsFull_IsNamed_AndNothingIsLeftOnIt()
    {
        using TempFolder folder = WithShortSession();
        using SmallDisk disk = new("size=40k");
        string[][] commands =
        [
            ["debrief", folder.Session, "--out", Path.Combine(disk.Root, "debrief")],
            ["card", "--airframe", Model, "--out", Path.Combine(disk.Root, "card.html")],
            ["simulate", "--out", Path.Combine(disk.Root, "made"), "--flights", "2"],
        ];
        foreach (string[] command in commands)
        {
            CliRun run = await CliRun.Of(command);
            Assert.Equal(1, run.ExitCode);
            Assert.Contains("No space left on device", run.Messages, StringComparison.Ordinal);
            Assert.Equal("", run.Output);
            Assert.Empty(Directory.EnumerateFileSystemEntries(disk.Root));
        }
    }

    [SmallDiskFact]
    public async Task ALogbookOnAFullDisk_KeepsWhatItHad_AndTakesTheSessionOnceThereIsRoom()
    {
        using TempFolder folder = WithShortSession();
        using SmallDisk disk = new("size=400k");
        string results = Path.Combine(folder.Root, "results"), logbook = Path.Combine(disk.Root, "kept.sqlite"), fill = Path.Combine(disk.Root, "fill");
        Assert.Equal(0, (await CliRun.Of("debrief", folder.Session, "--out", results)).ExitCode);
        long room = new DriveInfo(disk.Root).AvailableFreeSpace;
        await File.WriteAllBytesAsync(fill, new byte[room - 12_288]);
        CliRun refused = await CliRun.Of("logbook", "add", results, "--logbook", logbook);
        Assert.NotEqual(0, refused.ExitCode);
        Assert.Contains("disk", refused.Messages, StringComparison.Ordinal);
        File.Delete(fill);
        CliRun added = await CliRun.Of("logbook", "add", results, "--logbook", logbook);
        Assert.True(added.ExitCode == 0, added.Messages);
        Assert.Equal(0, (await CliRun.Of("logbook", "verify", "--logbook", logbook)).ExitCode);
    }

    [SmallDiskFact]
    public async Task AFolderThatCannotBeWrittenTo_IsSaidBeforeTheWork()
    {
        using TempFolder folder = WithShortSession();
        using SmallDisk disk = new("size=4m");
        string session = Path.Combine(disk.Root, "session");
        Copy(folder.Session, session);
        disk.Lock();
        CliRun run = await CliRun.Of("debrief", session);
        Assert.Equal(2, run.ExitCode);
        Assert.Contains("cannot be written to: Read-only file system", run.Messages, StringComparison.Ordinal);
        CliRun prepare = await CliRun.Of("prepare", session);
        Assert.NotEqual(0, prepare.ExitCode);
        CliRun elsewhere = await CliRun.Of("debrief", session, "--out", Path.Combine(folder.Root, "elsewhere"));
        Assert.Equal(0, elsewhere.ExitCode);
    }

    [Fact]
    public void ALogThatVanishesWhileItIsRead_IsNamed()
    {
        using TempFolder folder = WithShortSession();
        using BreakingStream stream = new(ShortSession.Simulated.Logs[0].Bytes, breaksAt: 20_000);
        // The folder's own way to a log, with the disk gone half-way.
        UnusableInputException failure = Assert.Throws<UnusableInputException>(() =>
            FolderFiles.List(folder.Session).Read("day.csv", _ => LogImporter.Read(stream, "day.csv", [])));
        Assert.Equal($"day.csv: cannot be read: {BreakingStream.Words}", failure.Message);
    }

    [Fact]
    public async Task ALogThatIsGone_IsANoticeWhileAnotherIsLeft()
    {
        using TempFolder folder = WithShortSession();
        File.CreateSymbolicLink(Path.Combine(folder.Session, "gone.csv"), Path.Combine(folder.Root, "nowhere.csv"));
        CliRun run = await CliRun.Of("debrief", folder.Session);
        Assert.Equal(0, run.ExitCode);
        Assert.Contains("gone.csv: cannot be read:", run.Messages, StringComparison.Ordinal);
    }

    [Fact]
    public void ALogThatGrowsWhileItIsRead_IsReadToWhereItEnded()
    {
        byte[] bytes = ShortSession.Simulated.Logs[0].Bytes;
        using GrowingStream stream = new(bytes, hiddenAtFirst: 10_000);
        FlightLog grown = LogImporter.Read(stream, "day.csv", []), whole = ShortSession.Import("day.csv", bytes);
        Assert.Equal((whole.Sha256, whole.Rows), (grown.Sha256, grown.Rows));
    }

    [Theory]
    [InlineData("INT")]
    [InlineData("TERM")]
    public async Task ADebriefInterruptedByASignal_LeavesNothing(string signal)
    {
        if (OperatingSystem.IsWindows())
        {
            return; // no signals to send
        }
        using TempFolder folder = new();
        // Far more work than the time that it gets.
        Assert.Equal(0, (await CliRun.Of("simulate", "--out", folder.Session, "--flights", "40", "--rate", "10", "--flight-time", "900", "--logs", "one")).ExitCode);
        IReadOnlyList<string> before = folder.Everything();
        using Process program = Start([], "debrief", folder.Session);
        await Task.Delay(TimeSpan.FromSeconds(1.5));
        using (Process kill = Process.Start("kill", [$"-{signal}", program.Id.ToString(CultureInfo.InvariantCulture)]))
        {
            await kill.WaitForExitAsync();
        }
        await program.WaitForExitAsync();
        Assert.Equal(130, program.ExitCode);
        Assert.Equal(before, folder.Everything());
    }

    [Theory]
    [InlineData("de_DE.UTF-8", "Pacific/Chatham")]
    [InlineData("ar_EG.UTF-8", "America/St_Johns")]
    public async Task AnotherCultureAndTimeZone_GiveTheSameBytes(string culture, string zone)
    {
        using TempFolder folder = WithShortSession();
        string here = Path.Combine(folder.Root, "here"), there = Path.Combine(folder.Root, "there");
        Assert.Equal(0, await Ended(Start([("TZ", "UTC"), ("LANG", "C"), ("LC_ALL", "C")], "debrief", folder.Session, "--out", here)));
        // With one core at that.
        Assert.Equal(0, await Ended(Start([("TZ", zone), ("LANG", culture), ("LC_ALL", culture), ("DOTNET_PROCESSOR_COUNT", "1")],
            "debrief", folder.Session, "--out", there)));
        foreach (string file in Directory.GetFiles(here))
        {
            Assert.Equal(await File.ReadAllBytesAsync(file), await File.ReadAllBytesAsync(Path.Combine(there, Path.GetFileName(file))));
        }
    }

    [Fact]
    public async Task ACultureWithDecimalComma_GivesTheSameBytes()
    {
        using TempFolder folder = WithShortSession();
        string plain = await Results(folder, "plain");
        CultureInfo before = CultureInfo.CurrentCulture;
        CultureInfo commas = (CultureInfo)CultureInfo.InvariantCulture.Clone();
        commas.NumberFormat.NumberDecimalSeparator = ",";
        commas.NumberFormat.NumberGroupSeparator = ".";
        commas.NumberFormat.NegativeSign = "−";
        try
        {
            CultureInfo.CurrentCulture = commas;
            CultureInfo.DefaultThreadCurrentCulture = commas;
            Assert.Equal("−1,5", (-1.5).ToString(CultureInfo.CurrentCulture));
            Assert.Equal(plain, await Results(folder, "commas"));
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
            CultureInfo.DefaultThreadCurrentCulture = null;
        }
    }

    [Theory]
    [InlineData("יום טוב.csv")]
    [InlineData("رحلة ١.csv")]
    [InlineData("\U0001F6E9 abc\u202Efdp.csv")]
    [InlineData("CON.csv")]
    [InlineData("nul.aux.csv")]
    [InlineData("-out.csv")]
    [InlineData("a b; c,d'e.csv")]
    public async Task ALogOfAnyName_IsNotedReadAndReported(string name)
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", ShortSession.Simulated.AirframeJson);
        folder.Write("flights.csv", ShortSession.Simulated.FlightsCsv.Replace("day.csv", $"\"{name}\"", StringComparison.Ordinal));
        folder.Write(name, ShortSession.Simulated.Logs[0].Bytes);
        CliRun run = await CliRun.Of("debrief", folder.Session, "--json");
        Assert.True(run.ExitCode == 0, run.Messages);
        using System.Text.Json.JsonDocument document = System.Text.Json.JsonDocument.Parse(run.Output);
        Assert.Equal(name, document.RootElement.GetProperty("logs")[0].GetProperty("file").GetString());
        Assert.Equal(2, document.RootElement.GetProperty("polars").GetArrayLength());
        Assert.DoesNotContain('\u202E', run.Messages);
    }

    [Fact]
    public async Task APathOfMoreThan260Characters_AndANameAsLongAsCanBe_AreWrittenTo()
    {
        using TempFolder folder = WithShortSession();
        string deep = Path.Combine([folder.Root, .. Enumerable.Range(0, 6).Select(i => new string((char)('a' + i), 60))]);
        Assert.True(deep.Length > 260);
        CliRun run = await CliRun.Of("debrief", folder.Session, "--out", deep);
        Assert.True(run.ExitCode == 0, run.Messages);
        string card = Path.Combine(deep, new string('k', 250) + ".html");
        Assert.Equal(0, (await CliRun.Of("card", "--airframe", Model, "--out", card)).ExitCode);
        Assert.True(File.Exists(card));
    }

    [Fact]
    public async Task NotesWithWindowsLineEnds_TellTheSame()
    {
        using TempFolder folder = WithShortSession();
        string unix = await Results(folder, "unix");
        foreach (string note in new[] { "airframe.json", "flights.csv" })
        {
            string path = Path.Combine(folder.Session, note);
            await File.WriteAllTextAsync(path, (await File.ReadAllTextAsync(path)).ReplaceLineEndings("\r\n"));
        }
        // The hashes of what was read differ, and nothing else.
        Assert.Equal(WithoutInputs(unix), WithoutInputs(await Results(folder, "windows")));
    }

    private static string WithoutInputs(string json)
    {
        System.Text.Json.Nodes.JsonNode document = System.Text.Json.Nodes.JsonNode.Parse(json)!;
        Assert.Equal(["airframe.json", "flights.csv"], document["inputs"]!.AsArray().Select(i => i!["file"]!.GetValue<string>()));
        document["inputs"] = null;
        return document.ToJsonString();
    }

    private static async Task<string> Results(TempFolder folder, string name)
    {
        string place = Path.Combine(folder.Root, name);
        CliRun run = await CliRun.Of("debrief", folder.Session, "--out", place);
        Assert.True(run.ExitCode == 0, run.Messages);
        return await File.ReadAllTextAsync(Path.Combine(place, "results.json"));
    }

    private static TempFolder WithShortSession()
    {
        TempFolder folder = new();
        folder.Write("airframe.json", ShortSession.Simulated.AirframeJson);
        folder.Write("flights.csv", ShortSession.Simulated.FlightsCsv);
        folder.Write(ShortSession.Simulated.Logs[0].FileName, ShortSession.Simulated.Logs[0].Bytes);
        return folder;
    }

    private static void Copy(string from, string to)
    {
        Directory.CreateDirectory(to);
        foreach (string file in Directory.GetFiles(from))
        {
            File.Copy(file, Path.Combine(to, Path.GetFileName(file)));
        }
    }

    private static async Task<int> Ended(Process program)
    {
        using (program)
        {
            Task<string> output = program.StandardOutput.ReadToEndAsync(), messages = program.StandardError.ReadToEndAsync();
            await program.WaitForExitAsync();
            await Task.WhenAll(output, messages);
            return program.ExitCode;
        }
    }

    private static Process Start((string Name, string Value)[] environment, params string[] args)
    {
        ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "thermaltrace.dll"), .. args])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            StandardOutputEncoding = Encoding.UTF8,
            StandardErrorEncoding = Encoding.UTF8,
        };
        foreach ((string name, string value) in environment)
        {
            start.Environment[name] = value;
        }
        return Process.Start(start)!;
    }

    /// <summary>A file whose disk goes away.</summary>
    private sealed class BreakingStream(byte[] bytes, int breaksAt) : MemoryStream(bytes)
    {
        public const string Words = "the device is gone";

        public override int Read(Span<byte> buffer) => Position >= breaksAt ? throw new IOException(Words) : base.Read(buffer[..Math.Min(buffer.Length, 4096)]);
    }

    /// <summary>A file whose end comes to the disk while its beginning is read.</summary>
    private sealed class GrowingStream : MemoryStream
    {
        private readonly byte[] _rest;

        public GrowingStream(byte[] bytes, int hiddenAtFirst)
        {
            Write(bytes.AsSpan(0, bytes.Length - hiddenAtFirst));
            Position = 0;
            _rest = bytes[^hiddenAtFirst..];
        }

        private bool _grown;

        public override int Read(Span<byte> buffer)
        {
            if (!_grown)
            {
                _grown = true;
                long at = Position;
                Position = Length;
                Write(_rest);
                Position = at;
            }
            return base.Read(buffer);
        }
    }
}
