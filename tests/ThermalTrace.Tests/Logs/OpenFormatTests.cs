using System.Globalization;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Logs;

/// <summary>IGC (FAI IGC data file standard, appendix A) and GPX 1.1.</summary>
public class OpenFormatTests
{
    private const string Extensions = "I053638FXA3940SIU4143GSP4446ENL4749GFO";

    private static string Fix(int secondOfDay, double latitude, double longitude, int pressureM, int gpsM, char validity = 'A', string more = "")
    {
        TimeSpan t = TimeSpan.FromSeconds(secondOfDay);
        string Minutes(double v, int width) => ((int)Math.Abs(v)).ToString(new string('0', width), CultureInfo.InvariantCulture)
            + ((int)Math.Round((Math.Abs(v) - (int)Math.Abs(v)) * 60000)).ToString("00000", CultureInfo.InvariantCulture);
        return $"B{t:hhmmss}{Minutes(latitude, 2)}{(latitude < 0 ? 'S' : 'N')}{Minutes(longitude, 3)}{(longitude < 0 ? 'W' : 'E')}{validity}{pressureM.ToString("00000;-0000", CultureInfo.InvariantCulture)}{gpsM:00000}{more}\n";
    }

    [Fact]
    public void TheWorkedFix_IsReadAsTheStandardSays()
    {
        // shared/checks.md section 12: 13:53:23, 51° 05.725' N, 006° 57.283' E, 3D, 412 m, 490 m, GSP 93 km/h.
        FlightLog log = SampleFlight.Import("AXXX000\nHFDTE170717\n" + Extensions + "\n"
            + "B1353235105725N00657283EA004120049000710093025010\nB1353255105745N00657303EA004130049100710092025010\n");
        Assert.Equal(2, log.Rows);
        Assert.Equal(new DateTimeOffset(2017, 7, 17, 13, 53, 23, TimeSpan.Zero), log.StartedAt);
        Assert.Equal(50003, log.ClockAtStartS);
        Assert.Equal(51.0954167, log[Quantity.Latitude][0], 5e-8);
        Assert.Equal(6.9547167, log[Quantity.Longitude][0], 5e-8);
        Assert.Equal(412, log[Quantity.Altitude][0]);
        Assert.Equal(490, log[Quantity.GpsAltitude][0]);
        Assert.Equal(93 / 3.6, log[Quantity.GroundSpeed][0], 1e-12);
        Assert.False(log.Has(Quantity.Motor));
        Assert.Contains(log.Problems, p => p.Text == "4 extensions of the B record not used: FXA, SIU, ENL, GFO");
    }

    [Theory]
    [InlineData("HFDTE090526")]
    [InlineData("HFDTEDATE:090526,01")]
    [InlineData("HFDTEDATE: 090526")]
    [InlineData("HFDTE 090526")]
    public void BothStylesOfDate_AreRead(string record)
    {
        FlightLog log = SampleFlight.Import("AXXX\n" + record + "\n" + Fix(36000, 47, 9, 100, 150) + Fix(36001, 47, 9, 101, 151));
        Assert.Equal(new DateTimeOffset(2026, 5, 9, 10, 0, 0, TimeSpan.Zero), log.StartedAt);
    }

    [Fact]
    public void Midnight_GoesOn()
    {
        FlightLog log = SampleFlight.Import("AXXX\nHFDTE090526\n" + Fix(86398, 47, 9, 100, 150) + Fix(86399, 47, 9, 101, 151) + Fix(0, 47, 9, 102, 152) + Fix(1, 47, 9, 103, 153));
        Assert.Equal([0.0, 1, 2, 3], log.TimeS.ToArray());
    }

    [Fact]
    public void SouthAndWest_AreNegative_AndSoIsAnAltitudeBelowTheStandardLevel()
    {
        FlightLog log = SampleFlight.Import("AXXX\nHFDTE090526\n" + Fix(1, -33.5, -70.25, -27, 44) + Fix(2, -33.5, -70.25, -28, 45));
        Assert.Equal(-33.5, log[Quantity.Latitude][0], 1e-9);
        Assert.Equal(-70.25, log[Quantity.Longitude][0], 1e-9);
        Assert.Equal(-27, log[Quantity.Altitude][0]);
    }

