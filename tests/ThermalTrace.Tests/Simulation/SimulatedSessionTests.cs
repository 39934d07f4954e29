using System.Globalization;
using System.Text;
using System.Text.Json;
using ThermalTrace.Logs;
using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.Simulation;

public class SimulatedSessionTests
{
    private static readonly SimulationOptions Small = new() { Flights = 3, FlightTimeS = 90, BallastsG = [0, 40], Logs = LogSplit.One };

    private static readonly SimulatedSession Plain = Simulator.Run(Small);

    [Fact]
    public void Session_OfTheSameSeed_HasTheSameBytes()
    {
        SimulatedSession again = Simulator.Run(Small);
        Assert.Equal(Plain.TruthJson, again.TruthJson);
        Assert.Equal(Plain.FlightsCsv, again.FlightsCsv);
        Assert.Equal(Plain.AirframeJson, again.AirframeJson);
        Assert.Equal(Plain.Logs.Select(l => l.FileName), again.Logs.Select(l => l.FileName));
        Assert.All(Plain.Logs.Zip(again.Logs), pair => Assert.Equal(pair.First.Bytes, pair.Second.Bytes));
        Assert.NotEqual(Plain.Logs[0].Bytes, Simulator.Run(Small with { Seed = 2 }).Logs[0].Bytes);
    }

    [Fact]
    public void Randomness_IsTheSameOnEveryMachine()
    {
        // SplitMix64 from state 1234567, as its authors' reference code gives it: 6457827717110365317, 3203168211198807973.
        RandomStream stream = new(1234567);
        Assert.Equal((6457827717110365317UL >> 11) * Math.Pow(2, -53), stream.Uniform());
        Assert.Equal((3203168211198807973UL >> 11) * Math.Pow(2, -53), stream.Uniform());
    }

    [Fact]
    public void Sensors_ThatAreAdded_ChangeNothingThatIsFlown()
    {
        SimulatedSession more = Simulator.Run(Small with { Pitot = true, Accelerometer = true, Temperature = true });
        Assert.Equal(Plain.TruthJson, more.TruthJson);
        Assert.Equal(Plain.Draft.Logs[0].PressurePa, more.Draft.Logs[0].PressurePa);
    }

    [Fact]
    public void Truth_HasThePolarsFlightsAndConditionsThatTheScoringNeeds()
    {
        using JsonDocument truth = JsonDocument.Parse(Plain.TruthJson);
        JsonElement root = truth.RootElement;
        foreach (string ballast in new[] { "0", "40" })
        {
            JsonElement polar = root.GetProperty("polars").GetProperty(ballast);
            Assert.Equal(61, polar.GetArrayLength());
            Assert.Equal(3, polar[60][0].GetDouble() / polar[0][0].GetDouble(), 1e-3);
            Assert.InRange(root.GetProperty("flown").GetProperty(ballast)[0].GetDouble(), 3, 8);
        }
        Assert.Equal(3, root.GetProperty("flights").GetArrayLength());
        double end = 0;
        foreach (JsonElement flight in root.GetProperty("flights").EnumerateArray())
        {
            Assert.Equal("day.csv", flight.GetProperty("log").GetString());
            foreach (JsonElement segment in flight.GetProperty("segments").EnumerateArray())
            {
                Assert.Equal(end, segment.GetProperty("start_s").GetDouble(), 0.11);
                end = segment.GetProperty("end_s").GetDouble();
            }
        }
        Assert.Equal(end, Plain.Draft.Logs[0].TimeS[^1], 0.3);
        Assert.Equal(2, root.GetProperty("session").GetProperty("options").GetArrayLength());
    }

    [Fact]
    public void RoundTrip_WithoutWind_IsTheClimb_AndNeverLessThanHoldingStation()
    {
        Model model = new(AirframePresets.Find("discus-1500"), AirframePresets.Find("discus-1500").Drag, 0);
        Assert.Equal(0.7, RoundTrip.Of(model, 0.7, 0).ClimbMps, 1e-12);
        // "Lift" that loses height is not followed: the least sink at or above the wind is what is left.
        Assert.Equal(-model.SinkMps(model.MinSinkAirspeedMps), RoundTrip.Of(model, -0.5, 3).ClimbMps, 0.001);
    }

