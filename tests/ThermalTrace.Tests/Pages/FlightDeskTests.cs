using CsCheck;
using ThermalTrace.Pages.Desk;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.EndToEnd;

namespace ThermalTrace.Tests.Pages;

/// <summary>Flights over several logs, and the stretch of a flight that is looked at.</summary>
public sealed class FlightDeskTests
{
    [Fact]
    public async Task ARunOverTwoLogs_IsOneEdit_AndALogThatDidNotChangeIsNotLookedAtAgain()
    {
        using TempFolder files = new();
        files.Write("a.csv", ShortSession.Simulated.Logs[0].Bytes);
        files.Write("b.csv", ShortSession.Simulated.Logs[0].Bytes);
        using FolderDesk desk = new(files.Session);
        await desk.ReadAsync("Reading");
        using FlightDesk flights = new(desk);
        ShownFlights shown = await flights.LookAsync();
        Assert.Equal(Enumerable.Range(1, 8), shown.Flights.Select(f => f.Number));
        Assert.Null(await flights.SetBallastAsync(shown, 3, "60"));
        Assert.Null(await flights.FillAsync(await flights.LookAsync(), 3, 6));
        ShownFlights filled = await flights.LookAsync();
        Assert.Equal([null, null, 60, 60, 60, 60, null, null], filled.Flights.Select(f => f.BallastG));
        Assert.Equal("ballast 60 g for flights 3 to 6", desk.Saved.UndoName);
        Assert.Equal(["a.csv 3-4", "b.csv 1-2"], desk.View.Flights.Value!.Select(n => $"{n.Log} {FlightField.Format(n)}"));
        Assert.True(shown.Flights.Zip(filled.Flights).All(p => ReferenceEquals(p.First.Seen, p.Second.Seen) && p.First.SmallTrace == p.Second.SmallTrace));

        // A boundary of one log leaves the other's flights as they are; the same move again is no edit.
        ShownFlight moved = filled.Flights[5];
        Assert.Null(await flights.MoveAsync(moved, 1, moved.Entry.Launch!.EndS + 2));
        ShownFlights after = await flights.LookAsync();
        Assert.Same(filled.Flights[0].Seen, after.Flights[0].Seen);
        Assert.InRange(after.Flights[5].Entry.Launch!.EndS, moved.Entry.Launch.EndS + 1.99, moved.Entry.Launch.EndS + 2.2);
        Assert.Equal("launch to glide of flight 6 moved", desk.Saved.UndoName);
        Assert.Null(await desk.UndoAsync());
        Assert.False(File.Exists(Path.Combine(files.Session, PhasesFile.Name)));
        Assert.Contains("\"much\"", await flights.SetBallastAsync(after, 1, "much"), StringComparison.Ordinal);
    }

    [Fact]
    public void Window_StaysWithinTheFlight_WhateverIsDoneToIt() =>
        Gen.Select(Gen.Double[0.5, 4000], Gen.Select(Gen.Int[0, 3], Gen.Double[-0.5, 1.5], Gen.Double[-0.5, 1.5]).Array[1, 30]).Sample((length, steps) =>
        {
            TimeWindow window = TimeWindow.Whole(length);
            foreach ((int kind, double a, double b) in steps)
            {
                TimeWindow before = window;
                window = kind switch
                {
                    0 => window.Zoomed(0.5, a * length),
                    1 => window.Zoomed(2, a * length),
                    2 => window.Moved(a),
                    _ => window.Between(a * length, b * length),
                };
                Assert.True(window.FromS >= -1e-9 && window.ToS <= length + 1e-9 && window.LengthS >= Math.Min(4, length) - 1e-9, $"{before} became {window}");
            }
            Assert.True(window.Zoomed(1e9).IsWhole);
        });

    [Fact]
    public void Window_ZoomedAboutAMoment_KeepsItWhereItIs()
    {
        TimeWindow window = TimeWindow.Whole(200).Zoomed(0.5, 60);
        Assert.Equal((30, 130), (window.FromS, window.ToS));
    }
}