    [Fact]
    public void AFixWithoutHeight_LosesItsGpsAltitude_AndIsCounted()
    {
        FlightLog log = SampleFlight.Import("AXXX\nHFDTE090526\n" + Fix(1, 47, 9, 100, 150) + Fix(2, 47, 9, 101, 0, 'V') + Fix(3, 47, 9, 102, 152));
        Assert.Equal([150, double.NaN, 152], log[Quantity.GpsAltitude].ToArray());
        Assert.Contains(log.Problems, p => p.Line == 4 && p.Text.StartsWith("1 fix marked V", StringComparison.Ordinal));
    }

    // Units and field sizes of the extensions: FAI IGC data file standard, appendix A, from memory but for GSP (shared/checks.md 12).
    [Theory]
    [InlineData("GSP", "108", Quantity.GroundSpeed, 30)]
    [InlineData("IAS", "090", Quantity.Airspeed, 25)]
    [InlineData("TAS", "09000", Quantity.Airspeed, 25)]
    [InlineData("TRT", "271", Quantity.Track, 271)]
    [InlineData("VAT", "0152", Quantity.ClimbRate, 15.2)]
    [InlineData("VAR", "-012", Quantity.ClimbRate, -1.2)]
    [InlineData("OAT", "0250", Quantity.Temperature, 298.15)]
    [InlineData("RPM", "4200", Quantity.Motor, 4200)]
    public void AnExtension_IsReadFromItsDeclaredBytes(string code, string digits, Quantity quantity, double value)
    {
        FlightLog log = SampleFlight.Import($"AXXX\nHFDTE090526\nI0136{35 + digits.Length}{code}\n" + Fix(1, 47, 9, 100, 150, 'A', digits) + Fix(2, 47, 9, 101, 151, 'A', digits));
        Assert.Equal(value, log[quantity][1], 1e-9);
    }

    [Fact]
    public void FurtherDigits_GoOnWhereTheMainBodyEnds()
    {
        // LAD and LOD: decimals of the minute after the third; TDS: decimals of the second.
        FlightLog log = SampleFlight.Import("AXXX\nHFDTE090526\nI033637LAD3839LOD4040TDS\n" + Fix(1, 47.1, -9.2, 100, 150, 'A', "25505") + Fix(2, 47.1, -9.2, 101, 151, 'A', "25507"));
        Assert.Equal(47.1 + 0.00025 / 60, log[Quantity.Latitude][0], 1e-11);
        Assert.Equal(-9.2 - 0.0005 / 60, log[Quantity.Longitude][1], 1e-11);
        Assert.Equal(1.2, log.TimeS[1], 1e-9);
        Assert.Equal(1.5, log.ClockAtStartS);
    }

    [Fact]
    public void ABrokenRecordOfExtensions_IsSaid_AndTheFixesRead()
    {
        FlightLog log = SampleFlight.Import("AXXX\nHFDTE090526\nI99\n" + Fix(1, 47, 9, 100, 150) + Fix(2, 47, 9, 101, 151));
        Assert.Equal(2, log.Rows);
        Assert.Contains(log.Problems, p => p.Line == 3 && p.Text.Contains("is not a whole I record", StringComparison.Ordinal));
    }

    [Fact]
    public void NoBarometer_LeavesTheAltitudeOut()
    {
        FlightLog log = SampleFlight.Import("AXXX\nHFDTE090526\n" + Fix(1, 47, 9, 0, 150) + Fix(2, 47, 9, 0, 151));
        Assert.False(log.Has(Quantity.Altitude));
        Assert.True(log.Has(Quantity.GpsAltitude));
        Assert.Contains(log.Problems, p => p.Text.Contains("no barometer", StringComparison.Ordinal));
    }

    [Fact]
    public void TheDatum_IsNamed()
    {
        string fixes = Fix(1, 47, 9, 100, 150) + Fix(2, 47, 9, 101, 151);
        FlightLog unstated = SampleFlight.Import("AXXX\nHFDTE090526\n" + fixes);
        FlightLog geoid = SampleFlight.Import("AXXX\nHFDTE090526\nHFALGALTGPS:GEO\n" + fixes);
        Assert.Contains(unstated.Problems, p => p.Text.Contains("WGS 84 ellipsoid by the specification, above the geoid", StringComparison.Ordinal));
        Assert.DoesNotContain(geoid.Problems, p => p.Text.Contains("datum", StringComparison.Ordinal));
        Assert.Contains(geoid.Channels, c => c.Column.Contains("above the geoid", StringComparison.Ordinal));
    }

