using CsCheck;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Sessions;

public sealed class FlightNoteEditsTests
{
    private const int Count = 9;

    /// <summary>Launches every ten minutes from 10:00 on the log's clock.</summary>
    private static readonly double[] LaunchesS = [.. Enumerable.Range(0, Count).Select(i => 600.0 * i)];

    [Fact]
    public void AnyEdits_ChangeTheFlightsNamed_AndNoOther() =>
        Gen.Select(GenNotes, GenEdit.Array[1, 6]).Sample((start, edits) =>
        {
            IReadOnlyList<FlightNote> notes = start;
            FlightNote[] model = [.. PerFlight(notes)];
            FlightNote[] others = [.. notes.Where(n => n.Log != "a.csv")];
            foreach (Edit edit in edits)
            {
                notes = FlightNoteEdits.Change(notes, Log, LaunchesS, edit.First, edit.Last, edit.Change);
                for (int number = edit.First; number <= edit.Last; number++)
                {
                    model[number - 1] = Contents(edit.Change(model[number - 1]));
                }
                Assert.Equal(model, PerFlight(notes));
            }
            Assert.Equal(others, notes.Where(n => n.Log != "a.csv"));
            // What was made can be kept: written and read, it says the same.
            string? text = FlightsFile.Text(notes, null);
            Assert.Equal(model, PerFlight(text is null ? [] : FlightsFile.Read(new StringReader(text), FlightsFile.Name)));
        }, iter: 1000);

    [Fact]
    public void ABallastFilledOverSingleRows_MakesOneRangeOfThem()
    {
        FlightNote[] notes = [.. Enumerable.Range(1, 5).Select(n => new FlightNote { Log = "a.csv", Numbers = (n, n), Line = n + 1 })];
        Assert.Equal([(1, 1), (2, 4), (5, 5)], FlightNoteEdits.SetBallast(notes, Log, LaunchesS, 2, 4, 80).Select(n => n.Numbers!.Value));
    }

    [Fact]
    public void AnEditTakenBackByHand_LeavesTheRangeAsItWas()
    {
        FlightNote[] notes = [new FlightNote { Log = "a.csv", Numbers = (3, 7), BallastG = 30, Line = 2 }];
        IReadOnlyList<FlightNote> split = FlightNoteEdits.SetBallast(notes, Log, LaunchesS, 5, 5, 60);
        Assert.Equal([(3, 4), (5, 5), (6, 7)], split.Select(n => n.Numbers!.Value));
        Assert.Equal(notes, FlightNoteEdits.SetBallast(split, Log, LaunchesS, 5, 5, 30));
    }

    [Fact]
    public void ARowForAWholeLog_StaysOneWhereAllFlightsChange_AndIsSplitWhereNotAll()
    {
        FlightNote[] notes = [new FlightNote { Log = "a.csv", BallastG = 30, Camber = "thermal", Line = 2 }];
        Assert.Equal([notes[0] with { BallastG = 60 }], FlightNoteEdits.SetBallast(notes, Log, LaunchesS, 1, Count, 60));
        Assert.Equal(["1-8", "9"], FlightNoteEdits.SetBallast(notes, Log, LaunchesS, 9, 9, 60).Select(FlightField.Format));
    }

    [Fact]
    public void AReason_StandsBehindWhatWasNoted_AndGoesWhenTheFlightIsPutBack()
    {
        FlightNote note = new() { Log = "a.csv", Notes = "10:05:12 - 48 s" };
        FlightNote left = FlightNoteEdits.WithReason(note, "hit a\nbird,  =1+1");
        Assert.True(left.Spoiled);
        Assert.Equal("hit a bird, =1+1", FlightNoteEdits.ReasonOf(left));
        Assert.Equal("10:05:12 - 48 s - left out: hit a bird, =1+1", left.Notes);
        Assert.Equal("again", FlightNoteEdits.ReasonOf(FlightNoteEdits.WithReason(left, "again")));
        Assert.Equal(note, FlightNoteEdits.PutBack(left));
        Assert.Equal("windy, rough", FlightNoteEdits.ReasonOf(new FlightNote { Log = "a.csv", Spoiled = true, Notes = "windy, rough" }));
        Assert.Equal(note with { Notes = null }, FlightNoteEdits.PutBack(FlightNoteEdits.WithReason(note with { Notes = null }, "gust")));
    }

