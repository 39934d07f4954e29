using CsCheck;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.EndToEnd;

namespace ThermalTrace.Tests.Sessions;

/// <summary>Boundaries moved by hand, on a simulated session looked at again after every edit.</summary>
public sealed class PhaseEditsTests
{
    private static readonly Lazy<FlightLook> LazyLook = new(() => FlightLook.At(ShortSession.Session.Logs, 0));

    private static FlightLook Look => LazyLook.Value;

    [Fact]
    public void Look_FindsWhatTheDebriefFinds()
    {
        IReadOnlyList<SeenFlight> seen = Seen([]);
        Assert.Equal(ShortSession.Document.Flights.Select(f => string.Join(' ', f.Segments)), seen.Select(f => string.Join(' ', f.Entry.Segments)));
        Assert.Equal(ShortSession.Document.Flights.Select(f => f.Launch), seen.Select(f => f.Entry.Launch));
        Assert.Equal(ShortSession.Document.Flights.Select(f => f.Lift.Climbs), seen.Select(f => f.Entry.Lift.Climbs));
    }

    [Theory]
    [InlineData(-2.6)]
    [InlineData(-1)]
    [InlineData(0.7)]
    [InlineData(3)]
    public void EveryBoundary_IsFoundWhereItWasPut_AndTheOthersStay(double byS)
    {
        IReadOnlyList<SeenFlight> before = Seen([]);
        foreach (SeenFlight flight in before)
        {
            EditedFlight edited = Edited(flight);
            for (int boundary = 0; boundary <= edited.Phases.Count; boundary++)
            {
                double now = PhaseEdits.TimeS(edited, boundary);
                (double from, double to) = PhaseEdits.Reach(edited, boundary);
                double wanted = Math.Clamp(now + byS, from, to);
                IReadOnlyList<PhaseNote> notes = PhaseEdits.Move([], edited, boundary, wanted);
                IReadOnlyList<SeenFlight> after = Seen(notes);
                string what = FormattableString.Invariant($"flight {flight.Entry.Number}, boundary {boundary} from {now} to {wanted}: {string.Join(' ', notes)}");
                Assert.True(before.Count == after.Count, what);
                EditedFlight found = Edited(after[flight.Entry.Number - 1]);
                Assert.True(edited.Phases.Select(p => p.Kind).SequenceEqual(found.Phases.Select(p => p.Kind)), what + " became " + string.Join(' ', found.Phases));
                for (int k = 0; k <= edited.Phases.Count; k++)
                {
                    double at = PhaseEdits.TimeS(found, k), meant = k == boundary ? wanted : PhaseEdits.TimeS(edited, k);
                    // The boundary itself to a grid step; its neighbours may follow by a look or two, for the phase about them has changed.
                    Assert.True(Math.Abs(at - meant) <= (k == boundary ? flight.StepS + 0.002 : 1.0), FormattableString.Invariant($"{what}: boundary {k} at {at}, not {meant}"));
                }
                Assert.True(PhaseEdits.IsTouched(notes, found), what);
                // What is said of one flight leaves the others alone.
                foreach ((SeenFlight a, SeenFlight b) in before.Zip(after).Where(p => p.First.Entry.Number != flight.Entry.Number))
                {
                    Assert.True(a.Entry.Segments.Count == b.Entry.Segments.Count && a.Entry.Segments.Zip(b.Entry.Segments).All(s => Math.Abs(s.First.StartS - s.Second.StartS) < 0.9),
                        what + FormattableString.Invariant($": flight {a.Entry.Number} changed too"));
                }
            }
        }
    }