    public static TheoryData<LogFlavour> Flavours => [.. Enum.GetValues<LogFlavour>()];

    [Theory]
    [MemberData(nameof(Flavours))]
    public void Flavour_OfEveryKind_HoldsTheSameSession(LogFlavour flavour)
    {
        SimulatedSession written = SessionWriter.Write(Plain, flavour);
        bool onePerSecond = flavour is LogFlavour.Igc or LogFlavour.Gpx;
        using MemoryStream stream = new(written.Logs[0].Bytes);
        FlightLog log = LogImporter.Read(stream, written.Logs[0].FileName, []);
        LogChannels truth = Plain.Draft.Logs[0];
        Assert.StartsWith(written.Logs[0].FileName, written.FlightsCsv.Split('\n')[1], StringComparison.Ordinal);
        Assert.Contains($"\"{written.Logs[0].FileName}\"", written.TruthJson, StringComparison.Ordinal);
        double duration = truth.TimeS[^1];
        Assert.InRange(log.Rows, (onePerSecond ? 1 : 5) * duration * 0.98 - 2, (onePerSecond ? 1 : 5) * duration * 1.02 + 2);

        // Whole seconds lose the first fraction of one; the rest is the formats' own rounding.
        double shift = onePerSecond ? 1 - truth.StartUtc.AddSeconds(truth.TimeS[0]).Millisecond / 1000.0 : 0;
        double altitudeTolerance = flavour == LogFlavour.Igc ? 0.55 : 0.2;
        double[] altitude = [.. truth.PressurePa.Select(Atmosphere.PressureAltitudeM)];
        for (double t = 20; t < 60; t += 5)
        {
            Quantity height = log.Has(Quantity.Altitude) ? Quantity.Altitude : log.Has(Quantity.Pressure) ? Quantity.Pressure : Quantity.GpsAltitude;
            double read = At(log.TimeS, log[height], t);
            read = height == Quantity.Pressure ? Atmosphere.PressureAltitudeM(read) : read;
            Assert.Equal(At(truth.TimeS.ToArray(), altitude, t + shift), read, altitudeTolerance + (flavour == LogFlavour.WholeSeconds ? 0.6 : 0));
            Assert.Equal(At(truth.TimeS.ToArray(), truth.LatitudeDeg!.ToArray(), t + shift), At(log.TimeS, log[Quantity.Latitude], t),
                flavour switch { LogFlavour.WholeSeconds => 5e-5, LogFlavour.Igc => 1.7e-5, _ => 1e-6 });
        }
    }

