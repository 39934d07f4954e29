using ThermalTrace.Tracks;

namespace ThermalTrace.Phases;

/// <summary>What the model is doing; definitions in the glossary.</summary>
public enum PhaseKind
{
    /// <summary>Standing.</summary>
    Ground,
    /// <summary>Buying height: thrown, pulled or under power.</summary>
    Launch,
    /// <summary>Everything else in the air.</summary>
    Glide,
    /// <summary>Working lift, turning in one place.</summary>
    Climb,
    /// <summary>Being brought down.</summary>
    Landing,
}

/// <summary>One phase of a flight as a range of its track's grid points.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="First">First grid point.</param>
/// <param name="End">One past the last; the next segment's first.</param>
/// <param name="Probability">Mean posterior probability that the time within is of this kind.</param>
internal sealed record Segment(PhaseKind Kind, int First, int End, double Probability);

/// <summary>One flight: a stretch of a track from launch to standing, cut into segments that touch.</summary>
/// <param name="Track">The track it lies on.</param>
/// <param name="Number">Counted from 1 in its log.</param>
/// <param name="Segments">In order; the first begins the flight, the last ends it; none is ground.</param>
/// <param name="GroundAltitudeM">Altitude of the ground at the launch, on the track's scale, m.</param>
internal sealed record Flight(Track Track, int Number, IReadOnlyList<Segment> Segments, double GroundAltitudeM)
{
    /// <summary>First grid point.</summary>
    public int First => Segments[0].First;

    /// <summary>One past the last grid point.</summary>
    public int End => Segments[^1].End;

    /// <summary>s from the log's earliest stamp.</summary>
    public double StartS => Track.TimeS(First);

    /// <summary>s from the log's earliest stamp.</summary>
    public double EndS => Track.TimeS(End);

    /// <summary>Height gained over the flight's ground when a launch ends, m: the mean over half a second about its end.</summary>
    public double LaunchHeightM(Segment launch) => Track.SmoothAltitudeM[Math.Min(launch.End, Track.Count - 1)] - GroundAltitudeM;
}
