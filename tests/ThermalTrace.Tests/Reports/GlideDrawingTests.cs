using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Reports;

public sealed class GlideDrawingTests
{
    private static readonly Lazy<DebriefResult> Evening = new(() =>
        Debrief.Run(SessionFolder.Read(Path.Combine(AppContext.BaseDirectory, "..", "..", "..", "..", "..", "sample-logs", "larkmoor-evening")), new DebriefOptions()));

    [Fact]
    public void Glides_LieWhereTheirFiguresSay_AndInTheirFlight()
    {
        (ResultsDocument document, SessionTraces traces) = Evening.Value;
        GlidePicture picture = GlideDrawing.Of(document, traces)!;
        Assert.NotEmpty(picture.Glides);
        Assert.Equal(traces.Glides.Count(g => g.BallastG is not null), picture.Glides.Count + picture.Outside);
        GlidePoint[] points = [.. traces.Glides.Where(g => g.BallastG is not null).OrderBy(g => g.BallastG).ThenBy(g => g.AirspeedMps)];
        foreach (DrawnGlide drawn in picture.Glides)
        {
            FlightEntry flight = document.Flights[drawn.Flight];
            GlidePoint glide = Assert.Single(points, g => g.Log == flight.Log && g.Flight == flight.Number && Math.Abs(g.StartS - flight.StartS - drawn.FromS) < 1e-6);
            // Back through the axes by hand.
            var area = picture.Picture.Area;
            double airspeed = area.XLow + (drawn.XPx - area.LeftPx) / area.InsideWidthPx * (area.XHigh - area.XLow);
            double sink = area.YHigh + (drawn.YPx - area.TopPx) / area.InsideHeightPx * (area.YLow - area.YHigh);
            Assert.Equal(glide.AirspeedMps, airspeed, 1e-9);
            Assert.Equal(glide.SinkMps, sink, 1e-9);
            Assert.InRange(drawn.FromS, 0, flight.EndS - flight.StartS);
            Assert.InRange(drawn.ToS, drawn.FromS, flight.EndS - flight.StartS + 1);
        }
    }

    [Fact]
    public void Glides_WithoutAMeasuredPolar_AreNotDrawn()
    {
        (ResultsDocument document, SessionTraces traces) = Evening.Value;
        Assert.Null(GlideDrawing.Of(document with { Polars = [] }, traces));
    }
}
