using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Decisions;

/// <summary>One climb as flown.</summary>
/// <param name="Seconds">How long.</param>
/// <param name="ClimbMps">Mean rate of gain.</param>
/// <param name="AirspeedMps">Mean true airspeed; NaN where not known.</param>
/// <param name="LoadFactor">Mean.</param>
/// <param name="RadiusM">Of the circles; NaN where not known.</param>
/// <param name="HeightM">Mean height over the ground, m.</param>
/// <param name="DensityKgM3">Air density there.</param>
internal sealed record FlownClimb(double Seconds, double ClimbMps, double AirspeedMps, double LoadFactor, double RadiusM, double HeightM, double DensityKgM3);

/// <summary>Measures the climbs of a flight.</summary>
internal static class ClimbLog
{
    private const double LeastS = 5; // shorter is a look, not a climb: its mean rate says nothing of the lift

    /// <summary>The flight's climbs, in order.</summary>
    public static IReadOnlyList<FlownClimb> Of(Flight flight, FlightAir? air)
    {
        Track track = flight.Track;
        List<FlownClimb> climbs = [];
        foreach (Segment segment in flight.Segments.Where(s => s.Kind == PhaseKind.Climb))
        {
            double seconds = (segment.End - segment.First) * track.StepS;
            if (seconds < LeastS)
            {
                continue;
            }
            double gain = track.SmoothAltitudeM[Math.Min(segment.End, track.Count - 1)] - track.SmoothAltitudeM[segment.First];
            double height = 0, speed = 0, factor = 0;
            int n = 0, known = 0;
            for (int i = segment.First; i < segment.End; i++)
            {
                height += track.SmoothAltitudeM[i] - flight.GroundAltitudeM;
                n++;
                int k = i - flight.First;
                if (air is not null && k < air.AirspeedMps.Length && !double.IsNaN(air.AirspeedMps[k]))
                {
                    speed += air.AirspeedMps[k];
                    factor += air.LoadFactor[k];
                    known++;
                }
            }
            double v = known > 0 ? speed / known : double.NaN;
            double load = known > 0 ? Math.Max(factor / known, 1.005) : double.NaN;
            double radius = v * v / (PhysicalConstants.StandardGravityMps2 * Math.Sqrt(load * load - 1));
            climbs.Add(new FlownClimb(seconds, gain / seconds, v, load, radius, height / n, track.Density.AtKgM3(track.SmoothAltitudeM[segment.First] + gain / 2)));
        }
        return climbs;
    }
}
