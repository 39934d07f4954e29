using System.Text;
using System.Text.Json;
using Parquet;
using Parquet.Schema;
using ThermalTrace.Logbook;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Logbook;

public sealed class ExchangeTests : IDisposable
{
    private readonly TempFolder _folder = new();
    private readonly Dictionary<string, byte[]> _files = [];
    private readonly LogbookFile _logbook;
    private readonly LogbookSession[] _sessions;

    public ExchangeTests()
    {
        _logbook = LogbookFile.OpenToWrite(Path.Combine(_folder.Root, "ours.sqlite"));
        LogbookSession hostile = MadeUpSession.Of(3, "=cmd|' /C calc'!A0");
        _sessions =
        [
            MadeUpSession.Of(1) with { Reading = new FieldReading("'); DROP TABLE session;--", 2.5, 2) },
            MadeUpSession.Of(2, "  \u202Egnp.exe, \"quoted\" ", date: null),
            hostile with { Why = "-2+3\r\n\"next line\"", Program = "'=1", Evidence = hostile.Evidence with { Score = [-0.0, double.Epsilon, double.MaxValue, 1e-300, Math.PI, 0.1 + 0.2] } },
        ];
        _logbook.AddExported(_sessions);
    }

    public void Dispose()
    {
        _logbook.Dispose();
        _folder.Dispose();
    }

    [Fact]
    public void ExportedAsJson_AndAddedElsewhere_NothingIsLost()
    {
        Export(ExportFormats.Json);
        using JsonDocument json = JsonDocument.Parse(_files["logbook.json"]);
        Same(LogbookImport.ReadJson(json.RootElement, "logbook.json"));
    }

    [Fact]
    public void ExportedAsTables_AndAddedElsewhere_NothingIsLost()
    {
        Export(ExportFormats.Csv);
        Assert.Equal(["logbook-climb.csv", "logbook-drag.csv", "logbook-field_reading.csv", "logbook-flight.csv", "logbook-log.csv", "logbook-session.csv"], _files.Keys.Order(StringComparer.Ordinal));
        Same(LogbookImport.ReadCsv(Open));
    }

    [Fact]
    public void TextInTables_IsNoFormula_AndNumbersStayNumbers()
    {
        Export(ExportFormats.Csv);
        string sessions = Encoding.UTF8.GetString(_files["logbook-session.csv"]);
        Assert.Contains(",'=cmd|' /C calc'!A0,", sessions, StringComparison.Ordinal);
        Assert.Contains("\"'-2+3\r\n\"\"next line\"\"\"", sessions, StringComparison.Ordinal);
        Assert.DoesNotContain(",=", sessions, StringComparison.Ordinal);
        Assert.Matches(@",-\d", Encoding.UTF8.GetString(_files["logbook-drag.csv"])); // in lists; a score may be negative
    }

    [Fact]
    public void RowsSortedBySomeoneElse_AreReadAsWell()
    {
        Export(ExportFormats.Csv);
        string[] lines = Encoding.UTF8.GetString(_files["logbook-climb.csv"]).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        _files["logbook-climb.csv"] = Encoding.UTF8.GetBytes(string.Join("\r\n", [lines[0], .. lines.Skip(1).Reverse()]));
        Same(LogbookImport.ReadCsv(Open));
    }

    [Fact]
    public async Task ExportedAsParquet_HasTheSameRows()
    {
        Export(ExportFormats.Parquet);
        await using ParquetReader reader = await ParquetReader.CreateAsync(new MemoryStream(_files["logbook-flight.parquet"]));
        Assert.Equal(KeptTables.Flight.Columns.Select(c => c.Name), reader.Schema.GetDataFields().Select(f => f.Name));
        using ParquetRowGroupReader group = reader.OpenRowGroupReader(0);
        Assert.Equal(18, group.RowCount);
        double?[] aloft = new double?[18], mass = new double?[18];
        string?[] logs = new string?[18];
        DataField Field(string name) => reader.Schema.GetDataFields().Single(f => f.Name == name);
        await group.ReadAsync<double>(Field("aloft_s"), aloft.AsMemory());
        await group.ReadAsync<double>(Field("ballast_g"), mass.AsMemory());
        await group.ReadAsync(Field("log"), logs.AsMemory());
        var flights = _sessions.OrderBy(s => s.Id, StringComparer.Ordinal).SelectMany(s => s.Evidence.Flights).ToArray();
        Assert.Equal(flights.Select(f => (double?)f.AloftS), aloft);
        Assert.Equal(flights.Select(f => f.BallastG), mass);
        Assert.Equal(flights.Select(f => f.Log), logs);
        Assert.Equal(6, _files.Count);
        Assert.All(_files.Values, f => Assert.Equal("PAR1", Encoding.ASCII.GetString(f, f.Length - 4, 4)));
    }

