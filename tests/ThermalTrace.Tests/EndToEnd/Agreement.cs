using ThermalTrace.Reports;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>
/// How far two debriefs are apart: the largest difference of each kind over all flights, ballasts and options. Flights are
/// compared in their order, whatever their logs and numbers.
/// </summary>
internal sealed record Agreement
{
    /// <summary>Of a segment's ends, s from the flight's start; infinite where the segments' kinds differ.</summary>
    public double EdgeS { get; init; }
    /// <summary>Vector difference of a flight's wind, m/s.</summary>
    public double WindMps { get; init; }
    /// <summary>Of a flight's EDR, as a share.</summary>
    public double EdrShare { get; init; }
    /// <summary>Of the launch height, m.</summary>
    public double LaunchM { get; init; }
    /// <summary>Of the ends of the speeds flown, m/s.</summary>
    public double FlownMps { get; init; }
    /// <summary>Of sink and its bounds over the speeds flown, m/s.</summary>
    public double SinkMps { get; init; }
    /// <summary>Of the best glide ratio.</summary>
    public double GlideRatio { get; init; }
    /// <summary>Of the round-trip climb and its bounds, m/s.</summary>
    public double RoundTripMps { get; init; }
    /// <summary>Of an option's probability of being best.</summary>
    public double Probability { get; init; }

    /// <summary>
    /// What rounding inside the program may leave: the last digits of a double, seen through a fit and 600 draws. A draw at the
    /// very edge may change its rank, hence the probability's thousandth or two.
    /// </summary>
    public static Agreement Rounding { get; } = new()
    {
        EdgeS = 1e-6,
        WindMps = 1e-4,
        EdrShare = 1e-3,
        LaunchM = 1e-3,
        FlownMps = 1e-3,
        SinkMps = 3e-4,
        GlideRatio = 2e-3,
        RoundTripMps = 3e-4,
        Probability = 0.004,
    };

    /// <summary>Compares two documents of the same flights.</summary>
    /// <param name="a">One.</param>
    /// <param name="b">The other.</param>
    /// <param name="turnedDeg">By how much the second was turned clockwise.</param>
    public static Agreement Of(ResultsDocument a, ResultsDocument b, double turnedDeg = 0)
    {
        Assert.Equal(a.Flights.Count, b.Flights.Count);
        Assert.Equal(a.Polars.Select(p => p.BallastG), b.Polars.Select(p => p.BallastG));
        Assert.Equal(a.Comparison.Options.Select(o => o.BallastG), b.Comparison.Options.Select(o => o.BallastG));
        (FlightEntry A, FlightEntry B)[] flights = [.. a.Flights.Zip(b.Flights)];
        (PolarEntry A, PolarEntry B)[] polars = [.. a.Polars.Zip(b.Polars)];
        (OptionEntry A, OptionEntry B)[] options = [.. a.Comparison.Options.Zip(b.Comparison.Options)];
        return new Agreement
        {
            EdgeS = flights.Max(f => Edges(f.A, f.B)),
            WindMps = flights.Max(f => Wind(f.A.Wind, f.B.Wind, turnedDeg)),
            EdrShare = flights.Max(f => f.A.Turbulence.Edr is { } e ? Math.Abs(f.B.Turbulence.Edr!.Value / e - 1) : f.B.Turbulence.Edr is null ? 0 : double.PositiveInfinity),
            LaunchM = flights.Max(f => Apart(f.A.Launch?.HeightM, f.B.Launch?.HeightM)),
            FlownMps = polars.Max(p => p.A.FlownAirspeedMps.Zip(p.B.FlownAirspeedMps, (x, y) => Math.Abs(x - y)).Max()),
            SinkMps = polars.Max(p => Sink(p.A, p.B)),
            GlideRatio = polars.Max(p => Apart(p.A.BestGlide.Ratio.Value, p.B.BestGlide.Ratio.Value)),
            RoundTripMps = options.Max(o => Math.Max(Apart(o.A.RoundTripClimbMps.Value, o.B.RoundTripClimbMps.Value),
                Math.Max(Apart(o.A.RoundTripClimbMps.Low, o.B.RoundTripClimbMps.Low), Apart(o.A.RoundTripClimbMps.High, o.B.RoundTripClimbMps.High)))),
            Probability = options.Max(o => Apart(o.A.ProbabilityBest, o.B.ProbabilityBest)),
        };
    }

    /// <summary>Fails with all the figures where any is above its limit.</summary>
    public void RequireWithin(Agreement limit) => Assert.True(
        EdgeS <= limit.EdgeS && WindMps <= limit.WindMps && EdrShare <= limit.EdrShare && LaunchM <= limit.LaunchM && FlownMps <= limit.FlownMps
        && SinkMps <= limit.SinkMps && GlideRatio <= limit.GlideRatio && RoundTripMps <= limit.RoundTripMps && Probability <= limit.Probability,
        $"found {this}\nallowed {limit}");

    private static double Edges(FlightEntry a, FlightEntry b) =>
        a.Segments.Select(s => s.Kind).SequenceEqual(b.Segments.Select(s => s.Kind))
            ? a.Segments.Zip(b.Segments, (s, t) => Math.Max(Math.Abs(s.StartS - a.StartS - (t.StartS - b.StartS)), Math.Abs(s.EndS - a.StartS - (t.EndS - b.StartS)))).Max()
            : double.PositiveInfinity;

    private static double Wind(WindEntry a, WindEntry b, double turnedDeg)
    {
        if (a.EastMps is not { } east || a.NorthMps is not { } north)
        {
            return b.EastMps is null ? 0 : double.PositiveInfinity;
        }
        (double sin, double cos) = Math.SinCos(turnedDeg * Math.PI / 180);
        double dx = east * cos + north * sin - b.EastMps!.Value, dy = north * cos - east * sin - b.NorthMps!.Value;
        return Math.Sqrt(dx * dx + dy * dy);
    }

    private static double Sink(PolarEntry a, PolarEntry b)
    {
        double low = Math.Max(a.FlownAirspeedMps[0], b.FlownAirspeedMps[0]), high = Math.Min(a.FlownAirspeedMps[1], b.FlownAirspeedMps[1]);
        return a.Curve.Where(c => c.AirspeedMps >= low && c.AirspeedMps <= high).Max(c => Math.Max(
            Apart(c.SinkMps, At(b, c.AirspeedMps, p => p.SinkMps)),
            Math.Max(Apart(c.LowMps, At(b, c.AirspeedMps, p => p.LowMps)), Apart(c.HighMps, At(b, c.AirspeedMps, p => p.HighMps)))));
    }

    private static double? At(PolarEntry polar, double airspeedMps, Func<CurvePoint, double?> value)
    {
        int i = 1;
        while (i < polar.Curve.Count - 1 && polar.Curve[i].AirspeedMps < airspeedMps)
        {
            i++;
        }
        (CurvePoint p, CurvePoint q) = (polar.Curve[i - 1], polar.Curve[i]);
        return value(p) + (value(q) - value(p)) * (airspeedMps - p.AirspeedMps) / (q.AirspeedMps - p.AirspeedMps);
    }

    private static double Apart(double? a, double? b) => (a, b) switch
    {
        (null, null) => 0,
        ({ } x, { } y) => Math.Abs(x - y),
        _ => double.PositiveInfinity,
    };
}
