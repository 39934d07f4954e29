using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Polars;

public class GlideRowsTests
{
    private const double StepS = 0.5;

    [Fact]
    public void StraightFlight_ThroughRisingAir_StaysIn()
    {
        // The phases call it a climb, and it gains 2 m/s: nobody turned, so it counts.
        (bool[] seen, int[] begun) = Straight(Flown([(PhaseKind.Glide, 40), (PhaseKind.Climb, 40), (PhaseKind.Glide, 40)], _ => false));
        Assert.All(seen, Assert.True);
        Assert.Equal([0], begun);
    }

    [Fact]
    public void WhatTheAirDid_ChangesNothingOfWhatCounts()
    {
        (PhaseKind, double)[] phases = [(PhaseKind.Launch, 10), (PhaseKind.Glide, 60), (PhaseKind.Climb, 30), (PhaseKind.Glide, 30), (PhaseKind.Landing, 10)];
        FlightAir sinking = Flown(phases, t => t is > 75 and < 95, climbMps: -2), rising = Flown(phases, t => t is > 75 and < 95, climbMps: 3);
        Assert.Equal(Straight(sinking).Seen, Straight(rising).Seen);
    }

    [Fact]
    public void Circles_AndFourSecondsAboutThem_AreOut_AndWhatFollowsIsAGlideOfItsOwn()
    {
        (bool[] seen, int[] begun) = Straight(Flown([(PhaseKind.Glide, 40), (PhaseKind.Climb, 40), (PhaseKind.Glide, 40)], t => t is >= 50 and < 70));
        Assert.All(seen.Index(), p => Assert.Equal(p.Index * StepS is < 46 or >= 74, p.Item));
        Assert.Equal([0, (int)(74 / StepS)], begun);
    }

    [Fact]
    public void Launch_SixSecondsAfterIt_AndLanding_AreOut()
    {
        (bool[] seen, int[] begun) = Straight(Flown([(PhaseKind.Launch, 10), (PhaseKind.Glide, 60), (PhaseKind.Landing, 10)], _ => false));
        Assert.All(seen.Index(), p => Assert.Equal(p.Index * StepS is >= 16 and < 68, p.Item));
        Assert.Equal([(int)(16 / StepS)], begun);
    }

    [Fact]
    public void AHole_OfMoreThanASecondAndAHalf_BeginsAGlideOfItsOwn()
    {
        FlightAir air = Flown([(PhaseKind.Glide, 60)], _ => false);
        air.AirspeedMps[40] = double.NaN;
        Array.Fill(air.AirspeedMps, double.NaN, 80, 5);
        Assert.Equal([0, 85], Straight(air).Begun);
    }

    private static (bool[] Seen, int[] Begun) Straight(FlightAir air)
    {
        bool[] seen = new bool[air.AirspeedMps.Length];
        List<int> begun = [];
        GlideRows.VisitStraight(air, (_, k, fresh) =>
        {
            seen[k] = true;
            if (fresh)
            {
                begun.Add(k);
            }
        });
        return (seen, [.. begun]);
    }

    private static FlightAir Flown((PhaseKind Kind, double Seconds)[] phases, Func<double, bool> circling, double climbMps = 2)
    {
        List<Segment> segments = [];
        int first = 0;
        foreach ((PhaseKind kind, double seconds) in phases)
        {
            int end = first + (int)(seconds / StepS);
            segments.Add(new Segment(kind, first, end, 1));
            first = end;
        }
        Flight flight = new(MadeUpAir.Track(StepS, [.. Enumerable.Range(0, first).Select(i => 100 + climbMps * i * StepS)]), 1, segments, 0);
        return MadeUpAir.Air(flight, MadeUpAir.Filled(first, 8)) with { Circling = [.. Enumerable.Range(0, first).Select(i => circling(i * StepS))] };
    }
}