    [Fact]
    public void OfTwoVersionsOfASession_TheLaterStays()
    {
        LogbookSession ours = _sessions[0], earlier = ours with { Verdict = "clear", ChangedAt = "2020-01-01T00:00:00Z" }, later = ours with { Verdict = "clear", ChangedAt = "2036-01-01T00:00:00Z" };
        Assert.Equal(Added.Unchanged, _logbook.AddExported([ours])[0].What);
        AddOutcome kept = _logbook.AddExported([earlier])[0];
        Assert.Equal(Added.KeptLater, kept.What);
        Assert.Contains("the later one stays", Assert.Single(kept.Sentences), StringComparison.Ordinal);
        Assert.Equal("leaning", _logbook.Find(ours.Id).Verdict);
        Assert.Equal(Added.Replaced, _logbook.AddExported([later])[0].What);
        Assert.Equal(("clear", ours.AddedAt, later.ChangedAt), (_logbook.Find(ours.Id).Verdict, _logbook.Find(ours.Id).AddedAt, _logbook.Find(ours.Id).ChangedAt));
        Assert.Empty(_logbook.Verify().Damage);
    }

    [Theory]
    [InlineData("logbook-flight.csv", ",log-01.csv,1,", ",log-01.csv,one,", "logbook-flight.csv:2: number \"one\" is not what was expected: counted from 1 in its log")]
    [InlineData("logbook-flight.csv", "ballast_g", "ballast_oz", "logbook-flight.csv:1: unknown column \"ballast_oz\"")]
    [InlineData("logbook-log.csv", ",rows\r", "\r", "logbook-log.csv:1: the header has no column \"rows\"")]
    [InlineData("logbook-session.csv", "Tansy", "\"Tansy", "a double quote is not closed")]
    [InlineData("logbook-climb.csv", null, null, "logbook-climb.csv: is not there; expected all tables of the export in one folder")]
    [InlineData("logbook-drag.csv", "[", "{", "is not what was expected")]
    public void ATableThatCannotBe_IsRefusedWithItsPlace(string file, string? from, string? to, string sentence)
    {
        Export(ExportFormats.Csv);
        if (from is null)
        {
            _files.Remove(file);
        }
        else
        {
            string text = Encoding.UTF8.GetString(_files[file]);
            int at = text.IndexOf(from, StringComparison.Ordinal);
            _files[file] = Encoding.UTF8.GetBytes(text[..at] + to + text[(at + from.Length)..]);
        }
        Assert.Contains(sentence, Assert.Throws<UnusableInputException>(() => LogbookImport.ReadCsv(Open)).Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{}", "is not an exported logbook")]
    [InlineData("[1]", "is not an exported logbook")]
    [InlineData("{\"schema\":\"thermaltrace.logbook/1\",\"version\":99,\"sessions\":[]}", "was exported by a later version")]
    [InlineData("{\"schema\":\"thermaltrace.logbook/1\",\"sessions\":[{}]}", "$.sessions[0]: has no \"session\" with an \"id\"")]
    [InlineData("{\"schema\":\"thermaltrace.logbook/1\",\"sessions\":[{\"session\":{\"id\":\"a\"}}]}", "has no \"airframe\"")]
    [InlineData("{\"schema\":\"thermaltrace.logbook/1\",\"sessions\":[{\"session\":{\"id\":\"a\"},\"flight\":3}]}", "has no \"airframe\"")]
    public void JsonThatCannotBe_IsRefusedWithItsPlace(string text, string sentence)
    {
        using JsonDocument json = JsonDocument.Parse(text);
        Assert.Contains(sentence, Assert.Throws<UnusableInputException>(() => LogbookImport.ReadJson(json.RootElement, "logbook.json")).Message, StringComparison.Ordinal);
    }

    private void Export(ExportFormats formats)
    {
        Dictionary<string, MemoryStream> streams = [];
        ExportSummary summary = LogbookExport.Write(_logbook, formats, name => streams[name] = new MemoryStream());
        Assert.Equal(3, summary.Sessions);
        Assert.Empty(summary.Damaged);
        foreach ((string name, MemoryStream stream) in streams)
        {
            _files[name] = stream.ToArray();
        }
    }

    private StreamReader? Open(string name) => _files.TryGetValue(name, out byte[]? bytes) ? new StreamReader(new MemoryStream(bytes)) : null;

    private void Same(IReadOnlyList<LogbookSession> read)
    {
        using LogbookFile theirs = LogbookFile.OpenToWrite(Path.Combine(_folder.Root, "theirs.sqlite"));
        Assert.All(theirs.AddExported(read), o => Assert.Equal(Added.New, o.What));
        foreach (LogbookSession session in _sessions)
        {
            Assert.Equal(MadeUpSession.Text(session), MadeUpSession.Text(theirs.Find(session.Id)));
        }
        Assert.Equal(_sessions.Length, theirs.List().Count);
        Assert.Equal(_logbook.DataHash("Tansy 150"), theirs.DataHash("Tansy 150"));
        Assert.Empty(theirs.Verify().Damage);
        Assert.All(theirs.AddExported(read), o => Assert.Equal(Added.Unchanged, o.What));
    }
}