    // Files: shared/reference/igc, real recordings of full-size gliders; counts from its README.
    [SharedTheory]
    [InlineData("flight-2s.igc", 6571, 0.5, "2017-07-17")]
    [InlineData("flight-4s-no-i-record.igc", 4153, 0.25, "2017-07-15")]
    public void ARealRecording_IsReadWhole(string file, int fixes, double rateHz, string date)
    {
        using FileStream stream = File.OpenRead(Path.Combine(SharedFolder.Path!, "reference", "igc", file));
        FlightLog log = LogImporter.Read(stream, file, []);
        Assert.Equal(fixes, log.Rows);
        Assert.Equal(rateHz, log.RateHz, 1e-9);
        Assert.Equal(date, log.StartedAt!.Value.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture));
        foreach (Quantity quantity in new[] { Quantity.Altitude, Quantity.GpsAltitude, Quantity.Latitude, Quantity.Longitude })
        {
            Assert.Equal(0, log[quantity].ToArray().Count(double.IsNaN));
        }
        // Nothing was repaired: all that is said concerns the file as a whole.
        Assert.All(log.Problems, p => Assert.Equal(0, p.Line));
    }

    [SharedFact]
    public void GroundSpeedFromPosition_AgreesWithTheRecordersOwn()
    {
        using FileStream stream = File.OpenRead(Path.Combine(SharedFolder.Path!, "reference", "igc", "flight-2s.igc"));
        string text = new StreamReader(stream).ReadToEnd();
        FlightLog own = SampleFlight.Import(text), derived = SampleFlight.Import(text.Replace("GSP", "XXX", StringComparison.Ordinal));
        Assert.True(derived.Channels.Single(c => c.Quantity == Quantity.GroundSpeed).Derived);
        double[] differences = [.. Enumerable.Range(0, own.Rows).Select(i => derived[Quantity.GroundSpeed][i] - own[Quantity.GroundSpeed][i]).Where(double.IsFinite)];
        Assert.True(differences.Length > 6400);
        // Over four seconds of a 25 s circle the chord is 4 % shorter than the arc: up to 1 m/s of 25, a third of the flight.
        Assert.InRange(differences.Average(), -1, 0.1);
        // A thousandth of a minute is 1.85 m, over four seconds.
        Assert.True(Math.Sqrt(differences.Average(d => d * d)) < 1.5);
    }

    private static string Gpx(string points, string start = "<gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\" xmlns:x=\"urn:x\">") =>
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + start + "<metadata><time>2020-01-01T00:00:00Z</time></metadata><trk><name>a &lt;b&gt;</name><trkseg>\n" + points + "</trkseg></trk></gpx>";

    private static string Point(double t, double latitude, double longitude, double elevation, string more = "") => string.Create(CultureInfo.InvariantCulture,
        $"<trkpt lat=\"{latitude:F7}\" lon=\"{longitude:F7}\"><ele>{elevation:F1}</ele><time>{new DateTime(2026, 5, 9, 10, 0, 0).AddSeconds(t):yyyy-MM-ddTHH:mm:ss.fff}Z</time>{more}</trkpt>\n");

    [Fact]
    public void Gpx_GivesPositionElevationAndTime()
    {
        FlightLog log = SampleFlight.Import(Gpx(Point(0, 47.1, 9.8, 500) + Point(1, 47.1001, 9.8, 501.5) + Point(2, 47.1002, 9.8, 503)));
        Assert.Equal(3, log.Rows);
        Assert.Equal(47.1001, log[Quantity.Latitude][1]);
        Assert.Equal(501.5, log[Quantity.GpsAltitude][1]);
        Assert.False(log.Has(Quantity.Altitude));
        // One ten-thousandth of a degree of latitude is 11.118 m here (111 183.7 m a degree at 47.1°, WGS 84 meridian).
        Assert.Equal(11.118, log[Quantity.GroundSpeed][1], 0.002);
        Assert.Equal(0, log[Quantity.Track][1], 1e-6);
        Assert.Equal(new DateTimeOffset(2026, 5, 9, 10, 0, 0, TimeSpan.Zero), log.StartedAt);
    }

    [Fact]
    public void Gpx_SpeedAndCourse_AreReadByLocalName()
    {
        const string more = "<extensions><x:TrackPointExtension><x:speed>12.5</x:speed><x:course>271</x:course><x:hr>99</x:hr></x:TrackPointExtension></extensions>";
        FlightLog log = SampleFlight.Import(Gpx(Point(0, 47, 9, 1, more) + Point(1, 47, 9, 2) + Point(2, 47, 9, 3, more)));
        Assert.Equal([12.5, double.NaN, 12.5], log[Quantity.GroundSpeed].ToArray());
        Assert.Equal(271, log[Quantity.Track][2]);
    }

    [Fact]
    public void Gpx_OfManySegmentsAndTracks_IsOneLog()
    {
        FlightLog log = SampleFlight.Import(Gpx(Point(0, 47, 9, 1) + Point(1, 47, 9, 2) + "</trkseg><trkseg>" + Point(60, 47, 9, 3) + "</trkseg></trk><trk><trkseg>" + Point(90, 47, 9, 4)));
        Assert.Equal([0.0, 1, 60, 90], log.TimeS.ToArray());
    }

    [Fact]
    public void Gpx_ThatBreaksOff_IsReadSoFar()
    {
        string text = Gpx(string.Concat(Enumerable.Range(0, 50).Select(i => Point(i, 47 + 1e-5 * i, 9, 100 + i))));
        FlightLog log = SampleFlight.Import(text[..(text.IndexOf("</trkpt>", text.Length / 2, StringComparison.Ordinal) + 20)]);
        Assert.InRange(log.Rows, 20, 30);
        Assert.Contains(log.Problems, p => p.Text.Contains("the file breaks off", StringComparison.Ordinal));
    }

    [Fact]
    public void Gpx_BadPoints_AreSkipped_AndCounted()
    {
        FlightLog log = SampleFlight.Import(Gpx(Point(0, 47, 9, 1) + "<trkpt lat=\"x\" lon=\"9\"><ele>high</ele><time>2026-05-09T10:00:01Z</time></trkpt>\n<trkpt lat=\"47\" lon=\"9\"><time>noon</time></trkpt>\n" + Point(2, 47, 9, 2)));
        Assert.Equal(3, log.Rows);
        Assert.Contains(log.Problems, p => p.Line == 4 && p.Text.Contains("lat \"x\" is not in degrees", StringComparison.Ordinal));
        Assert.Contains(log.Problems, p => p.Line == 4 && p.Text.Contains("ele \"high\" is not a number", StringComparison.Ordinal));
        Assert.Contains(log.Problems, p => p.Line == 5 && p.Text.Contains("a point with the time \"noon\"", StringComparison.Ordinal));
    }

    [Fact]
    public void TheKind_IsToldByContent_NotByName()
    {
        string igc = "AXXX\nHFDTE090526\n" + Fix(1, 47, 9, 100, 150) + Fix(2, 47, 9, 101, 151);
        foreach (string name in new[] { "a.csv", "a.gpx", "a.igc", "a" })
        {
            Assert.Equal(2, LogImporter.Read(new MemoryStream(Encoding.UTF8.GetBytes(igc)), name, []).Rows);
        }
    }

    [Fact]
    public void Igc_WithAnyLineEnd_IsTheSame()
    {
        string igc = "AXXX\nHFDTE090526\n" + string.Concat(Enumerable.Range(0, 100).Select(i => Fix(i, 47 + 1e-4 * i, 9, 100 + i, 150 + i)));
        double[] expected = SampleFlight.Import(igc)[Quantity.Latitude].ToArray();
        Assert.Equal(expected, SampleFlight.Import(igc.Replace("\n", "\r\n", StringComparison.Ordinal))[Quantity.Latitude].ToArray());
        Assert.Equal(expected, SampleFlight.Import(igc.Replace("\n", "\r", StringComparison.Ordinal))[Quantity.Latitude].ToArray());
    }
}
