using ThermalTrace.Polars;

namespace ThermalTrace.Decisions;

/// <summary>Outcome of working lift downwind and coming home. Null where the wind exceeds the polar's fastest speed.</summary>
/// <param name="ClimbMps">R, m/s.</param>
/// <param name="ReturnAirspeedMps">Speed home, m/s.</param>
/// <param name="ReturnGlideRatio">Glide over the ground at that speed; null where it makes no way.</param>
internal sealed record RoundTripResult(double ClimbMps, double ReturnAirspeedMps, double? ReturnGlideRatio);

/// <summary>
/// Net climb after coming home: <c>R = max(c − W min over V of (c + s + d)/V, −min over V ≥ W of (s + d))</c>.
/// docs/models/round-trip.md.
/// </summary>
internal static class RoundTrip
{
    /// <summary>Computes R on the curve's own speeds.</summary>
    /// <param name="curve">Sink over airspeed.</param>
    /// <param name="climbMps">c.</param>
    /// <param name="windMps">W.</param>
    /// <param name="airSinkMps">d, of the air on the way home.</param>
    public static RoundTripResult? For(SinkCurve curve, double climbMps, double windMps, double airSinkMps)
    {
        double[] v = curve.AirspeedMps;
        if (windMps > v[^1])
        {
            return null;
        }
        double least = double.PositiveInfinity, hold = double.PositiveInfinity;
        int at = 0;
        for (int i = 0; i < v.Length; i++)
        {
            double sink = curve.SinkMps[i] + airSinkMps;
            double cost = (climbMps + sink) / v[i];
            if (cost < least)
            {
                (least, at) = (cost, i);
            }
            if (v[i] >= windMps)
            {
                hold = Math.Min(hold, sink);
            }
        }
        hold = Math.Min(hold, curve.At(Math.Max(windMps, v[0])) + airSinkMps);
        double? ratio = v[at] > windMps ? (v[at] - windMps) / (curve.SinkMps[at] + airSinkMps) : null;
        return new RoundTripResult(Math.Max(climbMps - windMps * least, -hold), v[at], ratio);
    }
}
