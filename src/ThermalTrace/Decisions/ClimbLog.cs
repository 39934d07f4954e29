using ThermalTrace.Air;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Decisions;

/// <summary>One climb as flown.</summary>
/// <param name="Seconds">How long.</param>
/// <param name="ClimbMps">Mean rate of gain.</param>
/// <param name="AirspeedMps">Mean true airspeed while circling; NaN where not known.</param>
/// <param name="LoadFactor">Mean while circling.</param>
/// <param name="HeightM">Mean height over the ground, m.</param>
/// <param name="DensityKgM3">Air density there.</param>
internal sealed record FlownClimb(double Seconds, double ClimbMps, double AirspeedMps, double LoadFactor, double HeightM, double DensityKgM3)
{
    /// <summary>How long the model was established in the lift: circling, the first circle and the last moments left off; 0 where that is too short to tell.</summary>
    public double EstablishedS { get; init; }

    /// <summary>Mean rate at which energy height was gained meanwhile, m/s: without the speed brought into the climb or taken out of it.</summary>
    public double GainMps { get; init; } = double.NaN;
}

/// <summary>Measures the climbs of a flight. docs/models/climb.md.</summary>
internal static class ClimbLog
{
    private const double LeastS = 5; // shorter is a look, not a climb: its mean rate says nothing of the lift
    private const double TurningS = 2, TurningShare = 0.5; // a turn is on where the bank, over that long, is half of the climb's usual
    private const double FirstS = 6, LastS = 3; // the first circle finds the core, and nobody leaves at once; common practice, no source

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
            (int first, int end) = Circling(flight, segment, air);
            double height = 0, speed = 0, factor = 0;
            int known = 0;
            for (int i = first; i < end; i++)
            {
                height += track.SmoothAltitudeM[i] - flight.GroundAltitudeM;
                if (IsKnown(flight, air, i))
                {
                    speed += air!.AirspeedMps[i - flight.First];
                    factor += air.LoadFactor[i - flight.First];
                    known++;
                }
            }
            FlownClimb climb = new(seconds, gain / seconds, known > 0 ? speed / known : double.NaN, known > 0 ? Math.Max(factor / known, 1.005) : double.NaN,
                height / (end - first), track.Density.AtKgM3(track.SmoothAltitudeM[segment.First] + gain / 2));
            int from = first + (int)(FirstS / track.StepS), to = Math.Min(end - (int)(LastS / track.StepS), track.Count - 1);
            double established = (to - from) * track.StepS;
            climbs.Add(established < LeastS ? climb : climb with
            {
                EstablishedS = established,
                GainMps = (track.SmoothAltitudeM[to] - track.SmoothAltitudeM[from] + KineticGainM(flight, air, from, to)) / established,
            });
        }
        return climbs;
    }

    /// <summary>From where to where the model turned as it usually did in the climb: way in and way out are left off.</summary>
    private static (int First, int End) Circling(Flight flight, Segment segment, FlightAir? air)
    {
        double Bank(int i) => IsKnown(flight, air, i) ? Math.Acos(1 / Math.Max(air!.LoadFactor[i - flight.First], 1)) : double.NaN;
        double[] banks = [.. Enumerable.Range(segment.First, segment.End - segment.First).Select(Bank)];
        double[] sorted = [.. banks.Where(b => !double.IsNaN(b)).Order()];
        int look = Math.Max(1, (int)Math.Round(TurningS / flight.Track.StepS)), first = 0, end = banks.Length;
        if (sorted.Length < banks.Length / 2 || sorted.Length == 0)
        {
            return (segment.First, segment.End);
        }
        double least = TurningShare * sorted[sorted.Length / 2];
        bool Turns(int from) => banks.Skip(from).Take(look).Where(b => !double.IsNaN(b)).DefaultIfEmpty(0).Average() >= least;
        while (first + look < end && !Turns(first))
        {
            first++;
        }
        while (end - look > first && !Turns(end - look))
        {
            end--;
        }
        return (end - first) * flight.Track.StepS < LeastS ? (segment.First, segment.End) : (segment.First + first, segment.First + end);
    }

    private static bool IsKnown(Flight flight, FlightAir? air, int i) =>
        air is not null && i - flight.First < air.AirspeedMps.Length && !double.IsNaN(air.AirspeedMps[i - flight.First]);

    private static double KineticGainM(Flight flight, FlightAir? air, int from, int to)
    {
        if (!IsKnown(flight, air, from) || !IsKnown(flight, air, to))
        {
            return 0;
        }
        double before = air!.InertialSpeedMps[from - flight.First], after = air.InertialSpeedMps[to - flight.First];
        return (after * after - before * before) / (2 * PhysicalConstants.StandardGravityMps2);
    }
}
