using System.Globalization;
using System.Text;
using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

/// <summary>Each fault is put into a sound log; the repair must bring the sound numbers back and be listed.</summary>
public class RepairTests
{
    private const string Header = "time_s,altitude_m,vario_mps,latitude,longitude,gps_altitude_m,ground_speed_mps,track_deg";
    private static readonly FlightLog Sound = SampleFlight.Log;

    private static string[] Fields(int i) =>
    [
        SampleFlight.F(Sound.TimeS[i], 2), SampleFlight.F(Sound[Quantity.Altitude][i], 2), SampleFlight.F(Sound[Quantity.ClimbRate][i], 2),
        SampleFlight.F(Sound[Quantity.Latitude][i], 7), SampleFlight.F(Sound[Quantity.Longitude][i], 7), SampleFlight.F(Sound[Quantity.GpsAltitude][i], 1),
        SampleFlight.F(Sound[Quantity.GroundSpeed][i], 2), SampleFlight.F(Sound[Quantity.Track][i], 1),
    ];

    private static List<string[]> Rows() => [.. Enumerable.Range(0, Sound.Rows).Select(Fields)];

    private static string Text(IEnumerable<string[]> rows, string header = Header) =>
        header + "\n" + string.Join("\n", rows.Select(r => string.Join(",", r))) + "\n";

    private static FlightLog Import(IEnumerable<string[]> rows) => SampleFlight.Import(Text(rows));

    private static void AssertSound(FlightLog log, params Quantity[] quantities)
    {
        Assert.Equal(Sound.Rows, log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            Assert.Equal(Sound.TimeS[i], log.TimeS[i], 1e-9);
            foreach (Quantity quantity in quantities.Length > 0 ? quantities : [Quantity.Altitude, Quantity.ClimbRate, Quantity.Latitude, Quantity.GpsAltitude, Quantity.Track])
            {
                Assert.Equal(Sound[quantity][i], log[quantity][i], 1e-9);
            }
        }
    }

    private static void AssertSays(FlightLog log, int line, string text) =>
        Assert.Contains(log.Problems, p => p.Line == line && p.Text.Contains(text, StringComparison.Ordinal));

    [Fact]
    public void ASoundLog_HasNoProblems() => Assert.Empty(Import(Rows()).Problems);

    [Fact]
    public void DoubledRows_AreDropped_AndCountedOnce()
    {
        List<string[]> rows = Rows();
        rows.Insert(100, rows[99]);
        rows.Insert(200, rows[199]);
        rows.Insert(201, rows[199]);
        FlightLog log = Import(rows);
        AssertSound(log);
        // Row 99 stands in line 101, its double in the next.
        AssertSays(log, 102, "3 doubled rows");
        Assert.Single(log.Problems);
    }

    [Fact]
    public void RowsOutOfOrder_AreSorted()
    {
        List<string[]> rows = Rows();
        (rows[50], rows[51]) = (rows[51], rows[50]);
        string[] late = rows[300];
        rows.RemoveAt(300);
        rows.Insert(310, late);
        FlightLog log = Import(rows);
        AssertSound(log);
        AssertSays(log, 53, "2 rows out of order; sorted by time");
    }

    [Fact]
    public void Jitter_IsKept()
    {
        List<string[]> rows = Rows();
        for (int i = 0; i < rows.Count; i++)
        {
            rows[i][0] = SampleFlight.F(i * 0.2 + 0.03 * (i * 7 % 5) / 5.0, 3);
        }
        FlightLog log = Import(rows);
        Assert.Empty(log.Problems);
        Assert.Equal(0.2 + 0.03 * 2 / 5.0, log.TimeS[1], 1e-9);
    }

    [Theory]
    [InlineData(5, 0)]
    [InlineData(5, 2)]
    [InlineData(10, 0)]
    [InlineData(10, 7)]
    [InlineData(2, 0)]
    [InlineData(2, 1)]
    public void WholeSeconds_ForManyRows_AreSpreadEvenly(int rowsPerSecond, int startWithin)
    {
        List<string[]> rows = [.. Enumerable.Range(0, 400).Select(i => Fields(i))];
        for (int i = 0; i < rows.Count; i++)
        {
            rows[i][0] = ((i + startWithin) / rowsPerSecond).ToString(CultureInfo.InvariantCulture);
        }
        FlightLog log = Import(rows);
        Assert.Equal(400, log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            Assert.Equal((double)i / rowsPerSecond, log.TimeS[i], 1e-6);
        }
        Assert.Equal(rowsPerSecond, log.RateHz, 1e-6);
        Assert.Contains(log.Problems, p => p.Text.Contains("coarser than the rate", StringComparison.Ordinal) || p.Text.Contains("coarser than the rows", StringComparison.Ordinal));
    }

