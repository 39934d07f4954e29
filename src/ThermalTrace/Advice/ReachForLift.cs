using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>Flying to lift that lies some way off, with one option.</summary>
/// <param name="DistanceM">Through the air.</param>
/// <param name="ArrivalHeightM">Over ground, at the speed that arrives highest; below the least wanted it is still told.</param>
/// <param name="NetGainM">Height gained within <see cref="ReachForLift.WithinS"/> of leaving, against the height left at; unknown where it does not arrive.</param>
/// <param name="AirspeedMps">Speed that gains most; NaN where it does not arrive.</param>
internal sealed record ReachedLift(double DistanceM, Band ArrivalHeightM, Band NetGainM, double AirspeedMps);

/// <summary>
/// Reach for lift: <c>G = max over V of c (T − D/V) − s(V) D/V</c>, above the least height wanted on arrival. docs/models/advice.md eq. 9.
/// </summary>
internal static class ReachForLift
{
    /// <summary>The distances asked about, m.</summary>
    public static readonly double[] DistancesM = [50, 100, 200];

    /// <summary>Time from leaving, s; common practice, no source.</summary>
    public const double WithinS = 120;

    /// <summary>For one option.</summary>
    /// <param name="options">Drawn.</param>
    /// <param name="option">Which.</param>
    /// <param name="draws">Which draws.</param>
    /// <param name="climbMps">Its climb in each of them.</param>
    /// <param name="heightM">Height left at in each of them.</param>
    /// <param name="arriveM">Least height on arrival.</param>
    public static IReadOnlyList<ReachedLift> Of(DrawnOptions options, int option, int[] draws, double[] climbMps, double[] heightM, double arriveM)
    {
        List<ReachedLift> reached = [];
        foreach (double distance in DistancesM)
        {
            double[] arrivals = new double[climbMps.Length], gains = new double[climbMps.Length];
            for (int d = 0; d < climbMps.Length; d++)
            {
                (arrivals[d], gains[d], _) = Best(options.Level(option, draws[d]), climbMps[d], heightM[d], distance, arriveM);
            }
            Band gain = Band.Of(gains);
            double speed = gain.IsKnown ? Best(options.MeanLevel(option), climbMps.Average(), heightM.Average(), distance, arriveM).AirspeedMps : double.NaN;
            reached.Add(new ReachedLift(distance, Band.Of(arrivals), gain, speed));
        }
        return reached;
    }

    /// <summary>Highest arrival; and the most gained within the time with the speed for it, NaN where none arrives high enough.</summary>
    internal static (double ArrivalM, double GainM, double AirspeedMps) Best(SinkCurve curve, double climbMps, double heightM, double distanceM, double arriveM)
    {
        double arrival = double.NegativeInfinity, gain = double.NaN, speed = double.NaN;
        for (int i = 0; i < curve.AirspeedMps.Length; i++)
        {
            double v = curve.AirspeedMps[i], seconds = distanceM / v, lost = curve.SinkMps[i] * seconds;
            arrival = Math.Max(arrival, heightM - lost);
            double net = climbMps * Math.Max(WithinS - seconds, 0) - lost;
            if (heightM - lost >= arriveM && !(net <= gain))
            {
                (gain, speed) = (net, v);
            }
        }
        return (arrival, gain, speed);
    }
}
