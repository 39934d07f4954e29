using ThermalTrace.Phases;
using ThermalTrace.Tracks;
using ThermalTrace.Units;

namespace ThermalTrace.Air;

/// <summary>How the model was thrown about while gliding: root mean squares of what is quicker than 3 s and slower than 0.3 s. NaN where the log cannot tell.</summary>
/// <param name="LoadFactorRms">Of the load factor.</param>
/// <param name="EnergyRateRmsMps">Of the rate of change of energy height, m/s.</param>
internal sealed record Ride(double LoadFactorRms, double EnergyRateRmsMps)
{
    private const double SlowestS = 3.0;
    private const double CoarsestStepS = 0.5; // a log coarser than this does not hold the quicker half of the band

    /// <summary>Measures a flight's ride.</summary>
    public static Ride Of(Flight flight, FlightAir? air)
    {
        Track track = flight.Track;
        if (track.StepS > CoarsestStepS)
        {
            return new Ride(double.NaN, double.NaN);
        }
        int reach = Math.Max(1, (int)Math.Round(0.2 / track.StepS)), half = (int)Math.Round(SlowestS / 2 / track.StepS);
        List<double> rates = [], factors = [];
        foreach (Segment segment in flight.Segments.Where(s => s.Kind == PhaseKind.Glide))
        {
            int first = segment.First + (int)(2 / track.StepS), end = segment.End - (int)(2 / track.StepS);
            double[] rate = new double[Math.Max(end - first, 0)], factor = new double[rate.Length];
            for (int i = 0; i < rate.Length; i++)
            {
                rate[i] = (Energy(track, air, flight, first + i + reach) - Energy(track, air, flight, first + i - reach)) / (2 * reach * track.StepS);
                factor[i] = track.LoadFactorDeparture?[first + i] ?? double.NaN;
            }
            AddQuick(rate, half, rates);
            AddQuick(factor, half, factors);
        }
        return new Ride(RootMeanSquare(factors), RootMeanSquare(rates));
    }

    private static double Energy(Track track, FlightAir? air, Flight flight, int i)
    {
        double v = air is null ? 0 : air.InertialSpeedMps[Math.Clamp(i - flight.First, 0, air.InertialSpeedMps.Length - 1)];
        return track.AltitudeM[Math.Clamp(i, 0, track.Count - 1)] + v * v / (2 * PhysicalConstants.StandardGravityMps2);
    }

    /// <summary>Departures from the running mean over the slowest period.</summary>
    private static void AddQuick(double[] values, int half, List<double> into)
    {
        double sum = 0;
        int n = 0;
        for (int i = 0; i < values.Length + half; i++)
        {
            if (i < values.Length && !double.IsNaN(values[i]))
            {
                sum += values[i];
                n++;
            }
            int drop = i - 2 * half - 1;
            if (drop >= 0 && !double.IsNaN(values[drop]))
            {
                sum -= values[drop];
                n--;
            }
            int at = i - half;
            if (at >= half && i < values.Length && n > half && !double.IsNaN(values[at]))
            {
                into.Add(values[at] - sum / n);
            }
        }
    }

    private static double RootMeanSquare(List<double> values) => values.Count < 50 ? double.NaN : Math.Sqrt(values.Average(v => v * v));
}
