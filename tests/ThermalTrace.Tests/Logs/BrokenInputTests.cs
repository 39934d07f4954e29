using System.IO.Compression;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Logs;

/// <summary>Files that cannot be used: each has a message that says what was looked for and what was found.</summary>
public class BrokenInputTests
{
    private const string Igc = "AXXX001\nHFDTE090526\n";
    private const string GpxOpen = "<?xml version=\"1.0\"?><gpx version=\"1.1\" xmlns=\"http://www.topografix.com/GPX/1/1\"><trk><trkseg>";
    private const string GpxClose = "</trkseg></trk></gpx>";

    private static byte[] T(string text) => Encoding.UTF8.GetBytes(text);

    private static byte[] Gzip()
    {
        MemoryStream stream = new();
        using (GZipStream gzip = new(stream, CompressionLevel.Fastest))
        {
            gzip.Write(T("time_s,alt_m\n0,1\n"));
        }
        return stream.ToArray();
    }

    private static byte[] Zip()
    {
        MemoryStream stream = new();
        using (ZipArchive zip = new(stream, ZipArchiveMode.Create))
        {
            using Stream entry = zip.CreateEntry("log.csv").Open();
            entry.Write(T("time_s,alt_m\n0,1\n"));
        }
        return stream.ToArray();
    }

    private static byte[] Noise()
    {
        byte[] bytes = new byte[50_000];
        new Random(7).NextBytes(bytes);
        return bytes;
    }

