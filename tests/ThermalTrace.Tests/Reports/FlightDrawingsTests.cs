using ThermalTrace.Reports;
using ThermalTrace.Reports.Pictures;
using ThermalTrace.Tests.EndToEnd;

namespace ThermalTrace.Tests.Reports;

public sealed class FlightDrawingsTests
{
    private static readonly Lazy<SeenFlight> LazyFlight = new(() => FlightLook.At(ShortSession.Session.Logs, 0).Flights(ShortSession.Session.Airframe.Launch, [])[0]);

    private static SeenFlight Flight => LazyFlight.Value;

    [Fact]
    public void Axes_ConvertThereAndBack()
    {
        PlotArea area = FlightDrawings.Height(Flight.Entry, Flight.Trace, 1, 20, 50, 720, 300)!.Area;
        Assert.Equal((20, 50), (area.XLow, area.XHigh));
        Assert.Equal(area.LeftPx / 720.0, area.ShareOfX(20), 9);
        Assert.Equal(33.3, area.XAt(area.ShareOfX(33.3)), 9);
        Assert.Equal(20, area.XAt(0));
        Assert.Equal(50, area.XAt(1));
        Assert.Equal(20, area.XAt(double.NaN));
        Assert.Equal(area.TopPx / 300.0, area.ShareOfY(area.YHigh), 9);
    }

    [Fact]
    public void AWindow_ShowsItsPartAlone()
    {
        Drawing whole = FlightDrawings.Height(Flight.Entry, Flight.Trace, 1, 0, Flight.Entry.EndS - Flight.Entry.StartS)!;
        SegmentEntry glide = Flight.Entry.Segments.First(s => s.Kind == "glide" && s.EndS - s.StartS > 5);
        double from = glide.StartS - Flight.Entry.StartS + 1;
        Drawing part = FlightDrawings.Height(Flight.Entry, Flight.Trace, 1, from, from + 3)!;
        Assert.Contains("s-launch", whole.Markup, StringComparison.Ordinal);
        Assert.DoesNotContain("s-launch", part.Markup, StringComparison.Ordinal);
        Assert.Contains("s-glide", part.Markup, StringComparison.Ordinal);
        Assert.Null(FlightDrawings.Height(Flight.Entry, Flight.Trace, 1, 5000, 5010));
    }

    [Fact]
    public void SmallTrace_HasALineForEveryPhase_WithinItsFrame()
    {
        string small = FlightDrawings.Small(Flight.Entry, Flight.Trace, 1);
        Assert.Equal(Flight.Entry.Segments.Count, small.Split("<path").Length - 1);
        foreach (string point in small.Split('M', 'L').Skip(1).Select(p => p.Split('"')[0].Trim()).Where(p => p.Length > 0 && char.IsAsciiDigit(p[0])))
        {
            double[] xy = [.. point.Split(' ').Select(ShortSession.Number)];
            Assert.InRange(xy[0], 0, 161);
            Assert.InRange(xy[1], 0, 44);
        }
    }

    [Fact]
    public void Wind_OfAFlightByItselfAlone_AgreesWithTheDebrief()
    {
        WindEntry alone = FlightLook.Wind(Flight, ShortSession.Session.Airframe, 0), unknown = FlightLook.Wind(Flight, null, null), all = ShortSession.Document.Flights[0].Wind;
        foreach (WindEntry wind in (WindEntry[])[alone, unknown])
        {
            double apart = double.Hypot(wind.EastMps!.Value - all.EastMps!.Value, wind.NorthMps!.Value - all.NorthMps!.Value);
            Assert.InRange(apart, 0, 4 * double.Hypot(wind.StandardErrorMps!.Value, all.StandardErrorMps!.Value));
        }
    }

    [Theory]
    [InlineData(125.44, "2:05.4")]
    [InlineData(59.96, "1:00.0")]
    [InlineData(-0.04, "0:00.0")]
    [InlineData(-2.5, "\u22120:02.5")]
    public void TimeOfFlight_IsTold(double seconds, string text) => Assert.Equal(text, FlightDrawings.TimeOfFlight(seconds));

    [Fact]
    public void Place_IsTheNearestPoint()
    {
        Assert.Equal(Flight.Trace.HeightM[7], FlightDrawings.At(Flight.Trace, Flight.Trace.TimeS[7] + 0.3 * Flight.StepS).HeightM);
        Assert.Equal(Flight.Trace.HeightM[0], FlightDrawings.At(Flight.Trace, -50).HeightM);
        Assert.Equal(Flight.Trace.HeightM[^1], FlightDrawings.At(Flight.Trace, 1e9).HeightM);
    }
}
