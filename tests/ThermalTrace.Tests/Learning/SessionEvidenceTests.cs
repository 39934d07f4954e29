using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using ThermalTrace.Tests.EndToEnd;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Learning;

public sealed partial class SessionEvidenceTests
{
    private static readonly SimulationOptions Options = ShortSession.Options with { Flights = 3, RateHz = 2, LiftMps = 2.2, TestShare = 0.34, Seed = 23, Flavour = LogFlavour.Tab };
    private static readonly Lazy<(SimulatedSession Simulated, Session Session, ResultsDocument Document)> LazyDay = new(() =>
    {
        SimulatedSession simulated = Simulator.Run(Options);
        Session session = ShortSession.Read(simulated);
        return (simulated, session, ShortSession.Debriefed(session));
    });

    private static SessionEvidence Evidence => LazyDay.Value.Document.Evidence;

    [Fact]
    public void Flights_AreThoseSimulated()
    {
        TrueFlight[] truth = [.. LazyDay.Value.Simulated.TrueFlights];
        Assert.Equal(truth.Select(t => t.Number), Evidence.Flights.Select(f => f.Number));
        Assert.Equal(truth.Select(t => (double?)t.BallastG), Evidence.Flights.Select(f => f.BallastG));
        foreach ((TrueFlight t, FlightFact f) in truth.Zip(Evidence.Flights))
        {
            Assert.Equal(t.MassKg, f.MassKg, 1e-3);
            Assert.True(f is { Counts: true, Spoiled: false });
            double aloft = t.Moments.Count(m => m.Kind is "glide" or "climb") * t.StepS, gliding = t.Moments.Count(m => m.Kind == "glide") * t.StepS;
            Assert.Equal(aloft, f.AloftS, 0.1 * aloft);
            Assert.Equal(gliding, f.GlideS, 0.15 * aloft);
            Assert.InRange(f.GlideWayM!.Value / f.GlideS, 4, 14);
            Assert.Equal(Options.WindMps, f.WindMps!.Value, 1.5);
            Assert.Equal(t.Moments.First(m => m.Kind is "glide" or "climb").HeightM, f.LaunchHeightM!.Value, 4.0);
        }
    }

    [Fact]
    public void Climbs_AreThoseSimulated()
    {
        foreach ((TrueFlight t, int i) in LazyDay.Value.Simulated.TrueFlights.Select((t, i) => (t, i)))
        {
            double truly = t.Moments.Count(m => m.Kind == "climb") * t.StepS, seen = Evidence.Climbs.Where(c => c.Flight == i).Sum(c => c.Seconds);
            Assert.Equal(truly, seen, Math.Max(12, 0.25 * truly));
        }
        Assert.NotEmpty(Evidence.Climbs);
        Assert.Equal(Evidence.Climbs.OrderBy(c => c.Flight), Evidence.Climbs);
    }

    [Fact]
    public void DateAndField_AreThoseSimulated()
    {
        Assert.Equal("2026-06-14", Evidence.Date);
        Assert.Equal(new FieldPosition(45.2, -28.6), Evidence.Field);
    }

    [Fact]
    public void Document_HoldsNoNumberThatIsNone()
    {
        using MemoryStream file = new();
        ResultsJson.Write(file, LazyDay.Value.Document);
        string text = Encoding.UTF8.GetString(file.ToArray());
        Assert.DoesNotMatch(NotANumber(), text);
        SessionEvidence read = ResultsJson.AsWritten(LazyDay.Value.Document).Evidence;
        Assert.Equal(read.Terms.Count * read.Terms.Count, read.Information.Count);
        Assert.All(read.Information.Concat(read.Score).Concat(read.PriorMean).Concat(read.PriorSd).Append(read.Widening).Append(read.Rows), v => Assert.True(double.IsFinite(v)));
        Assert.All(read.Flights, f => Assert.True(double.IsFinite(f.MassKg + f.AloftS + f.GlideS)));
        Assert.All(read.Climbs, c => Assert.True(double.IsFinite(c.Seconds + c.ClimbMps + c.EstablishedS + c.HeightM + c.DensityKgM3)));
        // What later estimation adds up is not rounded on the way.
        Assert.Equal(Evidence.Information, read.Information);
        Assert.Equal(Evidence.Score, read.Score);
    }