    [Fact]
    public void Session_WithoutSatellites_HasNoPositionsAndCannotBeATrack()
    {
        SimulatedSession blind = Simulator.Run(Small with { Gps = false });
        string header = Encoding.UTF8.GetString(blind.Logs[0].Bytes).Split("\r\n")[0];
        Assert.Equal("time_s,altitude_m,climb_mps", header);
        ArgumentException refused = Assert.Throws<ArgumentException>(() => SessionWriter.Write(blind, LogFlavour.Igc));
        Assert.Contains("choose another flavour", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Igc_DeclaresItsExtensionsAndWritesThemInEveryFix()
    {
        string[] lines = Encoding.ASCII.GetString(SessionWriter.Write(Plain, LogFlavour.Igc).Logs[0].Bytes).Split("\r\n");
        Assert.Equal("I043637LAD3839LOD4042GSP4345TRT", lines.Single(l => l.StartsWith('I')));
        string[] fixes = [.. lines.Where(l => l.StartsWith('B'))];
        Assert.All(fixes, fix => Assert.Equal(45, fix.Length));
        // 45.2 degrees north is 45 degrees 12.000 minutes; 28.6 west is 28 degrees 36.000 minutes; the noise is metres.
        Assert.Matches("^B093001451(199|200)[0-9]N02(835[0-9]|836[0-9]){1}[0-9]{2}WA", fixes[0]);
    }

    [Fact]
    public void Faults_WhereAskedFor_DoubleRowsAndBreakTheOrder_AndNowhereElse()
    {
        static (int Doubled, int Backwards, int Lost) Count(SimulatedSession session)
        {
            LogChannels log = session.Draft.Logs[0];
            int doubled = 0, backwards = 0;
            for (int i = 1; i < log.TimeS.Count; i++)
            {
                doubled += log.TimeS[i] == log.TimeS[i - 1] ? 1 : 0;
                backwards += log.TimeS[i] < log.TimeS[i - 1] ? 1 : 0;
            }
            return (doubled, backwards, log.LatitudeDeg!.Count(double.IsNaN));
        }
        Assert.Equal((0, 0, 0), Count(Plain));
        (int doubled, int backwards, int lost) = Count(Simulator.Run(Small with { Faults = true, Flights = 6 }));
        Assert.True(doubled > 0 && backwards > 0 && lost > 0, $"{doubled} doubled, {backwards} backwards, {lost} lost");
    }

    [Fact]
    public void Logger_ThatIsPaused_LeavesGapsBetweenFlights()
    {
        LogChannels log = Simulator.Run(Small with { Paused = true }).Draft.Logs[0];
        int gaps = log.TimeS.Zip(log.TimeS.Skip(1)).Count(pair => pair.Second - pair.First > 5);
        Assert.Equal(2, gaps);
    }

    [Theory]
    [InlineData(BallastOrder.Blocks, "0,0,0,40,40,40")]
    [InlineData(BallastOrder.Turns, "0,40,0,40,0,40")]
    [InlineData(BallastOrder.ThereAndBack, "0,40,40,0,0,40")]
    public void Ballasts_AreFlownInTheOrderAskedFor(BallastOrder order, string expected)
    {
        SimulatedSession session = Simulator.Run(Small with { Order = order, Flights = 6, FlightTimeS = 30, LiftMps = 0 });
        Assert.Equal(expected, string.Join(",", session.FlightsCsv.Split('\n').Skip(1).Where(l => l.Length > 0).Select(l => l.Split(',')[2])));
    }

    [Fact]
    public void Air_WarmerThanStandard_MakesTheBarometerReadTooLittle()
    {
        // 30 K on 288 K: the same metres weigh a tenth less.
        LogChannels standard = Simulator.Run(Small with { LiftMps = 0 }).Draft.Logs[0];
        LogChannels warm = Simulator.Run(Small with { LiftMps = 0, WarmerK = 30, Temperature = true }).Draft.Logs[0];
        static double Launch(LogChannels log) => Atmosphere.PressureAltitudeM(log.PressurePa.Take(200).Min()) - Atmosphere.PressureAltitudeM(log.PressurePa[0]);
        Assert.Equal(0.9, Launch(warm) / Launch(standard), 0.06);
        Assert.Equal(288 + 30, warm.TemperatureK![0], 2.0);
    }

    public static TheoryData<SimulationOptions, string> Refused => new()
    {
        { Small with { Preset = "kite" }, "there is no airframe \"kite\"" },
        { Small with { Flights = 0 }, "the number of flights must lie between 1 and 500" },
        { Small with { WindMps = double.NaN }, "the wind must lie between 0 and 20 m/s" },
        { Small with { Edr = -0.1 }, "the turbulence must lie between" },
        { Small with { BallastsG = [0, 5000] }, "a ballast for discus-1500 must lie between 0 and 172 g" },
        { Small with { BallastsG = [20, 20] }, "each ballast may be named once" },
        { Small with { RateHz = 100 }, "the rate must lie between" },
    };

    [Theory]
    [MemberData(nameof(Refused), DisableDiscoveryEnumeration = true)]
    public void Options_OutOfRange_AreRefusedWithTheRange(SimulationOptions options, string expected)
    {
        ArgumentException refused = Assert.Throws<ArgumentException>(() => Simulator.Run(options));
        Assert.Contains(expected, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_AreWrittenTheSameUnderEveryCulture()
    {
        CultureInfo before = CultureInfo.CurrentCulture;
        try
        {
            CultureInfo.CurrentCulture = new CultureInfo("") { NumberFormat = new NumberFormatInfo { NumberDecimalSeparator = "," } };
            Assert.Equal(Plain.Logs[0].Bytes, Simulator.Run(Small).Logs[0].Bytes);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    private static double At(ReadOnlySpan<double> times, ReadOnlySpan<double> values, double t)
    {
        int i = 1;
        while (i < times.Length - 1 && times[i] < t)
        {
            i++;
        }
        return values[i - 1] + (values[i] - values[i - 1]) * (t - times[i - 1]) / (times[i] - times[i - 1]);
    }
}
