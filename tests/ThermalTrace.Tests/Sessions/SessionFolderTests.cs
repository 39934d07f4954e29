using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Sessions;

public sealed class SessionFolderTests
{
    [Fact]
    public void Logs_AreReadInOrdinalOrderWhateverTheCaseOfTheirEndings()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("b.CSV", TempFolder.QuietLog);
        folder.Write("Zebra.Csv", TempFolder.QuietLog);
        folder.Write(".hidden.csv", TempFolder.QuietLog);
        folder.Write("readme.txt", "no log");
        Directory.CreateDirectory(Path.Combine(folder.Session, "deeper.csv"));
        Session session = SessionFolder.Read(folder.Session);
        Assert.Equal(["Zebra.Csv", "b.CSV", "one.csv"], session.Logs.Select(l => l.File));
        Assert.Empty(session.Notices);
    }

    [Fact]
    public void ATableThatTheAirframeNames_IsNoLog()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("section.csv", "reynolds,cl,cd\n1e5,0,0.01\n1e5,0.5,0.01\n1e5,1,0.02\n");
        folder.Write("airframe.json", TempFolder.Airframe.Replace("}", "\"airfoil_polar\": \"section.csv\" }", StringComparison.Ordinal));
        Session session = SessionFolder.Read(folder.Session);
        Assert.Equal(["one.csv"], session.Logs.Select(l => l.File));
        Assert.Equal(3, session.Airframe.AirfoilPolar!.Cl.Count);
    }

    [Fact]
    public void ALogThatCannotBeUsed_IsANoticeWhileAnotherIsLeft()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("empty.csv", "");
        folder.Write("flights.csv", "log,ballast_g\nempty.csv,30\n");
        Session session = SessionFolder.Read(folder.Session);
        Assert.Single(session.Logs);
        string notice = Assert.Single(session.Notices);
        Assert.Contains("empty.csv", notice, StringComparison.Ordinal);
    }

    [Fact]
    public void AMassAboveTheLimit_IsANotice()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("airframe.json", TempFolder.Airframe.Replace("}", "\"max_flying_mass_g\": 300 }", StringComparison.Ordinal));
        folder.Write("flights.csv", "log,ballast_g\none.csv,50\n");
        Assert.Equal(["flights.csv:2: the model flew at 312 g, above max_flying_mass_g 300; the flight counts, and nothing that heavy is suggested"],
            SessionFolder.Read(folder.Session).Notices);
    }

    [Theory]
    [InlineData("utf-8")]
    [InlineData("utf-16")]
    [InlineData("utf-16BE")]
    [InlineData("latin1")]
    public void Notes_InAnyEncodingThatASpreadsheetWrites_ReadTheSame(string encoding)
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe);
        folder.Write("Höhe.csv", TempFolder.QuietLog);
        Encoding code = Encoding.GetEncoding(encoding);
        folder.Write("flights.csv", [.. code.GetPreamble(), .. code.GetBytes("log;ballast_g\r\nHöhe.csv;12,5\r\n")]);
        FlightNote note = Assert.Single(SessionFolder.Read(folder.Session).Flights);
        Assert.Equal(("Höhe.csv", 12.5), (note.Log, note.BallastG));
    }

    [Fact]
    public void ColumnNotes_ReachTheImporter()
    {
        using TempFolder folder = new();
        folder.Write("airframe.json", TempFolder.Airframe);
        folder.Write("one.csv", TempFolder.QuietLog.Replace("altitude_m", "zog", StringComparison.Ordinal));
        folder.Write("columns.csv", "log,column,quantity,unit\n,zog,altitude,ft\n");
        FlightLog log = Assert.Single(SessionFolder.Read(folder.Session).Logs);
        // The international foot is 0.3048 m.
        Assert.Equal(120 * 0.3048, log[Quantity.Altitude][0], 1e-9);
    }

    [Fact]
    public void Reading_CanBeCancelledAndTellsHowFarItIs()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        folder.Write("two.csv", TempFolder.QuietLog);
        using CancellationTokenSource cancel = new();
        cancel.Cancel();
        Assert.ThrowsAny<OperationCanceledException>(() => SessionFolder.Read(folder.Session, null, cancel.Token));
        List<double> seen = [];
        SessionFolder.Read(folder.Session, new Seen(seen));
        Assert.NotEmpty(seen);
        Assert.Equal(seen.Order(), seen);
        Assert.All(seen, f => Assert.InRange(f, 0, 1 + 1e-9));
    }

    [Fact]
    public void AnAirframe_IsReadByItsPathOrItsFolder()
    {
        using TempFolder folder = TempFolder.WithQuietSession();
        Assert.Equal("Tansy", SessionFolder.ReadAirframe(folder.Session).Name);
        Assert.Equal("Tansy", SessionFolder.ReadAirframe(Path.Combine(folder.Session, "airframe.json")).Name);
        Assert.Throws<UnusableInputException>(() => SessionFolder.ReadAirframe(Path.Combine(folder.Session, "other.json")));
    }

    [SharedTheory]
    [InlineData("calm_evening", 3)]
    [InlineData("windy_day", 3)]
    [InlineData("rough_free", 1)]
    [InlineData("electric_day", 3)]
    [InlineData("altitude_only", 3)]
    public void PracticeSessions_AreReadWhole(string name, int logs)
    {
        Session session = SessionFolder.Read(Path.Combine(SharedFolder.Path!, "practice", name));
        Assert.Equal(logs, session.Logs.Count);
        Assert.Empty(session.Notices);
        Assert.All(session.Flights, f => Assert.NotNull(f.BallastG));
    }

    private sealed class Seen(List<double> values) : IProgress<double>
    {
        public void Report(double value) => values.Add(value);
    }
}