    [Fact]
    public void IsoStampsOfWholeSeconds_AreSpreadEvenly()
    {
        LogFlavour flavour = new("whole seconds") { TimeHeaders = ["time"], Time = (at, _) => [at.AddMilliseconds(-50).ToString("yyyy-MM-ddTHH:mm:ssZ", CultureInfo.InvariantCulture)] };
        FlightLog log = SampleFlight.Import(flavour.Write(Sound));
        AssertSound(log);
        Assert.Equal(36000, log.ClockAtStartS);
    }

    [Fact]
    public void EqualRowsAtRest_UnderCoarseStamps_AreKept()
    {
        List<string[]> rows = Rows();
        for (int i = 0; i < rows.Count; i++)
        {
            rows[i][0] = (i / 5).ToString(CultureInfo.InvariantCulture);
            if (i < 50)
            {
                rows[i][1] = rows[0][1];
                for (int c = 2; c < rows[i].Length; c++)
                {
                    rows[i][c] = rows[0][c];
                }
            }
        }
        FlightLog log = Import(rows);
        Assert.Equal(Sound.Rows, log.Rows);
    }

    [Fact]
    public void EveryRowTwice_IsDoubledRows_NotCoarseStamps()
    {
        List<string[]> rows = [.. Rows().SelectMany(r => new[] { r, r })];
        AssertSound(Import(rows));
    }

    [Fact]
    public void TwoRowsOfOneStamp_FillEachOther()
    {
        // Some loggers write the barometer and the receiver in rows of their own.
        List<string[]> rows = Rows();
        string[] first = [.. rows[100]], second = [.. rows[100]];
        first[3] = first[4] = first[5] = first[6] = first[7] = "";
        second[1] = second[2] = "";
        rows[100] = first;
        rows.Insert(101, second);
        FlightLog log = Import(rows);
        AssertSound(log);
        AssertSays(log, 103, "1 row with the stamp of the row before");
    }

    [Fact]
    public void DecimalCommaAmongPoints_InOneFile_IsRead_AndSaid()
    {
        List<string[]> rows = Rows();
        for (int i = 200; i < 220; i++)
        {
            rows[i][1] = rows[i][1].Replace('.', ',');
        }
        FlightLog log = SampleFlight.Import(Header.Replace(',', ';') + "\n" + string.Join("\n", rows.Select(r => string.Join(";", r))) + "\n");
        AssertSound(log);
        AssertSays(log, 202, "a decimal comma in 20 numbers of a file with decimal points");
    }

