using System.Globalization;
using System.Text;
using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

public class StampTests
{
    private static FlightLog Import(string header, Func<int, string> stamp, int rows = 200, char separator = ';') =>
        SampleFlight.Import(SampleFlight.Text($"{header}{separator}alt_m", rows, i => $"{stamp(i)}{separator}{SampleFlight.F(SampleFlight.AltitudeM(i * 0.2), 2)}"));

    [Theory]
    [InlineData("10:00", 36000)]
    [InlineData("10:00:01", 36001)]
    [InlineData("10:00:01.5", 36001.5)]
    [InlineData("10:00:01,25", 36001.25)]
    [InlineData("9:05:07", 32707)]
    [InlineData("12:00:00 AM", 0)]
    [InlineData("12:30:00 pm", 45000)]
    [InlineData("1:00:00 PM", 46800)]
    [InlineData("05:12.3", 312.3)]
    [InlineData("23:59:60", 86400)]
    [InlineData("10:00:00.123456789", 36000.1234567)]
    public void AClock_IsRead(string text, double seconds)
    {
        Assert.True(TimeText.TryClock(Encoding.UTF8.GetBytes(text), out long ticks, out _));
        Assert.Equal(seconds, ticks / 1e7, 1e-7);
    }

    [Theory]
    [InlineData("10")]
    [InlineData("10:60")]
    [InlineData("10:00:61")]
    [InlineData("10:00:")]
    [InlineData("10:00:01.")]
    [InlineData("13:00 pm")]
    [InlineData("10:00:01x")]
    [InlineData(":00:01")]
    [InlineData("noon")]
    [InlineData("")]
    public void WhatIsNoClock_IsNotRead(string text) => Assert.False(TimeText.TryClock(Encoding.UTF8.GetBytes(text), out _, out _));

    [Theory]
    [InlineData("2026-05-09", 2026, 5, 9)]
    [InlineData("2026/05/09", 2026, 5, 9)]
    [InlineData("20260509", 2026, 5, 9)]
    [InlineData("090526", 2026, 5, 9)]
    [InlineData("9.5.2026", 2026, 5, 9)]
    [InlineData("09.05.26", 2026, 5, 9)]
    [InlineData("09-May-2026", 2026, 5, 9)]
    [InlineData("9 May 2026", 2026, 5, 9)]
    [InlineData("May 9, 2026", 2026, 5, 9)]
    [InlineData("29.02.2024", 2024, 2, 29)]
    public void ADate_IsRead(string text, int year, int month, int day)
    {
        Assert.True(TimeText.TryDate(Encoding.UTF8.GetBytes(text), DateOrder.DayMonthYear, out int days, out _));
        Assert.Equal(new DateOnly(year, month, day).DayNumber, days);
    }

    [Theory]
    [InlineData("2026-13-09")]
    [InlineData("31.02.2026")]
    [InlineData("29.02.2026")]
    [InlineData("2026-05")]
    [InlineData("9.5.")]
    [InlineData("1026-05-09")]
    [InlineData("12345")]
    public void WhatIsNoDate_IsNotRead(string text) => Assert.False(TimeText.TryDate(Encoding.UTF8.GetBytes(text), DateOrder.DayMonthYear, out _, out _));

    [Fact]
    public void DayAndMonth_AreToldByTheValues()
    {
        FlightLog log = Import("Date;Time", i => "05/19/2026;" + $"10:00:{i % 60:00}", 60);
        Assert.Equal(new DateTimeOffset(2026, 5, 19, 10, 0, 0, TimeSpan.Zero), log.StartedAt);
        Assert.DoesNotContain(log.Problems, p => p.Text.Contains("day first", StringComparison.Ordinal));
    }

    [Fact]
    public void DayAndMonthThatCouldBeEither_AreReadDayFirst_AndSaid()
    {
        FlightLog log = Import("Date;Time", i => "05/09/2026;" + $"10:00:{i % 60:00}", 60);
        Assert.Equal(new DateTimeOffset(2026, 9, 5, 10, 0, 0, TimeSpan.Zero), log.StartedAt);
        Assert.Contains(log.Problems, p => p.Text.Contains("may be day or month first; read with the day first", StringComparison.Ordinal));
    }

    [Fact]
    public void ADateThatSettlesTheOrderLate_TurnsThoseBefore()
    {
        // 12 May, written month first, then 13 May: only the second tells, after the sample's rows.
        FlightLog log = Import("Date;Time", i => $"{(i < 600 ? "05/12/2026" : "05/13/2026")};{new DateTime(2026, 5, 12, 23, 50, 0).AddSeconds(i):HH:mm:ss}", 800);
        Assert.Equal(new DateTimeOffset(2026, 5, 12, 23, 50, 0, TimeSpan.Zero), log.StartedAt);
        Assert.Equal(799, log.TimeS[^1]);
        Assert.Empty(log.Problems);
    }

    [Fact]
    public void APointedDate_IsDayFirst_AndNeedsNoSaying()
    {
        FlightLog log = Import("Date;Time", i => "05.09.2026;" + $"10:00:{i % 60:00}", 60);
        Assert.Equal(new DateTimeOffset(2026, 9, 5, 10, 0, 0, TimeSpan.Zero), log.StartedAt);
        Assert.Empty(log.Problems);
    }

