using ThermalTrace.Calibration;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>The practice sessions beside the repository: made by a simulator that shares nothing with this project.</summary>
public class PracticeTests
{
    /// <summary>Half of what the usual method gets wrong (practice/README.md); of the calm session four fifths.</summary>
    [SharedTheory]
    [InlineData("calm_evening", 0.8 * 0.034)]
    [InlineData("windy_day", 0.5 * 0.088)]
    [InlineData("rough_free", 0.5 * 0.195)]
    [InlineData("electric_day", 0.5 * 0.130)]
    public void PracticeSession_IsMeasuredWellEnough(string name, double mostPolarErrorMps)
    {
        (ResultsDocument document, Truth truth) = Debriefed(name);
        RequireFlights(document, truth);
        Assert.Equal(truth.Polars.Count, document.Polars.Count);
        Score score = Score.Of(document, truth);
        Assert.InRange(score.SpeedSpan, 0.9, 1.1);
        Assert.InRange(score.Kinds, 0.96, 1);
        Assert.InRange(score.PolarErrorMps, 0, mostPolarErrorMps);
        Assert.Equal(truth.Flights.Count, score.WindErrorsMps.Count);
        Assert.InRange(score.WindErrorsMps.Order().ElementAt(score.WindErrorsMps.Count / 2), 0, 0.30);
    }

    [SharedFact]
    public void ALogOfAltitudeAlone_GivesFlightsLaunchesAndClimbs_AndNoPolar()
    {
        (ResultsDocument document, Truth truth) = Debriefed("altitude_only");
        RequireFlights(document, truth);
        Assert.InRange(Score.Of(document, truth).Kinds, 0.9, 1);
        Assert.All(document.Flights, f => Assert.InRange(f.Launch!.HeightM, 20, 80));
        Assert.All(document.Flights, f => Assert.Null(f.Wind.SpeedMps));
        Assert.Contains(document.Flights, f => f.Lift.Climbs > 0);
        Assert.Empty(document.Polars);
        Assert.Contains(document.Limits, l => l.Contains("no airspeed and no measured polar", StringComparison.Ordinal));
        Assert.Contains(document.Limits, l => l.Contains("--wind", StringComparison.Ordinal));
        Assert.All(document.Comparison.Options, o => Assert.Null(o.RoundTripClimbMps.Value));
        Assert.Equal("unknown", document.Comparison.Verdict);
    }

    [SharedFact]
    public void ALogOfAltitudeAlone_WithThePilotsWind_IsComparedByThePrediction()
    {
        ResultsDocument document = Debriefed("altitude_only", new DebriefOptions { WindMps = 3 }).Document;
        Assert.Equal(3, document.Comparison.Conditions.WindMps);
        Assert.Equal(3, document.Comparison.Options.Count);
        Assert.All(document.Comparison.Options, o => Assert.Equal("predicted", o.Support));
        // Wide: the drag of an airframe known by span, area and mass alone is not known to 0.1 m/s of round-trip climb.
        Assert.All(document.Comparison.Options, o => Assert.InRange(o.RoundTripClimbMps.High!.Value - o.RoundTripClimbMps.Low!.Value, 0.1, 3));
        Assert.Contains(document.Limits, l => l.Contains("pilot's own estimate", StringComparison.Ordinal));
        Assert.NotNull(document.Comparison.BestBallastG);
    }

    private static (ResultsDocument Document, Truth Truth) Debriefed(string name, DebriefOptions? options = null)
    {
        string folder = Path.Combine(SharedFolder.Path!, "practice", name);
        return (Debrief.Run(SessionFolder.Read(folder), options ?? new DebriefOptions()).Document, Truth.Read(File.ReadAllText(folder + "-truth.json")));
    }

    /// <summary>Every true flight overlapped by 80 % or more, and not one flight too many.</summary>
    private static void RequireFlights(ResultsDocument document, Truth truth)
    {
        Assert.Equal(truth.Flights.Count, document.Flights.Count);
        Assert.All(truth.Flights, flight =>
        {
            TruthSegment[] air = [.. flight.Segments.Where(s => s.Kind != "ground")];
            (double from, double to) = (air[0].StartS, air[^1].EndS);
            Assert.Contains(document.Flights, f => f.Log == flight.Log && Math.Min(f.EndS, to) - Math.Max(f.StartS, from) >= 0.8 * (to - from));
        });
    }
}
