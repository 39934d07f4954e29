using System.Globalization;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>What must not change an answer.</summary>
public class InvarianceTests
{
    [Theory]
    [InlineData("0.37")]
    [InlineData("86399.91")]
    [InlineData("-123456789.05")]
    public void ShiftingAllTimes_ChangesNothing(string shiftS)
    {
        decimal shift = decimal.Parse(shiftS, CultureInfo.InvariantCulture);
        string text = Encoding.UTF8.GetString(SessionWriter.Write(ShortSession.Simulated, LogFlavour.EpochSeconds).Logs[0].Bytes);
        string[] lines = text.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        StringBuilder shifted = new(lines[0] + "\n");
        foreach (string line in lines[1..])
        {
            int comma = line.IndexOf(',', StringComparison.Ordinal);
            decimal time = decimal.Parse(line.AsSpan(0, comma), NumberStyles.Float, CultureInfo.InvariantCulture);
            shifted.Append((time + shift).ToString(CultureInfo.InvariantCulture)).Append(line.AsSpan(comma)).Append('\n');
        }
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithLog(shifted.ToString()));
        Agreement.Of(ShortSession.Document, document).RequireWithin(Agreement.Rounding);
        Assert.Equal(ShortSession.Document.Flights.Select(f => f.StartS), document.Flights.Select(f => Math.Round(f.StartS, 6)), Near);
    }

    [Theory]
    [InlineData(0.05)]
    [InlineData(151.3)] // past the date line
    [InlineData(-137.77)]
    public void AnotherPlaceOnTheSameParallel_ChangesNothing(double eastDeg)
    {
        Session moved = Changed((quantity, column) => quantity == Quantity.Longitude
            ? [.. column.Select(v => Math.IEEERemainder(v + eastDeg, 360))] : column);
        Agreement.Of(ShortSession.Document, ShortSession.Debriefed(moved)).RequireWithin(Agreement.Rounding);
    }

    [Fact]
    public void AnotherPlaceSomeKilometresNorth_ChangesNothing()
    {
        FlightLog log = ShortSession.Session.Logs[0];
        LocalTangentPlane here = FlightSearch.PlaneOf(log)!, there = new(here.OriginLatitudeDeg + 0.04, here.OriginLongitudeDeg - 0.03);
        Session moved = Placed(log, here, there, (east, north) => (east, north), 0);
        Agreement.Of(ShortSession.Document, ShortSession.Debriefed(moved)).RequireWithin(Agreement.Rounding);
    }

    [Theory]
    [InlineData(90)]
    [InlineData(33.3)]
    [InlineData(-148.2)]
    public void TurningTheFlight_TurnsTheWindAndNothingElse(double clockwiseDeg)
    {
        FlightLog log = ShortSession.Session.Logs[0];
        LocalTangentPlane plane = FlightSearch.PlaneOf(log)!;
        (double sin, double cos) = Math.SinCos(clockwiseDeg * Math.PI / 180);
        Session turned = Placed(log, plane, plane, (east, north) => (east * cos + north * sin, north * cos - east * sin), clockwiseDeg);
        ResultsDocument document = ShortSession.Debriefed(turned);
        // The search for the wind's own variability ends within a tolerance, and the axes of east and north decide where.
        Agreement.Of(ShortSession.Document, document, clockwiseDeg).RequireWithin(Agreement.Rounding with { WindMps = 1e-3, SinkMps = 1e-3 });
        // The wind must have turned for the comparison to mean anything.
        Assert.All(ShortSession.Document.Flights.Zip(document.Flights), f =>
            Assert.InRange(Math.Abs(Math.IEEERemainder(f.Second.Wind.FromDeg!.Value - f.First.Wind.FromDeg!.Value - clockwiseDeg, 360)), 0, 0.01));
    }

    [Theory]
    [InlineData('|', "Altitude [ft]", 0.3048, "Ground speed [kn]", 1852.0 / 3600)]
    [InlineData(';', "Height in km", 1000, "Ground speed (mph)", 0.44704)]
    [InlineData('\t', "alt_cm", 0.01, "GroundSpeed km/h", 1 / 3.6)]
    public void UnitsAndDelimiters_ChangeNothing(char delimiter, string altitude, double metres, string speed, double mps)
    {
        (string header, string[] rows) = ShortSession.LogLines;
        string[] names = header.Split(',');
        int height = Array.IndexOf(names, "altitude_m"), over = Array.IndexOf(names, "ground_speed_mps");
        (names[height], names[over]) = (altitude, speed);
        StringBuilder text = new(string.Join(delimiter, names) + "\n");
        foreach (string row in rows)
        {
            string[] cells = row.Split(',');
            cells[height] = (ShortSession.Number(cells[height]) / metres).ToString("F9", CultureInfo.InvariantCulture);
            cells[over] = cells[over].Length == 0 ? "" : (ShortSession.Number(cells[over]) / mps).ToString("F9", CultureInfo.InvariantCulture);
            text.Append(string.Join(delimiter, cells)).Append('\n');
        }
        Agreement.Of(ShortSession.Document, ShortSession.Debriefed(ShortSession.WithLog(text.ToString()))).RequireWithin(Agreement.Rounding);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void SplittingALogAtAPause_NumbersFlightsAnewAndChangesNothingElse(int flightsInTheFirst)
    {
        (string header, List<string[]> parts) = PausedParts();
        string[] ballast = ["0", "70", "0", "70"];
        FlightLog Log(string name, IEnumerable<string[]> some) => ShortSession.Import(name, Encoding.UTF8.GetBytes(string.Join('\n', some.SelectMany(p => p).Prepend(header)) + "\n"));
        Session one = ShortSession.Session with { Logs = [Log("day.csv", parts)] };
        Session two = ShortSession.WithFlights(["log,flight,ballast_g", .. ballast.Select((b, i) => i < flightsInTheFirst ? $"a.csv,{i + 1},{b}" : $"b.csv,{i - flightsInTheFirst + 1},{b}")])
            with
        { Logs = [Log("a.csv", parts.Take(flightsInTheFirst)), Log("b.csv", parts.Skip(flightsInTheFirst))] };
        ResultsDocument together = ShortSession.Debriefed(one), apart = ShortSession.Debriefed(two);
        Assert.Equal(Enumerable.Range(1, flightsInTheFirst).Concat(Enumerable.Range(1, 4 - flightsInTheFirst)), apart.Flights.Select(f => f.Number));
        Agreement.Of(together, apart).RequireWithin(Agreement.Rounding);
    }

    [Fact]
    public void AnyNumberOfThreads_GivesTheSameBytes()
    {
        // A log a flight: logs are what is worked on at once.
        Session session = ShortSession.Read(Simulator.Run(ShortSession.Options with { Logs = LogSplit.PerFlight }));
        (string json, string html) = Written(Debrief.Run(session, new DebriefOptions { Threads = 1 }));
        foreach (int threads in (int[])[2, 4])
        {
            Assert.Equal((json, html), Written(Debrief.Run(session, new DebriefOptions { Threads = threads })));
        }
    }

    [Fact]
    public void TheSameInputTwice_GivesTheSameBytes() =>
        Assert.Equal(Written(ShortSession.Result), Written(Debrief.Run(ShortSession.Read(Simulator.Run(ShortSession.Options)), new DebriefOptions())));

    [Fact]
    public void AnotherSeedOfTheDraws_ChangesBoundsAndKeepsTheAnswer()
    {
        ResultsDocument other = Debrief.Run(ShortSession.Session, new DebriefOptions { Seed = 99 }).Document;
        Assert.Equal(99, other.Seed);
        Assert.NotEqual(Written(ShortSession.Result).Json, Json(other));
        // 600 draws: a 5 % point wanders by about a twelfth of the band, a probability by 0.02 once in a while 0.06. A short
        // session's glide ratio has a band some 5 wide.
        Agreement.Of(ShortSession.Document, other).RequireWithin(Agreement.Rounding with { SinkMps = 0.05, RoundTripMps = 0.1, Probability = 0.1, GlideRatio = 0.5 });
    }

    private static (string Json, string Html) Written(DebriefResult result)
    {
        using StringWriter html = new();
        ReportHtml.Write(html, result.Document, result.Traces);
        return (Json(result.Document), html.ToString());
    }

    private static string Json(ResultsDocument document)
    {
        using MemoryStream json = new();
        ResultsJson.Write(json, document);
        return Encoding.UTF8.GetString(json.ToArray());
    }

    private static bool Near(double a, double b) => Math.Abs(a - b) < 1e-5;

    private static Session Changed(Func<Quantity, double[], double[]?> change) =>
        ShortSession.Session with { Logs = [ShortSession.With(ShortSession.Session.Logs[0], change)] };

    private static Session Placed(FlightLog log, LocalTangentPlane from, LocalTangentPlane to, Func<double, double, (double, double)> turn, double clockwiseDeg)
    {
        double[] latitude = log[Quantity.Latitude].ToArray(), longitude = log[Quantity.Longitude].ToArray();
        for (int i = 0; i < latitude.Length; i++)
        {
            (double east, double north) = from.FromDegrees(latitude[i], longitude[i]);
            (east, north) = turn(east, north);
            (latitude[i], longitude[i]) = to.ToDegrees(east, north);
        }
        return Changed((quantity, column) => quantity switch
        {
            Quantity.Latitude => latitude,
            Quantity.Longitude => longitude,
            Quantity.Track => [.. column.Select(v => (v + clockwiseDeg + 360) % 360)],
            _ => column,
        });
    }

    /// <summary>The session with the logger off for more than a minute between flights, flight by flight.</summary>
    private static (string Header, List<string[]> Parts) PausedParts()
    {
        SimulatedSession paused = Simulator.Run(ShortSession.Options with { Paused = true });
        string[] lines = Encoding.UTF8.GetString(paused.Logs[0].Bytes).Split("\r\n", StringSplitOptions.RemoveEmptyEntries);
        List<List<string>> parts = [[]];
        decimal before = 0;
        foreach (string line in lines[1..])
        {
            int comma = line.IndexOf(',', StringComparison.Ordinal);
            decimal time = decimal.Parse(line.AsSpan(0, comma), NumberStyles.Float, CultureInfo.InvariantCulture);
            if (time - before > 5)
            {
                parts.Add([]);
            }
            before = time;
            parts[^1].Add((time + 60 * (parts.Count - 1)).ToString("F2", CultureInfo.InvariantCulture) + line[comma..]);
        }
        Assert.Equal(4, parts.Count);
        return (lines[0], [.. parts.Select(p => p.ToArray())]);
    }
}