    [Fact]
    public void ADateColumnThatNeverChanges_DoesNotHoldTheClockAtMidnight()
    {
        FlightLog log = Import("Date;Time", i => $"2026-05-09;{new DateTime(2026, 5, 9, 23, 59, 0).AddSeconds(i):HH:mm:ss}");
        Assert.Equal(199, log.TimeS[^1], 1e-9);
    }

    [Fact]
    public void ADateColumnThatChangesLate_DoesNotCountTheDayTwice()
    {
        FlightLog log = Import("Date;Time", i => $"{(i < 80 ? "2026-05-09" : "2026-05-10")};{new DateTime(2026, 5, 9, 23, 59, 0).AddSeconds(i):HH:mm:ss}");
        Assert.Equal(199, log.TimeS[^1], 1e-9);
    }

    [Fact]
    public void TheEarliestStamp_IsZero_AndTheClockIsKept()
    {
        FlightLog log = Import("time", i => $"2026-05-09T10:00:{i / 5:00}.{i % 5 * 2 + 1}00+02:00", 250);
        Assert.Equal(0, log.TimeS[0]);
        Assert.Equal(36000.1, log.ClockAtStartS!.Value, 1e-9);
        Assert.Equal(TimeSpan.FromHours(2), log.StartedAt!.Value.Offset);
    }

    [Fact]
    public void SecondsFromPowerOn_HaveNoClock()
    {
        FlightLog log = Import("time_s", i => SampleFlight.F(17.3 + i * 0.2, 1));
        Assert.Null(log.ClockAtStartS);
        Assert.Null(log.StartedAt);
        Assert.Equal(0.2, log.TimeS[1], 1e-12);
    }

    [Fact]
    public void OfTwoTimeColumns_TheFinerIsRead()
    {
        FlightLog log = Import("Time;Millis", i => $"10:00:{i / 5:00};{5000 + i * 200}");
        Assert.Equal(0.2, log.TimeS[1], 1e-9);
        Assert.Equal("Millis", log.Channels[0].Column);
    }

    [Fact]
    public void AUnitThatIsAssumed_IsSaidOnce()
    {
        FlightLog log = Import("Time", i => (i * 200).ToString(CultureInfo.InvariantCulture));
        Assert.Equal(39.8, log.TimeS[^1], 1e-9);
        Assert.Single(log.Problems, p => p.Text == "column \"Time\" names no unit; taken as ms, from the size of its steps");
    }

    [Theory]
    [InlineData("47.137", 47.137, 0)]
    [InlineData("-9,883", -9.883, 0)]
    [InlineData("47 08.220 N", 47.137, 'N')]
    [InlineData("47°08.220'N", 47.137, 'N')]
    [InlineData("47°08'13.2\"N", 47.137, 'N')]
    [InlineData("47º 8′ 13.2″ N", 47.137, 'N')]
    [InlineData("N47.137", 47.137, 'N')]
    [InlineData("S 33 30.0", 33.5, 'S')]
    [InlineData("4708.220N", 4708.22, 'N')]
    public void ACoordinate_IsRead(string text, double value, int letter)
    {
        Assert.True(PositionText.TryCoordinate(Encoding.UTF8.GetBytes(text), out double read, out byte hemisphere));
        Assert.Equal(value, read, 1e-9);
        Assert.Equal(letter, hemisphere);
    }

    [Theory]
    [InlineData("47.1370 9.8830")]
    [InlineData("47.1370, 9.8830")]
    [InlineData("47.1370,9.8830")]
    [InlineData("47.1370;9.8830")]
    [InlineData("47.1370/9.8830")]
    [InlineData("47,1370 9,8830")]
    [InlineData("47,1370;9,8830")]
    [InlineData("47,1370, 9,8830")]
    [InlineData("(47.1370, 9.8830)")]
    [InlineData("N47.1370 E9.8830")]
    [InlineData("47.1370N 9.8830E")]
    [InlineData("47.1370N, 9.8830E")]
    [InlineData("E9.8830 N47.1370")]
    [InlineData("47 08.220 N 9 52.980 E")]
    [InlineData("47°08.220'N 009°52.980'E")]
    [InlineData("47°08'13.2\"N 9°52'58.8\"E")]
    [InlineData("  47.1370   9.8830 ")]
    public void APositionInOneField_IsRead(string text)
    {
        Assert.True(PositionText.TryPair(Encoding.UTF8.GetBytes(text), out double first, out double second));
        Assert.Equal(47.137, first, 1e-9);
        Assert.Equal(9.883, second, 1e-9);
    }

    [Theory]
    [InlineData("")]
    [InlineData("47.1370")]
    [InlineData("here and there")]
    [InlineData("47.1370 x")]
    [InlineData("47 61.0 N 9 10.0 E")]
    [InlineData("N N")]
    public void WhatIsNoPosition_IsNotRead(string text) => Assert.False(PositionText.TryPair(Encoding.UTF8.GetBytes(text), out _, out _));
}