    private static readonly Dictionary<string, (byte[] Bytes, string Message)> Cases = new()
    {
        ["empty"] = ([], "kestrel.csv: the file is empty"),
        ["only a byte order mark"] = ([0xEF, 0xBB, 0xBF], "the file is empty"),
        ["only a wide byte order mark"] = ([0xFF, 0xFE], "the file is empty"),
        ["blanks"] = (T("  \n\n \t\r\n"), "the file holds only blanks"),
        ["zeros"] = (new byte[4096], "this is binary, not text"),
        ["noise"] = (Noise(), "this is binary, not text"),
        ["zip"] = (Zip(), "this is a zip archive"),
        ["gzip"] = (Gzip(), "this is a gzip archive"),
        ["pdf"] = (T("%PDF-1.4\n%âãÏÓ\n1 0 obj"), "this is a PDF document"),
        ["picture"] = ([0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A, 0, 0, 0, 13], "this is a picture"),
        ["database"] = (T("SQLite format 3\0\u0010\0"), "this is a database"),
        ["old spreadsheet"] = ([0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1, 0, 0], "old spreadsheet"),
        ["web page"] = (T("<!DOCTYPE html><html><body>sign in</body></html>"), "this is XML or HTML but no GPX"),
        ["other XML"] = (T("<?xml version=\"1.0\"?><kml><Placemark/></kml>"), "no GPX"),
        ["JSON"] = (T("{\n \"time\": [0, 1],\n \"alt\": [1, 2]\n}\n"), "this looks like JSON"),
        ["prose"] = (T("Dear club\nthe log was lost\nsorry\n"), "no columns were found; looked for commas, semicolons, tabs or bars"),
        ["one column"] = (T("altitude_m\n1\n2\n3\n"), "no columns were found"),
        ["one word"] = (T("hello"), "line 1 is \"hello\""),
        ["header without rows"] = (T("time_s,altitude_m\n"), "there is no row below the header in line 1"),
        ["header without line end"] = (T("time_s,altitude_m"), "there is no row below the header in line 1"),
        ["header, units, no rows"] = (T("Time,Altitude\ns,m\n"), "there is no row below the header"),
        ["header and blank lines"] = (T("time_s,altitude_m\n\n\n\n"), "there is no row below the header"),
        ["header and comments"] = (T("time_s,altitude_m\n# none\n# here\n"), "there is no row below the header"),
        ["header and empty fields"] = (T("time_s,altitude_m\n,\n,\n,\n"), "there is no row below the header"),
        ["no time"] = (T("altitude_m,vario_mps\n1,2\n3,4\n"), "no column says when; looked for seconds, a clock, a date and clock, or ISO 8601 stamps, found \"altitude_m\", \"vario_mps\""),
        ["no height"] = (T("time_s,vario_mps,speed_mps\n0,1,2\n1,3,4\n"), "no column says how high the model was; looked for altitude, pressure or GPS altitude, found \"time_s\", \"vario_mps\", \"speed_mps\""),
        ["foreign words"] = (T("Zeit;Höhe\n0;1\n1;2\n"), "no column says when"),
        ["words for time"] = (T("time_s,altitude_m\nsoon,1\nlater,2\n"), "no column says when"),
        ["words for time in every row after the sample"] = (T("time_s,altitude_m\n" + string.Concat(Enumerable.Repeat("x,1\n", 500))), "column \"time_s\" holds \"x\""),
        ["no number in the height"] = (T("time_s,altitude_m\n0,a\n1,b\n2,c\n"), "no row says how high the model was: of 3 rows, altitude is read from \"altitude_m\""),
        ["empty height"] = (T("time_s,altitude_m\n0,\n1,\n2,\n"), "no row says how high the model was"),
        ["one row"] = (T("time_s,altitude_m\n0,100\n"), "a single usable row"),
        ["one stamp"] = (T("time_s,altitude_m\n5,100\n5,101\n5,102\n"), "a single usable row"),
        ["height in kilograms"] = (T("time_s,altitude [kg]\n0,1\n1,2\n"), "no column says how high the model was"),
        ["decimal commas between commas"] = (T("time_s,altitude_m,vario_mps\n0,0,120,5,1,2\n0,2,120,7,1,3\n0,4,121,0,1,1\n"), "every row has more fields than the header's 3; a decimal comma in a file separated by commas?"),
        ["a million columns"] = (T(string.Join(",", Enumerable.Range(0, 1_000_000).Select(i => "c" + i)) + "\n1,2\n"), "there is no line end in the first 1,048,576 bytes"),
        ["ten thousand columns"] = (T("time_s,alt_m," + string.Join(",", Enumerable.Range(0, 10_000).Select(i => "c" + i)) + "\n" + string.Join(",", Enumerable.Range(0, 10_002)) + "\n"), "10,002 columns; a log has at most 4,096"),
        ["one endless line"] = (Encoding.ASCII.GetBytes(new string('7', 3_000_000)), "there is no line end in the first 1,048,576 bytes"),
        ["endless separators"] = (Encoding.ASCII.GetBytes(new string(',', 3_000_000)), "there is no line end in the first 1,048,576 bytes"),
        ["header, then an endless line"] = (T("time_s,altitude_m\n" + new string('7', 3_000_000)), "kestrel.csv:2: the line goes on for more than"),
        ["rows, then an endless line"] = (T("time_s,altitude_m\n0\n" + new string('7', 3_000_000)), "the line is longer than 1,048,576 bytes; expected a row of 2 fields"),
        ["no header"] = (T("0,120.5,1.2\n1,121.7,1.1\n2,122.4,1.0\n"), "no column says when"),
        ["binary behind a header"] = ([.. T("time_s,altitude_m\n0,1\n"), .. Noise()], "this is binary, not text"),
        ["IGC without fixes"] = (T(Igc + "HFPLTPILOT:NN\n"), "no fix in this IGC file; looked for B records"),
        ["IGC with broken fixes"] = (T(Igc + "B1353\nB13532351057\nBxxxxxxx5105725N00657283EA0041200490\n"), "no fix in this IGC file"),
        ["IGC without heights"] = (T(Igc + "B1353235105725N00657283EA0000000000\nB1353255105725N00657283EA0000000000\n"), "both altitudes of every B record are 0"),
        ["GPX without points"] = (T(GpxOpen + GpxClose), "no track point (trkpt) in this GPX file"),
        ["GPX of way points"] = (T("<gpx><wpt lat=\"1\" lon=\"2\"/><wpt lat=\"1\" lon=\"2\"/></gpx>"), "only 2 route or way points"),
        ["GPX without times"] = (T(GpxOpen + "<trkpt lat=\"47\" lon=\"9\"><ele>5</ele></trkpt>" + GpxClose), "none of 1 track point has a time"),
        ["GPX without heights"] = (T(GpxOpen + "<trkpt lat=\"47\" lon=\"9\"><time>2026-05-09T10:00:00Z</time></trkpt>" + GpxClose), "no track point has an elevation"),
        ["GPX that is no XML"] = (T("<gpx><trk><trkpt lat=1></gpx>"), "not well-formed XML"),
        ["GPX with a document type"] = (T("<?xml version=\"1.0\"?><!DOCTYPE gpx [<!ENTITY a \"aaaa\">]><gpx><trk><name>&a;</name></trk></gpx>"), "a document type is not allowed in a log"),
        ["GPX with an outside entity"] = (T("<?xml version=\"1.0\"?><!DOCTYPE gpx SYSTEM \"file:///etc/hostname\"><gpx/>"), "a document type is not allowed in a log"),
    };

