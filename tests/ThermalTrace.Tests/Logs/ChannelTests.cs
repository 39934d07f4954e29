using System.Globalization;
using System.Text;
using CsCheck;
using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Logs;

/// <summary>Units that are assumed, channels that are derived or brought into one frame, and what no way of writing may change.</summary>
public class ChannelTests
{
    private static FlightLog With(string header, Func<int, string> field, int rows = 200) =>
        SampleFlight.Import(SampleFlight.Text($"time_s;altitude_m;{header}", rows, i => $"{SampleFlight.F(i * 0.2, 1)};{SampleFlight.F(SampleFlight.AltitudeM(i * 0.2), 2)};{field(i)}"));

    private static string F(double value, int decimals = 4) => SampleFlight.F(value, decimals);

    [Fact]
    public void Altitude_FromPressureAlone_IsTheStandardAtmospheres()
    {
        // ISO 2533:1975: H(950 hPa) = 540.337 m, H(900 hPa) = 988.500 m (shared/checks.md section 1).
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,pressure_hpa", 20, i => $"{i},{(i < 10 ? 950 : 900) + (i % 2 == 0 ? 0 : 0.01)}"));
        Assert.Equal(540.337, log[Quantity.Altitude][0], 0.001);
        Assert.Equal(988.500, log[Quantity.Altitude][10], 0.001);
        Assert.True(log.Channels.Single(c => c.Quantity == Quantity.Altitude).Derived);
    }

    [Fact]
    public void Altitude_AndPressure_AreBothKept()
    {
        FlightLog log = With("pressure [Pa]", i => F(99_000 - i));
        Assert.Equal(99_000, log[Quantity.Pressure][0]);
        Assert.Equal(SampleFlight.AltitudeM(0), log[Quantity.Altitude][0], 0.006);
    }

    [Theory]
    [InlineData("Pressure", 1003.2, 100_320, "hPa")]
    [InlineData("Pressure", 100_320, 100_320, "Pa")]
    [InlineData("Pressure", 29.7, 100_575.7533, "inHg")]
    [InlineData("Pressure", 100.32, 100_320, "kPa")]
    public void APressureWithoutUnit_IsToldByItsSize(string header, double value, double pascals, string unit)
    {
        FlightLog log = With(header, i => F(value * (1 - 1e-5 * i), 6));
        Assert.Equal(pascals, log[Quantity.Pressure][0], 1e-3);
        Assert.Contains(log.Problems, p => p.Text == $"column \"Pressure\" names no unit; taken as {unit}");
    }

