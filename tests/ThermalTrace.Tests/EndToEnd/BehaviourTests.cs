using System.Globalization;
using ThermalTrace.Calibration;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>What a pilot notes, what a log lacks, and what a debrief makes of it.</summary>
public class BehaviourTests
{
    [Fact]
    public void AFlightOfUnknownBallast_IsReportedAndLeftOutOfEveryBallastsResult()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g", "day.csv,1,0", "day.csv,2,70", "day.csv,3,", "day.csv,4,70"));
        Assert.Equal([0, 70, null, 70], document.Flights.Select(f => f.BallastG));
        Assert.Null(document.Flights[2].WingLoadingGDm2);
        Assert.NotNull(document.Flights[2].Wind.SpeedMps);
        Assert.Equal([1, 2], document.Comparison.Options.Select(o => o.Flown.Flights));
        Assert.Contains(document.Limits, l => l.Contains("ballast of day.csv flight 3:", StringComparison.Ordinal));
        Assert.True(document.Polars[0].Glides < ShortSession.Document.Polars[0].Glides);
    }

    [Fact]
    public void ASpoiledFlight_IsLeftOutOfEveryEstimate()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g,spoiled", "day.csv,1,0,yes", "day.csv,2-4,0,"));
        Assert.Equal([true, false, false, false], document.Flights.Select(f => f.Spoiled));
        Assert.Equal([3, 0], document.Comparison.Options.Select(o => o.Flown.Flights));
        Assert.Contains(document.Limits, l => l.Contains("spoiled", StringComparison.Ordinal) && l.Contains("day.csv flight 1.", StringComparison.Ordinal));
        Assert.Equal(document.Flights.Skip(1).Average(f => f.Wind.SpeedMps!.Value), document.Comparison.Conditions.WindMps!.Value, 1e-9);
    }

    [Theory]
    [InlineData("day.csv,7,0", "flights.csv:2: flight 7 of day.csv is not there; day.csv has 4 flights")]
    [InlineData("day.csv,2-5,0", "flights.csv:2: flight 2-5 of day.csv is not there; day.csv has 4 flights")]
    public void ANoteOfAFlightThatIsNotThere_IsRefusedWithItsLine(string row, string message)
    {
        UnusableInputException error = Assert.Throws<UnusableInputException>(() => ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g", row)));
        Assert.StartsWith(message, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AWeighing_WinsOverTheSum()
    {
        double bare = ShortSession.Session.Airframe.UnballastedMassG;
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g,flying_mass_g",
            "day.csv,1,0,", $"day.csv,2,70,{bare + 88}", "day.csv,3,0,", $"day.csv,4,70,{bare + 90}"));
        Assert.Equal([bare, bare + 88, bare, bare + 90], document.Flights.Select(f => f.FlyingMassG));
        Assert.Equal(bare + 89, document.Polars[1].FlyingMassG, 1e-6);
        Assert.Equal(bare + 89, document.Comparison.Options[1].FlyingMassG, 1e-6);
    }

    [Fact]
    public void RangesOfTheClock_NameTheFlightsLaunchedWithinThem()
    {
        Session clocked = ShortSession.Read(SessionWriter.Write(ShortSession.Simulated, LogFlavour.Semicolon));
        FlightLog log = clocked.Logs[0];
        string Clock(FlightEntry flight, double laterS) =>
            TimeSpan.FromSeconds(Math.Floor(log.ClockAtStartS!.Value + flight.StartS + laterS)).ToString(@"hh\:mm\:ss", CultureInfo.InvariantCulture);
        IReadOnlyList<FlightEntry> flights = ShortSession.Document.Flights;
        Session noted = clocked with
        {
            Flights = ShortSession.WithFlights(["log,flight,ballast_g", .. flights.Select((f, i) => $"day.csv,{Clock(f, -20)}-{Clock(f, 20)},{(i % 2 == 0 ? 0 : 70)}")]).Flights,
        };
        Assert.Equal([0, 70, 0, 70], ShortSession.Debriefed(noted).Flights.Select(f => f.BallastG));
        UnusableInputException error = Assert.Throws<UnusableInputException>(() => ShortSession.Debriefed(clocked with
        {
            Flights = ShortSession.WithFlights("log,flight,ballast_g", "day.csv,03:00-03:10,0").Flights,
        }));
        Assert.Contains("no flight of day.csv was launched within 03:00:00-03:10:00", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ABallastColumnInTheLog_CountsLikeANote()
    {
        (string header, string[] rows) = ShortSession.LogLines;
        double[] change = [.. ShortSession.Document.Flights.Select(f => f.EndS + 5)];
        string text = header + ",ballast_g\n" + string.Concat(rows.Select(r =>
            $"{r},{(change.Count(c => c < ShortSession.Number(r[..r.IndexOf(',', StringComparison.Ordinal)])) % 2 == 0 ? 0 : 70)}\n"));
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithLog(text) with { Flights = [] });
        Assert.Equal([0, 70, 0, 70], document.Flights.Select(f => f.BallastG));
        Agreement.Of(ShortSession.Document, document).RequireWithin(Agreement.Rounding);
    }

    [Fact]
    public void ABoundaryThatAPersonMoved_Wins()
    {
        FlightEntry flight = ShortSession.Document.Flights[0];
        SegmentEntry climb = flight.Segments.First(s => s.Kind == "climb");
        // The person says: no lift was worked here, and the launch lasted three seconds longer.
        double launched = flight.Launch!.EndS;
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Session with
        {
            Phases =
            [
                new PhaseNote("day.csv", 1, launched - 1, launched + 3, "launch", 2),
                new PhaseNote("day.csv", 1, climb.StartS - 2, climb.EndS + 2, "glide", 3),
            ],
        });
        FlightEntry moved = document.Flights[0];
        Assert.Equal("glide", moved.Segments.Single(s => s.StartS <= climb.StartS && s.EndS > climb.StartS).Kind);
        Assert.Equal("glide", moved.Segments.Single(s => s.StartS <= climb.EndS && s.EndS > climb.EndS).Kind);
        Assert.InRange(moved.Launch!.EndS, launched + 2.5, launched + 3.5); // phases are looked at every 0.4 s
        Assert.Equal(flight.Lift.Climbs - 1, moved.Lift.Climbs);
        Assert.Equal(ShortSession.Document.Flights.Count, document.Flights.Count);
    }

    [Fact]
    public void CamberNotedForFlights_GivesAPolarOfTheBestSetting()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g,camber",
            "day.csv,1,0,speed", "day.csv,2,70,speed", "day.csv,3,0,thermal", "day.csv,4,70,thermal"));
        Assert.Equal(["speed", "speed", "thermal", "thermal"], document.Flights.Select(f => f.Camber));
        Assert.DoesNotContain(document.Limits, l => l.Contains("No camber", StringComparison.Ordinal));
        Assert.Equal([0, 70], document.Polars.Select(p => p.BallastG));
        // One airframe and one set of flights: naming the settings must not move the polar beyond what it was unsure of.
        foreach ((PolarEntry with, PolarEntry without) in document.Polars.Zip(ShortSession.Document.Polars))
        {
            Assert.InRange(with.MinSink.SinkMps.Value!.Value, without.MinSink.SinkMps.Low!.Value - 0.05, without.MinSink.SinkMps.High!.Value + 0.05);
        }
    }

    [Fact]
    public void CamberInTheLog_IsReadByItsLabels()
    {
        (string header, string[] rows) = ShortSession.LogLines;
        double half = ShortSession.Document.Flights[1].EndS + 5;
        string text = header + ",camber\n" + string.Concat(rows.Select(r => $"{r},{(ShortSession.Number(r[..r.IndexOf(',', StringComparison.Ordinal)]) < half ? "speed" : "thermal")}\n"));
        ResultsDocument logged = ShortSession.Debriefed(ShortSession.WithLog(text));
        ResultsDocument noted = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g,camber",
            "day.csv,1,0,speed", "day.csv,2,70,speed", "day.csv,3,0,thermal", "day.csv,4,70,thermal"));
        Agreement.Of(noted, logged).RequireWithin(Agreement.Rounding);
    }

    [Fact]
    public void ASessionWithoutLift_IsComparedByTimeAloft()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Read(Simulator.Run(ShortSession.Options with { LiftMps = 0 })));
        Assert.All(document.Flights, f => Assert.Equal(0, f.Lift.Climbs));
        Assert.Equal("still_air_time", document.Comparison.Measure);
        Assert.Null(document.Comparison.Conditions.LiftMps);
        Assert.All(document.Comparison.Options, o => Assert.Null(o.RoundTripClimbMps.Value));
        // A throw to 45 m or so and a sink of 0.3 to 0.4 m/s.
        Assert.All(document.Comparison.Options, o => Assert.InRange(o.StillAirTimeS.Value!.Value, 60, 240));
        OptionEntry best = document.Comparison.Options.MaxBy(o => o.StillAirTimeS.Value)!;
        Assert.Equal(best.BallastG, document.Comparison.BestBallastG);
    }

    [Fact]
    public void OneOptionAlone_IsNoComparison()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithFlights("log,flight,ballast_g", "day.csv,,0")
            with
        { Airframe = ShortSession.Session.Airframe with { BallastOptionsG = [] } });
        Assert.Equal("unknown", document.Comparison.Verdict);
        Assert.Equal(0, Assert.Single(document.Comparison.Options).BallastG);
        Assert.Single(document.Polars);
        Assert.NotEmpty(document.Comparison.Why);
    }

    [Fact]
    public void ALogThatBeginsInTheAir_GivesThatFlightWithoutALaunch()
    {
        (string header, string[] rows) = ShortSession.LogLines;
        double from = ShortSession.Document.Flights[0].Launch!.EndS + 20;
        IEnumerable<string> later = rows.Where(r => ShortSession.Number(r[..r.IndexOf(',', StringComparison.Ordinal)]) >= from);
        ResultsDocument document = ShortSession.Debriefed(ShortSession.WithLog(string.Join('\n', later.Prepend(header)) + "\n"));
        Assert.Equal(4, document.Flights.Count);
        FlightEntry first = document.Flights[0];
        Assert.InRange(first.StartS, 0, 2);
        Assert.Null(first.Launch);
        Assert.Empty(first.Launches);
        Assert.NotNull(first.Wind.SpeedMps);
        Assert.All(document.Flights.Skip(1), f => Assert.NotNull(f.Launch));
    }

    [Fact]
    public void SatelliteHeightAlone_GivesFlightsWindAndPolars()
    {
        FlightLog log = ShortSession.With(ShortSession.Session.Logs[0], (quantity, column) => quantity is Quantity.Altitude or Quantity.ClimbRate or Quantity.Pressure ? null : column);
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Session with { Logs = [log] });
        Assert.Equal(4, document.Flights.Count);
        Assert.Equal(2, document.Polars.Count);
        // Satellite heights are good to a metre or two, so a throw's height is too.
        Assert.All(document.Flights.Zip(ShortSession.Document.Flights), f => Assert.InRange(f.First.Launch!.HeightM - f.Second.Launch!.HeightM, -8, 8));
        Assert.All(document.Flights.Zip(ShortSession.Document.Flights), f => Assert.InRange(f.First.Wind.SpeedMps!.Value - f.Second.Wind.SpeedMps!.Value, -1, 1));
    }

    [Fact]
    public void HeightAlone_GivesNoPolar_AndSaysWhy()
    {
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Read(Simulator.Run(ShortSession.Options with { Gps = false })));
        Assert.Equal(4, document.Flights.Count);
        Assert.Empty(document.Polars);
        Assert.All(document.Comparison.Options, o => Assert.Equal("predicted", o.Support));
        Assert.Contains(document.Limits, l => l.Contains("No log has satellite positions", StringComparison.Ordinal));
    }

    [Fact]
    public void APitotAndAnAccelerometer_AreUsed()
    {
        SimulatedSession simulated = Simulator.Run(ShortSession.Options with { Pitot = true, Accelerometer = true, Temperature = true });
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Read(simulated));
        Assert.All(document.Flights, f => Assert.InRange(f.Ride.LoadFactorRms!.Value, 0.001, 1));
        Assert.DoesNotContain(document.Limits, l => l.Contains("accelerometer", StringComparison.Ordinal) || l.Contains("air temperature", StringComparison.Ordinal));
        Score score = Score.Of(document, Truth.Read(simulated.TruthJson));
        Assert.InRange(score.WindErrorsMps.Max(), 0, 0.8);
        Assert.InRange(score.PolarErrorMps, 0, 0.12);
    }

    [Fact]
    public void ALoggerPausedForLessThanHalfAMinute_GivesNoFlightInThePause()
    {
        SimulatedSession simulated = Simulator.Run(ShortSession.Options with { Paused = true });
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Read(simulated));
        Score score = Score.Of(document, Truth.Read(simulated.TruthJson));
        Assert.Equal(0, score.FlightsOver);
        Assert.InRange(score.Kinds, 0.9, 1);
    }

    [Fact]
    public void ACancelledDebrief_Ends()
    {
        using CancellationTokenSource before = new();
        before.Cancel();
        Assert.Throws<OperationCanceledException>(() => Debrief.Run(ShortSession.Session, new DebriefOptions(), cancel: before.Token));
        foreach (string stage in (string[])["Working out the wind", "Fitting the polars", "Comparing the ballasts"])
        {
            using CancellationTokenSource during = new();
            CancelAt at = new(stage, during);
            Assert.Throws<OperationCanceledException>(() => Debrief.Run(ShortSession.Session, new DebriefOptions(), at, during.Token));
            Assert.True(at.Reached);
        }
    }

    [Fact]
    public void Progress_RisesToTheWhole()
    {
        Watch watch = new();
        Debrief.Run(ShortSession.Session, new DebriefOptions(), watch);
        Assert.Equal(watch.Seen.Order(), watch.Seen);
        Assert.Equal(1, watch.Seen[^1]);
    }

    [Fact]
    public void ASessionWithoutAFlight_IsUnusable_AndSaysWhatWasLookedFor()
    {
        FlightLog log = ShortSession.With(ShortSession.Session.Logs[0], (quantity, column) => quantity is Quantity.Altitude or Quantity.GpsAltitude
            ? [.. column.Select((_, i) => 100 + 0.1 * (i % 3))] : quantity is Quantity.ClimbRate or Quantity.GroundSpeed ? [.. column.Select(_ => 0.0)] : null);
        UnusableInputException error = Assert.Throws<UnusableInputException>(() => ShortSession.Debriefed(ShortSession.Session with { Logs = [log], Flights = [] }));
        Assert.Equal("no flight was found in day.csv: looked for a model that leaves the ground, rises at least 4 m and stays up for 6 s; the height shows none", error.Message);
    }

    private sealed class CancelAt(string stage, CancellationTokenSource source) : IProgress<DebriefProgress>
    {
        public bool Reached { get; private set; }

        public void Report(DebriefProgress value)
        {
            if (value.Stage == stage)
            {
                Reached = true;
                source.Cancel();
            }
        }
    }

    private sealed class Watch : IProgress<DebriefProgress>
    {
        public List<double> Seen { get; } = [];

        public void Report(DebriefProgress value) => Seen.Add(value.Fraction);
    }
}