    [Fact]
    public void ThousandsMarks_AreNotDecimals()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s\tpressure [Pa]\talt_m", 200, i => $"{i}\t{(i % 2 == 0 ? "101,325.5" : "101.325,5")}\t{SampleFlight.F(100 + 0.3 * i, 1)}"));
        Assert.Equal(101325.5, log[Quantity.Pressure][0]);
        Assert.Equal(101325.5, log[Quantity.Pressure][1]);
    }

    [Fact]
    public void AGap_IsListed_AndLeftOpen()
    {
        List<string[]> rows = Rows();
        rows.RemoveRange(100, 100);
        FlightLog log = Import(rows);
        Assert.Equal(500, log.Rows);
        AssertSays(log, 102, "no rows for 20.2 s before this one");
        Assert.Equal(40, log.TimeS[100], 1e-9);
    }

    [Fact]
    public void ALoggerSwitchedOnAgain_GoesOnAfterAPause()
    {
        List<string[]> rows = [.. Enumerable.Range(0, 300).Select(Fields), .. Enumerable.Range(0, 300).Select(Fields)];
        FlightLog log = Import(rows);
        Assert.Equal(600, log.Rows);
        AssertSays(log, 302, "the time begins anew");
        Assert.Equal(log.TimeS[299] + 60, log.TimeS[300], 1e-9);
        Assert.Equal(Sound.TimeS[200], log.TimeS[500] - log.TimeS[300], 1e-9);
    }

    [Fact]
    public void AHeaderInTheMiddle_IsPassedOver()
    {
        List<string[]> rows = Rows();
        rows.Insert(300, Header.Split(','));
        FlightLog log = Import(rows);
        AssertSound(log);
        AssertSays(log, 302, "the header again, 1 time");
    }

    [Fact]
    public void ACommentInTheMiddle_IsPassedOver()
    {
        List<string[]> rows = Rows();
        rows.Insert(300, ["# marker button"]);
        FlightLog log = Import(rows);
        AssertSound(log);
        AssertSays(log, 302, "1 comment line among the rows passed over: \"# marker button\"");
    }

    [Theory]
    [InlineData(150, 1, "912.40", 1)]
    [InlineData(150, 1, "-56.10", 1)]
    [InlineData(150, 1, "145.00", 1)]
    [InlineData(3, 1, "600.00", 1)]
    [InlineData(0, 1, "8000.00", 1)]
    [InlineData(599, 1, "900.00", 1)]
    [InlineData(150, 2, "45.00", 1)]
    [InlineData(150, 5, "1500.0", 1)]
    [InlineData(150, 6, "95.0", 1)]
    [InlineData(150, 1, "700.00", 3)]
    public void ASpike_IsTakenOut_AndNothingElse(int row, int column, string value, int rowsLong)
    {
        Quantity quantity = new[] { Quantity.Time, Quantity.Altitude, Quantity.ClimbRate, Quantity.Latitude, Quantity.Longitude, Quantity.GpsAltitude, Quantity.GroundSpeed }[column];
        List<string[]> rows = Rows();
        for (int i = row; i < row + rowsLong; i++)
        {
            rows[i][column] = value;
        }
        FlightLog log = Import(rows);
        for (int i = 0; i < log.Rows; i++)
        {
            Assert.Equal(i >= row && i < row + rowsLong ? double.NaN : Sound[quantity][i], log[quantity][i], 1e-9);
        }
        AssertSays(log, row + 2, $"{rowsLong} value{(rowsLong > 1 ? "s" : "")} far from the rows before and after");
        Assert.Single(log.Problems);
    }

    [Fact]
    public void APositionJumpAndBack_IsTakenOut()
    {
        List<string[]> rows = Rows();
        rows[200][3] = "47.2137000";
        FlightLog log = Import(rows);
        Assert.Equal(double.NaN, log[Quantity.Latitude][200]);
        Assert.Equal(double.NaN, log[Quantity.Longitude][200]);
        Assert.Equal(Sound[Quantity.Latitude][201], log[Quantity.Latitude][201], 1e-9);
        AssertSays(log, 202, "position: 1 value far from the rows before and after");
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.1)]
    [InlineData(1.0)]
    public void AHardLaunch_IsNoSpike(double step)
    {
        // 25 m/s straight up for two seconds, rounding out at 12 m/s² and gliding down.
        double Height(double t) => t < 10 ? 100 : t < 12 ? 100 + 25 * (t - 10) : t < 14 ? 150 + 25 * (t - 12) - 6 * (t - 12) * (t - 12) : 176 - 0.5 * (t - 14);
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m", (int)(60 / step), i => SampleFlight.F(i * step, 2) + "," + SampleFlight.F(Height(i * step) + 0.2 * Math.Sin(i * 2.1), 2)));
        Assert.Empty(log.Problems);
    }

    [Fact]
    public void ValuesNoSensorHas_AreTakenOut()
    {
        List<string[]> rows = Rows();
        rows[10][3] = "147.1";
        rows[11][1] = "99999";
        rows[12][1] = "99999";
        FlightLog log = Import(rows);
        Assert.Equal(double.NaN, log[Quantity.Altitude][11]);
        Assert.Equal(double.NaN, log[Quantity.Latitude][10]);
        AssertSays(log, 13, "altitude_m: 2 values no altitude can have (the first is 99999 in SI); left out");
        AssertSays(log, 12, "latitude: 1 value no latitude can have");
    }

    [Fact]
    public void AStuckBarometer_IsTakenOut_AfterItsLastTrueValue()
    {
        List<string[]> rows = Rows();
        for (int i = 200; i < 260; i++)
        {
            rows[i][1] = rows[199][1];
        }
        FlightLog log = Import(rows);
        Assert.Equal(Sound[Quantity.Altitude][199], log[Quantity.Altitude][199]);
        Assert.All(log[Quantity.Altitude][200..260].ToArray(), v => Assert.Equal(double.NaN, v));
        Assert.Equal(Sound[Quantity.Altitude][260], log[Quantity.Altitude][260]);
        AssertSays(log, 201, "the barometer is stuck for 12 s (60 rows); left out");
    }

    [Fact]
    public void AStuckVariometer_IsTakenOut()
    {
        List<string[]> rows = Rows();
        for (int i = 3; i < 60; i++)
        {
            rows[i][2] = "0.00";
        }
        FlightLog log = Import(rows);
        Assert.All(log[Quantity.ClimbRate][4..60].ToArray(), v => Assert.Equal(double.NaN, v));
        AssertSays(log, 5, "climb rate is stuck for");
    }

    [Fact]
    public void AFrozenReceiver_IsTakenOut_WithAllThatItWrites()
    {
        List<string[]> rows = Rows();
        for (int i = 301; i < 340; i++)
        {
            for (int c = 3; c < 8; c++)
            {
                rows[i][c] = rows[300][c];
            }
        }
        FlightLog log = Import(rows);
        foreach (Quantity quantity in new[] { Quantity.Latitude, Quantity.Longitude, Quantity.GpsAltitude, Quantity.GroundSpeed, Quantity.Track })
        {
            Assert.All(log[quantity][301..340].ToArray(), v => Assert.Equal(double.NaN, v));
        }
        AssertSays(log, 302, "the GPS is stuck for 7.8 s (39 rows); left out");
        AssertSound(log, Quantity.Altitude, Quantity.ClimbRate);
    }

    [Fact]
    public void AReceiverSlowerThanTheLog_IsNotStuck()
    {
        List<string[]> rows = Rows();
        for (int i = 0; i < rows.Count; i++)
        {
            for (int c = 3; c < 8; c++)
            {
                rows[i][c] = rows[i / 5 * 5][c];
            }
        }
        Assert.Empty(Import(rows).Problems);
    }

    [Fact]
    public void ABarometerAtRest_IsNotStuck()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat,lon,speed_mps", 600, i => $"{SampleFlight.F(i * 0.2, 1)},{(i < 300 ? "100.0" : SampleFlight.F(SampleFlight.AltitudeM(i * 0.2), 1))},{(i < 300 ? "47.1000000" : SampleFlight.F(47.1 + i * 2e-5, 7))},9.8,{(i < 300 ? "0.1" : "10.0")}"));
        Assert.Empty(log.Problems);
    }

    [Theory]
    [InlineData("", "")]
    [InlineData("NaN", "nan")]
    [InlineData("---", "---")]
    public void LostFixes_LeftEmpty_AreListed(string latitude, string longitude)
    {
        List<string[]> rows = Rows();
        for (int i = 400; i < 450; i++)
        {
            (rows[i][3], rows[i][4], rows[i][5], rows[i][6], rows[i][7]) = (latitude, longitude, "", "", "");
        }
        FlightLog log = Import(rows);
        Assert.All(log[Quantity.Latitude][400..450].ToArray(), v => Assert.Equal(double.NaN, v));
        AssertSays(log, 402, "GPS fix lost 1 time, 10.2 s and 50 rows in all");
        Assert.Single(log.Problems);
    }

    [Fact]
    public void LostFixes_WrittenAsZero_TakeSpeedAndTrackWithThem()
    {
        List<string[]> rows = Rows();
        for (int i = 400; i < 450; i++)
        {
            (rows[i][3], rows[i][4], rows[i][5], rows[i][6], rows[i][7]) = ("0.0000000", "0.0000000", "0.0", "0.00", "0.0");
        }
        FlightLog log = Import(rows);
        foreach (Quantity quantity in new[] { Quantity.Latitude, Quantity.Longitude, Quantity.GpsAltitude, Quantity.GroundSpeed, Quantity.Track })
        {
            Assert.All(log[quantity][400..450].ToArray(), v => Assert.Equal(double.NaN, v));
        }
        AssertSays(log, 402, "50 rows with the position 0, 0: no fix");
    }

    [Fact]
    public void ALastLineThatBreaksOff_IsLeftOut()
    {
        string text = Text(Rows());
        string broken = text[..(text.TrimEnd().LastIndexOf('\n') + 1)] + "119.80,1";
        FlightLog log = SampleFlight.Import(broken);
        Assert.Equal(599, log.Rows);
        AssertSays(log, 601, "the last line breaks off; it was left out");
    }

    [Fact]
    public void ARowWithFewerFields_KeepsWhatItHas()
    {
        List<string[]> rows = Rows();
        rows[100] = rows[100][..3];
        FlightLog log = Import(rows);
        Assert.Equal(600, log.Rows);
        Assert.Equal(Sound[Quantity.Altitude][100], log[Quantity.Altitude][100], 1e-9);
        Assert.Equal(double.NaN, log[Quantity.Latitude][100]);
        AssertSays(log, 102, "3 fields where the header has 8");
    }

    [Fact]
    public void ARowWithMoreFields_IsSkipped()
    {
        List<string[]> rows = Rows();
        rows[100] = [.. rows[100], "7", "8"];
        FlightLog log = Import(rows);
        Assert.Equal(599, log.Rows);
        AssertSays(log, 102, "10 fields where the header has 8; the row was skipped (1 such row)");
    }

    [Fact]
    public void ASeparatorAtTheEndOfEveryRow_IsNoFault() =>
        AssertSound(Import(Rows().ConvertAll(r => (string[])[.. r, ""])));

    [Fact]
    public void BadNumbers_AreLeftOut_CountedAndQuoted()
    {
        List<string[]> rows = Rows();
        rows[100][1] = "\"12,3,4\"";
        rows[101][1] = "oops";
        rows[102][0] = "soon";
        FlightLog log = Import(rows);
        Assert.Equal(599, log.Rows);
        Assert.Equal(double.NaN, log[Quantity.Altitude][100]);
        AssertSays(log, 102, "altitude_m \"12,3,4\" is not a number; the value was left out (2 such values)");
        AssertSays(log, 104, "time_s \"soon\" is not a time; the row was skipped");
    }

    [Fact]
    public void AMillionBadCells_MakeOneProblem()
    {
        string text = SampleFlight.Text("time_s,alt_m,vario,lat,lon", 20_000, i => $"{i},{SampleFlight.F(SampleFlight.AltitudeM(i), 2)},bad,worse,worst{i}");
        FlightLog log = SampleFlight.Import(text);
        Assert.True(log.Problems.Count < 12, string.Join("\n", log.Problems));
    }

    [Fact]
    public void AClockSetWhileLogging_MovesTheRowsBeforeIt()
    {
        string text = SampleFlight.Text("time,alt_m", 200, i => $"{(i < 20 ? new DateTime(2000, 1, 1, 0, 0, 10).AddSeconds(i) : new DateTime(2026, 5, 9, 10, 0, 0).AddSeconds(i - 20)):yyyy-MM-ddTHH:mm:ss},{SampleFlight.F(SampleFlight.AltitudeM(i), 2)}");
        FlightLog log = SampleFlight.Import(text);
        Assert.Equal(199, log.TimeS[^1], 1e-6);
        AssertSays(log, 22, "the clock was set here");
    }

    [Fact]
    public void UnknownColumns_AreNamedOnce()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,RSSI,Sats,Comment", 100, i => $"{i},{SampleFlight.F(SampleFlight.AltitudeM(i), 2)},-70,12,ok"));
        AssertSays(log, 1, "3 columns not understood and left out: \"RSSI\", \"Sats\", \"Comment\"; columns.csv can say what they are");
    }

    [Fact]
    public void ASecondColumnForAQuantity_IsNamed_AndTheBetterOneRead()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,baro altitude [m],Altitude [m],Altitude [m]", 100, i => $"{i},{SampleFlight.F(SampleFlight.AltitudeM(i), 2)},1,2"));
        Assert.Equal(120, log[Quantity.Altitude][0], 0.1);
        Assert.Equal(2, log.Problems.Count(p => p.Text.Contains("was not used: altitude is read from \"baro altitude [m]\"", StringComparison.Ordinal)));
    }

    [Fact]
    public void TheHash_IsOfTheRawBytes()
    {
        byte[] bytes = Encoding.UTF8.GetBytes(Text(Rows()));
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes)), SampleFlight.Import(bytes).Sha256);
    }
}