    public static TheoryData<string> Names => new(Cases.Keys);

    [Theory]
    [MemberData(nameof(Names))]
    public void AFileThatCannotBeUsed_SaysWhy(string name)
    {
        (byte[] bytes, string message) = Cases[name];
        UnusableInputException e = Assert.Throws<UnusableInputException>(() => SampleFlight.Import(bytes));
        Assert.Contains(message, e.Message, StringComparison.Ordinal);
        Assert.StartsWith("kestrel.csv", e.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', e.Message);
        Assert.DoesNotContain("Exception", e.Message, StringComparison.Ordinal);
        Assert.True(e.Message.Length < 700, e.Message);
    }

    [Fact]
    public void ThereAreEnoughBrokenFiles() => Assert.True(Cases.Count >= 35);

    [Fact]
    public void AnEndlessStream_IsRefused_WithoutBeingRead()
    {
        EndlessStream stream = new("time,x"u8.ToArray(), 1L << 31);
        Assert.Throws<UnusableInputException>(() => LogImporter.Read(stream, "kestrel.csv", []));
        Assert.True(stream.Given < 4 << 20, $"{stream.Given} bytes were read");
    }

    [Fact]
    public void TwoGibibytesOfZeros_AreRefused_AfterTheFirstBlock()
    {
        EndlessStream stream = new([0], 1L << 31);
        UnusableInputException e = Assert.Throws<UnusableInputException>(() => LogImporter.Read(stream, "kestrel.csv", []));
        Assert.Contains("binary", e.Message, StringComparison.Ordinal);
        Assert.True(stream.Given < 1 << 20, $"{stream.Given} bytes were read");
    }

    [Fact]
    public void Cancelling_StopsTheReading()
    {
        using CancellationTokenSource source = new();
        EndlessStream stream = new("1,2\n"u8.ToArray(), 1L << 31, Encoding.UTF8.GetBytes("time_s,alt_m\n")) { AfterBytes = (1 << 20, source.Cancel) };
        Assert.Throws<OperationCanceledException>(() => LogImporter.Read(stream, "kestrel.csv", [], null, source.Token));
    }

    [Fact]
    public void Progress_RisesToOne()
    {
        byte[] bytes = LogFlavour.All[0].Write(SampleFlight.Log);
        List<double> told = [];
        LogImporter.Read(new MemoryStream(bytes), "kestrel.csv", [], new Told(told));
        Assert.Equal(told.Order(), told);
        Assert.Equal(1, told[^1]);
    }

    private sealed class Told(List<double> values) : IProgress<double>
    {
        public void Report(double value) => values.Add(value);
    }
}