    [Theory]
    [InlineData("Baro", 1003.2, Quantity.Pressure)]
    [InlineData("Baro", 312.5, Quantity.Altitude)]
    public void ABaroWithoutUnit_IsToldByItsValues(string header, double value, Quantity quantity)
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text($"time_s;{header}", 200, i => $"{i};{F(value + Math.Sin(i / 9.0))}"));
        Assert.Contains(log.Channels, c => c.Column == header && c.Quantity == quantity);
    }

    [Theory]
    [InlineData("Temp", 21.5, 294.65)]
    [InlineData("Temp", 294.65, 294.65)]
    [InlineData("Temp [°F]", 70.7, 294.65)]
    public void ATemperature_BecomesKelvin(string header, double value, double kelvin) =>
        Assert.Equal(kelvin, With(header, i => F(value + 0.01 * (i % 3)))[Quantity.Temperature][0], 1e-9);

    [Theory]
    [InlineData("accel z (g)", 1.0)]
    [InlineData("accel z (g)", -1.0)]
    [InlineData("accel z", 1.0)]
    [InlineData("accel z [m/s²]", 9.80665)]
    [InlineData("accel z", 9.80665)]
    [InlineData("accel z (g)", 0.0)]
    public void AVerticalAccelerometer_ShowsNothingAtRest(string header, double atRest)
    {
        double sign = atRest < 0 ? -1 : 1, scale = header.Contains('²', StringComparison.Ordinal) || atRest > 5 ? 9.80665 : 1;
        FlightLog log = With(header, i => F(atRest + sign * scale * (i == 50 ? 0.5 : 0), 6));
        Assert.Equal(0, log[Quantity.VerticalAcceleration][0], 1e-4);
        Assert.Equal(0.5 * (atRest == 0 ? 9.80665 : 9.80665), log[Quantity.VerticalAcceleration][50], 1e-4);
    }

    [Theory]
    [InlineData("Acceleration [g]", 1.0)]
    [InlineData("g-force", 1.0)]
    [InlineData("Acceleration [m/s2]", 9.80665)]
    public void AnAccelerometersMagnitude_KeepsGravity(string header, double atRest) =>
        Assert.Equal(9.80665, With(header, _ => F(atRest, 6))[Quantity.Acceleration][0], 1e-4);

    [Theory]
    [InlineData("Motor", "on", "off", 1)]
    [InlineData("Motor", "1", "0", 1)]
    [InlineData("RPM", "5400", "0", 5400)]
    [InlineData("Throttle (%)", "80", "0", 0.8)]
    [InlineData("Throttle", "1900", "1000", 0.9)]
    [InlineData("Throttle", "1024", "-1024", 1)]
    [InlineData("Throttle", "100", "-100", 1)]
    public void AMotor_IsZeroWhenOff(string header, string on, string off, double value)
    {
        FlightLog log = With(header, i => i is >= 10 and < 60 ? on : off);
        Assert.Equal(0, log[Quantity.Motor][0]);
        Assert.Equal(value, log[Quantity.Motor][20], 1e-12);
        Assert.Equal(0, log[Quantity.Motor][80]);
    }

    [Fact]
    public void ASinkRate_CountsDownwards()
    {
        FlightLog log = With("sink rate [m/s]", i => F(0.5 + 0.001 * i));
        Assert.Equal(-0.5, log[Quantity.ClimbRate][0], 1e-12);
    }

    [Fact]
    public void AReceiversState_IsNoPosition()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,fix,lat,lon", 100, i => $"{i},{100 + i},3,{F(47 + i * 1e-4, 7)},9.5"));
        Assert.Equal(47, log[Quantity.Latitude][0]);
        Assert.Contains(log.Problems, p => p.Text.Contains("left out: \"fix\"", StringComparison.Ordinal));
    }

    [Fact]
    public void HemisphereLetters_InColumnsOfTheirOwn_Count()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat,N/S,lon,E/W", 100, i => $"{i},{100 + i},{3330 + i * 0.01:F3},S,{7015 + i * 0.01:F3},{(i == 7 ? "" : "W")}"));
        Assert.Equal(-33.5, log[Quantity.Latitude][0], 1e-9);
        Assert.Equal(-70.25, log[Quantity.Longitude][0], 1e-9);
        Assert.Equal(double.NaN, log[Quantity.Longitude][7]);
        Assert.DoesNotContain(log.Problems, p => p.Text.Contains("not understood", StringComparison.Ordinal));
    }

    [Fact]
    public void TheElevatorStick_IsNoElevation()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,Rud,Ele,Ail", 100, i => $"{i},{100 + i},0,{i * 10},0"));
        Assert.False(log.Has(Quantity.GpsAltitude));
    }

    [Fact]
    public void DegreesThatAreTenMillionths_AreKnownByTheirSize()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat [deg],lon [deg]", 100, i => $"{i},{100 + i},{471370000 + i * 100},{98830000 + i * 100}"));
        Assert.Equal(47.13701, log[Quantity.Latitude][1], 1e-12);
        Assert.Equal(9.88301, log[Quantity.Longitude][1], 1e-12);
    }

    [Fact]
    public void Semicircles_BecomeDegrees()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat (semicircles),lon (semicircles)", 100, i => $"{i},{100 + i},{536870912 + i},{-268435456}"));
        Assert.Equal(45, log[Quantity.Latitude][0], 1e-12);
        Assert.Equal(-22.5, log[Quantity.Longitude][0], 1e-12);
    }

    [Fact]
    public void AQuotedHeaderOfTwoLines_IsOneHeader()
    {
        FlightLog log = SampleFlight.Import("\"time\n[s]\",\"altitude\r\n[ft]\"\n" + string.Concat(Enumerable.Range(0, 100).Select(i => $"{i},{1000 + i}\n")));
        Assert.Equal(304.8, log[Quantity.Altitude][0], 1e-9);
        Assert.Equal(100, log.Rows);
    }

    [Fact]
    public void BallastInTheLog_IsInGrams()
    {
        Assert.Equal(40, With("ballast_g", _ => "40")[Quantity.Ballast][0]);
        Assert.Equal(1.5 * 28.349523125, With("Ballast [oz]", _ => "1.5")[Quantity.Ballast][0], 1e-9);
    }

    [Fact]
    public void SpeedAndTrack_FollowFromPosition()
    {
        // A circle of 20 m at 10 m/s; metres per degree at 45° from shared/checks.md section 2 (WGS 84).
        const double latitudeM = 111131.777, longitudeM = 78846.835;
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat,lon", 500, i =>
        {
            double a = i * 0.2 * 10 / 20;
            return string.Create(CultureInfo.InvariantCulture, $"{i * 0.2:F1},{100 + i},{45 + 20 * Math.Cos(a) / latitudeM:F9},{9 + 20 * Math.Sin(a) / longitudeM:F9}");
        }));
        for (int i = 1; i < log.Rows - 1; i++)
        {
            // Central differences over 0.4 s see the chord: sin(x)/x with x = 0.1 rad.
            Assert.Equal(10 * Math.Sin(0.1) / 0.1, log[Quantity.GroundSpeed][i], 0.002);
            double track = (i * 0.2 * 10 / 20 * 180 / Math.PI + 90) % 360;
            Assert.Equal(0, Math.IEEERemainder(log[Quantity.Track][i] - track, 360), 0.02);
        }
        Assert.All(log.Channels.Where(c => c.Quantity is Quantity.GroundSpeed or Quantity.Track), c => Assert.True(c.Derived));
    }

    [Fact]
    public void SpeedFromPosition_IsMissingAcrossAGap()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat,lon", 100, i => $"{(i < 50 ? i : i + 60)},{100 + i},{F(47 + i * 1e-4, 6)},9.5"));
        Assert.Equal(11.12, log[Quantity.GroundSpeed][49], 0.02);
        Assert.Equal(11.12, log[Quantity.GroundSpeed][50], 0.02);
        FlightLog lone = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat,lon", 3, i => $"{i * 60},{100 + i},{F(47 + i * 1e-4, 6)},9.5"));
        Assert.All(lone[Quantity.GroundSpeed].ToArray(), v => Assert.Equal(double.NaN, v));
    }

    [Fact]
    public void SpeedFromAReceiverThatRepeatsItsFix_HasNoStairs()
    {
        FlightLog log = SampleFlight.Import(SampleFlight.Text("time_s,alt_m,lat,lon", 200, i => $"{F(i * 0.1, 1)},{100 + i},{F(47 + i / 10 * 1e-4, 6)},9.5"));
        Assert.All(log[Quantity.GroundSpeed][10..180].ToArray(), v => Assert.Equal(11.12, v, 0.02));
    }

    [Fact]
    public void ATrackCountedFromMinus180_IsTurned() =>
        Assert.Equal(270, With("course [deg]", i => F(-90 + (i % 2 == 0 ? 0 : 0.5)))[Quantity.Track][0], 1e-9);

    [Fact]
    public void EveryDecimal_IsReadAsTheFrameworkReadsIt() =>
        Gen.Select(Gen.Long[-99_999_999_999, 99_999_999_999], Gen.Int[0, 12], Gen.Bool).Sample((digits, decimals, comma) =>
        {
            string text = Math.Abs(digits).ToString("D14", CultureInfo.InvariantCulture);
            text = (digits < 0 ? "-" : "") + text[..^decimals] + (decimals > 0 ? "." + text[^decimals..] : "");
            Assert.True(NumberText.TryParse(Encoding.UTF8.GetBytes(comma ? text.Replace('.', ',') : text), out double value, out _));
            Assert.Equal(double.Parse(text, CultureInfo.InvariantCulture), value);
        });

    [Theory]
    [InlineData("+12.5", 12.5)]
    [InlineData(" 12.5 ", 12.5)]
    [InlineData("1.25e3", 1250)]
    [InlineData("-1.5E-2", -0.015)]
    [InlineData(".5", 0.5)]
    [InlineData("5.", 5)]
    [InlineData("−3.5", -3.5)]
    [InlineData("1'013.25", 1013.25)]
    [InlineData("1,013.25", 1013.25)]
    [InlineData("1.013,25", 1013.25)]
    [InlineData("1,234,567", 1234567)]
    [InlineData("12345678901234567890", 12345678901234567890.0)]
    [InlineData("0.1234567890123456789", 0.1234567890123456789)]
    [InlineData("\"7\"", 7)]
    public void UnusualNumbers_AreRead(string text, double value)
    {
        Assert.True(NumberText.TryParse(Encoding.UTF8.GetBytes(text), out double read, out _));
        Assert.Equal(value, read);
    }

    [Theory]
    [InlineData("12,3,4")]
    [InlineData("1.2.3")]
    [InlineData("1,23.4")]
    [InlineData("--5")]
    [InlineData("5-")]
    [InlineData("1e")]
    [InlineData("0x1F")]
    [InlineData(".")]
    [InlineData("12m")]
    [InlineData("1 2")]
    [InlineData("1e999")]
    public void WhatIsNoNumber_IsNotRead(string text) => Assert.False(NumberText.TryParse(Encoding.UTF8.GetBytes(text), out _, out _));

    [Fact]
    public void Shuffled_Columns_ChangeNothing() =>
        Gen.Shuffle(Enumerable.Range(0, 5).ToArray()).Sample(order =>
        {
            string[] headers = ["time_s", "altitude_m", "vario_mps", "lat", "lon"];
            string[] Fields(int i) => [F(i * 0.2, 1), F(SampleFlight.AltitudeM(i * 0.2), 2), F(Math.Sin(i), 2), F(47 + 1e-5 * i, 7), F(9 + 2e-5 * Math.Sin(i / 9.0), 7)];
            string Row(string[] fields) => string.Join(",", order.Select(o => fields[o]));
            FlightLog log = SampleFlight.Import(SampleFlight.Text(Row(headers), 100, i => Row(Fields(i)))), plain = SampleFlight.Import(SampleFlight.Text(string.Join(",", headers), 100, i => string.Join(",", Fields(i))));
            foreach (Quantity quantity in plain.Channels.Select(c => c.Quantity).Where(q => q != Quantity.Time))
            {
                Assert.Equal(plain[quantity].ToArray(), log[quantity].ToArray());
            }
        }, iter: 20);

    [Fact]
    public void ShiftingAllStamps_ChangesNoColumn() =>
        Gen.Int[0, 1_000_000].Sample(shift =>
        {
            FlightLog Log(int from) => SampleFlight.Import(SampleFlight.Text("time_ms,altitude_m,lat,lon", 100, i => $"{from + i * 200},{F(SampleFlight.AltitudeM(i * 0.2), 2)},{F(47 + 1e-5 * i, 7)},9.5"));
            FlightLog moved = Log(shift), plain = Log(0);
            Assert.Equal(plain.TimeS.ToArray(), moved.TimeS.ToArray());
            Assert.Equal(plain[Quantity.GroundSpeed].ToArray(), moved[Quantity.GroundSpeed].ToArray());
        }, iter: 20);

    [Fact]
    public void AnyBytesAtAll_AreALogOrAnUnusableInput() =>
        Gen.Select(Gen.Byte.Array[0, 400], Gen.Int[0, 3]).Sample((bytes, kind) =>
        {
            byte[] start = Encoding.UTF8.GetBytes(kind switch { 0 => "", 1 => "time_s,alt_m\n0,1\n1,2\n2,3\n", 2 => "AXXX\nHFDTE090526\nI033638FXA\nB1353235105725N00657283EA0041200490071\n", _ => "<gpx><trk><trkseg><trkpt lat=\"1\" lon=\"2\"><ele>1</ele>" });
            try
            {
                FlightLog log = SampleFlight.Import([.. start, .. bytes]);
                Assert.True(log.Rows >= 2);
            }
            catch (UnusableInputException e)
            {
                Assert.NotEmpty(e.Message);
            }
        }, iter: 3000);

    [Fact]
    public void AnyTextAtAll_IsALogOrAnUnusableInput() =>
        Gen.Char["0123456789.,;:-+TZ \t\n\r\"#[]()/abcdefghijklmnopqrstuvwxyzNSEW°"].Array[0, 300].Sample(chars =>
        {
            foreach (string start in new[] { "", "time,altitude,lat,lon\n0,1,2,3\n", "date;clock;baro;position\n" })
            {
                try
                {
                    SampleFlight.Import(start + new string(chars));
                }
                catch (UnusableInputException e)
                {
                    Assert.NotEmpty(e.Message);
                }
            }
        }, iter: 2000);
}