    [Fact]
    public void Comments_StayAboveTheRowTheyStoodAbove()
    {
        const string text = "# our day\nlog,flight,ballast_g\n# the light ones\na.csv,1-2,0\n# heavy\na.csv,3,60\n# the end\n";
        IReadOnlyList<FlightNote> notes = FlightNoteEdits.SetBallast(FlightsFile.Read(new StringReader(text), FlightsFile.Name), Log, LaunchesS, 2, 2, 30);
        Assert.Equal("# our day\nlog,flight,ballast_g,notes\n# the light ones\na.csv,1,0,\na.csv,2,30,\n# heavy\na.csv,3,60,\n# the end\n", FlightsFile.Text(notes, text));
    }

    [Fact]
    public void AHashInsideAQuotedCell_IsNoComment()
    {
        const string text = "log,ballast_g,notes\na.csv,0,\"first\n# second\"\n";
        Assert.Equal("log,flight,ballast_g,notes\na.csv,,0,\"first\n# second\"\n", FlightsFile.Text(FlightsFile.Read(new StringReader(text), FlightsFile.Name), text));
    }

    private sealed record Edit(int First, int Last, int What, double? Value)
    {
        public FlightNote Change(FlightNote note) => What switch
        {
            0 => note with { BallastG = Value },
            1 => note with { FlyingMassG = Value + 200 },
            2 => note with { CgMm = Value },
            3 => note with { Camber = Value is null ? null : "thermal" },
            4 => FlightNoteEdits.WithReason(note, Value is null ? "" : "gust"),
            _ => FlightNoteEdits.PutBack(note),
        };
    }

    private static readonly Gen<double?> GenValue = Gen.Int[0, 3].Select(i => i == 0 ? (double?)null : 30.0 * i);

    private static readonly Gen<Edit> GenEdit = Gen.Select(Gen.Int[1, Count], Gen.Int[0, 8], Gen.Int[0, 5], GenValue)
        .Select((first, more, what, value) => new Edit(first, Math.Min(Count, first + more), what, value));

    /// <summary>Rows that speak of no flight twice: numbers, ranges, times of day, a whole log, in any order.</summary>
    private static readonly Gen<FlightNote[]> GenNotes = Gen.Select(Gen.Int[0, 3].Array[Count], GenValue.Array[Count], Gen.Bool, Gen.Int[0, 5], Gen.Bool).Select((kinds, values, turned, whole, other) =>
    {
        List<FlightNote> notes = [];
        if (whole == 0)
        {
            notes.Add(new FlightNote { Log = "a.csv", BallastG = values[0], Camber = turned ? "speed" : null });
        }
        for (int i = 0; whole != 0 && i < Count;)
        {
            int length = Math.Min(Count - i, 1 + kinds[i]);
            FlightNote note = new() { Log = "a.csv", BallastG = values[i], Notes = kinds[i] == 2 ? "rough" : null };
            if (kinds[i] != 3)
            {
                bool clock = kinds[i] == 1;
                notes.Add(note with
                {
                    Numbers = clock ? null : (i + 1, i + length),
                    ClockRangeS = clock ? (36_000 + 600 * i - 60, 36_000 + 600 * (i + length) - 60) : null,
                });
            }
            i += length;
        }
        if (other)
        {
            notes.Insert(notes.Count / 2, new FlightNote { Log = "b.csv", Numbers = (2, 5), BallastG = 10 });
        }
        if (turned)
        {
            notes.Reverse();
        }
        return notes.Select((n, i) => n with { Line = i + 2 }).ToArray();
    });

    private static FlightLog Log { get; } = new("a.csv", "", [0, 6000], new Dictionary<Quantity, double[]>(), [], []) { ClockAtStartS = 36_000 };

    private static IEnumerable<FlightNote> PerFlight(IReadOnlyList<FlightNote> notes) =>
        LaunchesS.Select((s, i) => Contents(FlightNotes.For(notes, Log, i + 1, s) ?? new FlightNote { Log = "a.csv" }));

    private static FlightNote Contents(FlightNote note) => note with { Numbers = null, ClockRangeS = null, Line = 0 };
}
