using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>What a debrief says of notes and sensors that do not fit, and that it says nothing where all fits.</summary>
public sealed class ChecksTests
{
    private static readonly SimulationOptions Winch = new()
    {
        Preset = "winch-3000",
        WindMps = 4,
        Edr = 0.1,
        LiftMps = 1.8,
        Flights = 6,
        FlightTimeS = 240,
        TestShare = 0.4,
        RateHz = 2,
        AirframeSpread = 0.08,
        Seed = 21023,
    };

    [Fact]
    public void Ballast_NotedWrongly_IsNamedWithItsLogAndNothingIsChanged()
    {
        // Of six short flights the log factor is 3: the air, the airspeeds' common error and the timing explain the sink about as well.
        SimulatedSession simulated = Simulator.Run(Winch with { Flights = 12 });
        string csv = simulated.FlightsCsv.Replace("log-03.csv,,900", "log-03.csv,,0", StringComparison.Ordinal);
        Assert.NotEqual(csv, simulated.FlightsCsv);
        Session session = ShortSession.Read(simulated) with { Flights = FlightsFile.Read(new StringReader(csv), FlightsFile.Name) };

        ResultsDocument document = ShortSession.Debriefed(session);

        Assert.Contains(document.Limits, l => l.StartsWith("log-03.csv flies like 900 g, not 0 g", StringComparison.Ordinal) && l.Contains("likelier", StringComparison.Ordinal));
        Assert.All(document.Flights.Where(f => f.Log == "log-03.csv"), f => Assert.Equal(0, f.BallastG));
        Assert.True(document.Diagnostics!.BallastChecks[0].Told);
    }

    [Fact]
    public void Session_InWhichAllFits_IsNotDoubted()
    {
        Assert.DoesNotContain(ShortSession.Document.Limits, l => l.Contains("flies like", StringComparison.Ordinal) || l.Contains("of its own", StringComparison.Ordinal)
            || l.Contains("of their own", StringComparison.Ordinal) || l.Contains("misfits", StringComparison.Ordinal) || l.Contains("crept", StringComparison.Ordinal));
        Assert.True(ShortSession.Document.Diagnostics!.MisfitProbability > 0.00005);
    }

    [Fact]
    public void Diagnostics_Of_ASession_CoverEverySpeedFlightAndBallast()
    {
        ResultsDocument document = ShortSession.Document;
        DiagnosticsEntry diagnostics = document.Diagnostics!;

        Assert.Equal(document.Flights.Select(f => (f.Log, f.Number)), diagnostics.ByFlight.Select(f => (f.Log, f.Number)));
        Assert.Equal([0, 70], diagnostics.ByBallast.Select(b => b.BallastG));
        Assert.All(diagnostics.BySpeed.Zip(diagnostics.BySpeed.Skip(1)), p => Assert.Equal(p.First.AirspeedHighMps, p.Second.AirspeedLowMps));
        Assert.All(diagnostics.ByFlight, f => Assert.InRange(f.AirRiseMps.Value!.Value, -0.6, 0.6));
        Assert.All(diagnostics.NextGlides, n => Assert.True((n.LeadErrorThenMps ?? n.LeadErrorThenS) <= (n.LeadErrorNowMps ?? n.LeadErrorNowS)));
        Assert.Equal(2, diagnostics.NextGlides.Count);
    }

    [Fact]
    public void Barometer_ThatCreeps_HardlyMovesThePolar()
    {
        SimulationOptions options = Winch with { Seed = 25003 };
        ResultsDocument still = ShortSession.Debriefed(ShortSession.Read(Simulator.Run(options)));
        ResultsDocument creeping = ShortSession.Debriefed(ShortSession.Read(Simulator.Run(options with { BaroDriftMPerH = 60 })));

        Assert.Equal(3, creeping.Diagnostics!.Barometers.Count);
        Assert.All(creeping.Diagnostics.Barometers, b => Assert.True(b.Corrected));
        Assert.All(creeping.Diagnostics.Barometers, b => Assert.InRange(b.DriftMPerH.Value!.Value, 45, 75));
        Assert.All(still.Diagnostics!.Barometers, b => Assert.False(b.Corrected));
        Assert.Contains(creeping.Limits, l => l.Contains("crept", StringComparison.Ordinal));
        // Left in, 60 m/h would be 0.017 m/s.
        Assert.InRange(MostMoved(still, creeping), 0, 0.012);
    }

    [Fact]
    public void Pitot_ThatReadsEightPercentHigh_IsFound()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Read(Simulator.Run(Winch with { Seed = 24003, Pitot = true, PitotGainError = 0.08 })));

        PitotEntry pitot = document.Diagnostics!.Pitot!;
        Assert.InRange(1.08, pitot.Factor.Low!.Value, pitot.Factor.High!.Value);
        Assert.Contains(document.Limits, l => l.StartsWith("The pitot reads", StringComparison.Ordinal) && l.Contains("% high", StringComparison.Ordinal));
    }

    [Fact]
    public void Polar_WithOneThermalClippedInAGlide_MovesByLessThanATenthOfAMetreASecond()
    {
        ResultsDocument plain = ShortSession.Document;
        (FlightEntry flight, SegmentEntry glide, SegmentEntry after) = plain.Flights
            .SelectMany(f => f.Segments.Zip(f.Segments.Skip(1), (a, b) => (f, a, b)))
            .Where(s => s.a.Kind == "glide" && s.b.Kind != "glide").MaxBy(s => s.a.EndS - s.a.StartS);
        Assert.True(glide.EndS - glide.StartS > 30);
        double middle = (glide.StartS + glide.EndS) / 2;
        Session session = ShortSession.Session;
        FlightLog log = session.Logs[0];
        double[] time = log.TimeS.ToArray();
        // 6 m gained in 8 s, given back after the glide, where no polar looks.
        double Gain(double t) => 6 * Math.Clamp((t - middle) / 8, 0, 1) * Math.Clamp((after.EndS - t) / (after.EndS - after.StartS), 0, 1);
        FlightLog clipped = ShortSession.With(log, (q, column) => q is Quantity.Altitude or Quantity.GpsAltitude ? [.. column.Zip(time, (h, t) => h + Gain(t))] : column);

        ResultsDocument moved = ShortSession.Debriefed(session with { Logs = [clipped] });

        Assert.Equal(plain.Flights.Count, moved.Flights.Count);
        double most = MostMoved(plain, moved);
        Assert.True(most < 0.10, FormattableString.Invariant($"the polar moved by {most:0.000} m/s"));
    }

    private static double MostMoved(ResultsDocument a, ResultsDocument b) => a.Polars.Zip(b.Polars).Max(p =>
        p.First.Curve.Where(c => c.Flown && c.AirspeedMps >= p.Second.Curve[0].AirspeedMps && c.AirspeedMps <= p.Second.Curve[^1].AirspeedMps)
            .Max(c => Math.Abs(c.SinkMps!.Value - At(p.Second.Curve, c.AirspeedMps))));

    private static double At(IReadOnlyList<CurvePoint> curve, double airspeedMps)
    {
        int i = 1;
        while (i < curve.Count - 1 && curve[i].AirspeedMps < airspeedMps)
        {
            i++;
        }
        double share = (airspeedMps - curve[i - 1].AirspeedMps) / (curve[i].AirspeedMps - curve[i - 1].AirspeedMps);
        return curve[i - 1].SinkMps!.Value + share * (curve[i].SinkMps!.Value - curve[i - 1].SinkMps!.Value);
    }
}