    [Fact]
    public void Season_OfTheDocumentAsWritten_HoldsWhatTheDayTold()
    {
        Airframe airframe = LazyDay.Value.Session.Airframe;
        Season season = Season.Tune(airframe, [new SeasonSession("day", ResultsJson.AsWritten(LazyDay.Value.Document).Evidence)]);
        Assert.Equal([0, 70], season.Model.Drag.BallastsG);
        double before = SeasonModel.Tune(airframe, [], 1).Drag.Covariance[0, 0];
        Assert.True(season.Model.Drag.Covariance[0, 0] < before);
    }

    [Fact]
    public void EvidenceOfEarlierPrograms_IsRefusedWithASentence()
    {
        Assert.Equal("session old: its evidence is \"thermaltrace.evidence/1\", expected \"thermaltrace.evidence/2\"; debrief the session again and add it anew",
            Refused(e => e with { Format = "thermaltrace.evidence/1", Basis = null }));
        Assert.Equal("session old: its evidence does not say what geometry it was gathered with; debrief the session again and add it anew", Refused(e => e with { Basis = null }));
    }

    [Fact]
    public void EvidenceThatDoesNotHangTogether_IsRefusedWithASentence()
    {
        const string end = "; debrief the session again and add it anew";
        Assert.StartsWith("session old: its evidence does not hang together: ", Refused(e => e with { Terms = [.. e.Terms.Skip(1)] }), StringComparison.Ordinal);
        Assert.EndsWith(end, Refused(e => e with { Score = [.. e.Score.Skip(1)] }), StringComparison.Ordinal);
        Assert.EndsWith(end, Refused(e => e with { Information = [.. e.Information.Skip(1)] }), StringComparison.Ordinal);
        Assert.EndsWith(end, Refused(e => e with { PriorSd = [] }), StringComparison.Ordinal);
        Assert.EndsWith(end, Refused(e => e with { BallastsG = [0, 10, 20, 30, 40, 50] }), StringComparison.Ordinal);
        Assert.StartsWith("session old: its evidence holds numbers that are none", Refused(e => e with { Score = [double.NaN, .. e.Score.Skip(1)] }), StringComparison.Ordinal);
        Assert.StartsWith("session old: its evidence has 22 terms for 2 ballasts", Refused(e => e with { PriorSd = [.. e.PriorSd.Select(_ => 0.0)] }), StringComparison.Ordinal);
        Assert.StartsWith("session old: its evidence holds numbers that are none", Refused(e => e with { Widening = double.NaN }), StringComparison.Ordinal);
        Assert.EndsWith("(its matrix has negative directions)" + end, Refused(e => e with { Information = [.. e.Information.Select(v => -v)] }), StringComparison.Ordinal);
        Assert.StartsWith("session old: a climb belongs to flight 9 of 3", Refused(e => e with { Climbs = [new ClimbFact(9, 40, 1, 30, 1, 6, 1.1, 50, 1.2)] }), StringComparison.Ordinal);
    }

    [Fact]
    public void ClimbsOfAFlightWithoutKnownBallast_AreNotLearnedFrom()
    {
        Airframe airframe = LazyDay.Value.Session.Airframe;
        int all = SeasonModel.Tune(airframe, [new SeasonSession("day", Evidence)], 1).Climbs.Count;
        SessionEvidence unknown = Evidence with { Flights = [.. Evidence.Flights.Select(f => f with { BallastG = null, Counts = false })] };
        Assert.True(all > 0);
        Assert.Empty(SeasonModel.Tune(airframe, [new SeasonSession("day", unknown)], 1).Climbs);
    }

    private static string Refused(Func<SessionEvidence, SessionEvidence> change) =>
        Assert.Throws<UnusableInputException>(() => Season.Tune(LazyDay.Value.Session.Airframe, [new SeasonSession("old", change(Evidence))])).Message;

    [GeneratedRegex("NaN|Infinity")]
    private static partial Regex NotANumber();
}