    [Fact]
    public void Debrief_EndsTheLaunchWhereThePilotPutIt()
    {
        SeenFlight flight = Seen([])[1];
        double wanted = flight.Entry.Launch!.EndS + 1.4;
        IReadOnlyList<PhaseNote> notes = PhaseEdits.Move([], Edited(flight), 1, wanted);
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Session with { Phases = Kept(notes) });
        Assert.InRange(document.Flights[1].Launch!.EndS, wanted - 0.002, wanted + flight.StepS);
        Assert.Equal(ShortSession.Document.Flights[0].Launch, document.Flights[0].Launch);
        Assert.Equal(ShortSession.Document.Flights[2].Launch!.EndS, document.Flights[2].Launch!.EndS);
    }

    [Fact]
    public void MovesOfOneFlight_AllHold_AndEachCanBeTakenBack()
    {
        SeenFlight found = Seen([])[0];
        EditedFlight flight = Edited(found);
        IReadOnlyList<PhaseNote> notes = [];
        double[] wanted = [.. Enumerable.Range(0, flight.Phases.Count + 1).Select(k => PhaseEdits.TimeS(flight, k) + (k % 2 == 0 ? 0.6 : -0.6))];
        for (int k = 0; k < wanted.Length; k++)
        {
            notes = Kept(PhaseEdits.Move(notes, Edited(Seen(notes)[0]), k, wanted[k]));
        }
        EditedFlight moved = Edited(Seen(notes)[0]);
        for (int k = 0; k < wanted.Length; k++)
        {
            Assert.InRange(PhaseEdits.TimeS(moved, k), wanted[k] - 0.002, wanted[k] + found.StepS);
            Assert.True(PhaseEdits.IsMoved(notes, moved, k) || Math.Abs(PhaseEdits.TimeS(moved, k) - wanted[k]) > 0.0015);
        }
        for (int k = 0; k < wanted.Length; k++)
        {
            EditedFlight now = Edited(Seen(notes)[0]);
            notes = Kept(PhaseEdits.TakeBack(notes, now, k));
        }
        Assert.Empty(PhaseEdits.TakeBackAll(notes, flight));
        Assert.Equal(Seen([])[0].Entry.Segments, Seen(PhaseEdits.TakeBackAll(notes, flight))[0].Entry.Segments);
    }

    [Fact]
    public void AnyMoves_LeaveRowsThatCanBeRead_AndNoBoundaryOutOfReach()
    {
        Gen<(int Boundary, double ToS)[]> moves = Gen.Select(Gen.Int[0, 4], Gen.Double[-20, 220]).Array[1, 12];
        moves.Sample(all =>
        {
            List<SeenPhase> phases = [new("launch", 10, 14), new("glide", 14, 60), new("climb", 60, 100), new("landing", 100, 120)];
            IReadOnlyList<PhaseNote> notes = [new PhaseNote("b.csv", 1, 5, 90, "glide", 2)];
            foreach ((int boundary, double toS) in all)
            {
                EditedFlight flight = new("a.csv", 1, phases, 2, 150);
                notes = PhaseEdits.Move(notes, flight, boundary, toS);
                (double from, double to) = PhaseEdits.Reach(flight, boundary);
                double at = Math.Round(Math.Clamp(toS, from, to), 3);
                if (boundary > 0)
                {
                    phases[boundary - 1] = phases[boundary - 1] with { EndS = at };
                }
                if (boundary < phases.Count)
                {
                    phases[boundary] = phases[boundary] with { StartS = at };
                }
                Assert.True(PhaseEdits.IsMoved(notes, flight with { Phases = phases }, boundary));
                IReadOnlyList<PhaseNote> read = Kept(notes);
                Assert.Equal(notes.Select(n => n with { Line = 0 }), read.Select(n => n with { Line = 0 }));
                // Every row agrees with the phases as they are drawn.
                foreach (PhaseNote note in read.Where(n => n.Log == "a.csv"))
                {
                    double middle = (note.StartS + note.EndS) / 2;
                    string drawn = phases.Where(p => middle >= p.StartS && middle < p.EndS).Select(p => p.Kind).FirstOrDefault("ground");
                    Assert.Equal(drawn, note.Kind);
                }
            }
            Assert.Equal([new PhaseNote("b.csv", 1, 5, 90, "glide", 2)], PhaseEdits.TakeBackAll(notes, new EditedFlight("a.csv", 1, phases, 2, 150)));
        }, iter: 500);
    }

    private static IReadOnlyList<SeenFlight> Seen(IReadOnlyList<PhaseNote> notes) => Look.Flights(ShortSession.Session.Airframe.Launch, notes);

    private static EditedFlight Edited(SeenFlight flight) => new(flight.Entry.Log, flight.Entry.Number,
        [.. flight.Entry.Segments.Select(s => new SeenPhase(s.Kind, s.StartS, s.EndS))], flight.EarliestS, flight.LatestS);

    /// <summary>As they are after they were written and read again.</summary>
    private static IReadOnlyList<PhaseNote> Kept(IReadOnlyList<PhaseNote> notes)
    {
        string? text = PhasesFile.Text(notes, null);
        return text is null ? [] : PhasesFile.Read(new StringReader(text), PhasesFile.Name);
    }
}
