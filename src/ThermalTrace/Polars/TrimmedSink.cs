using MathNet.Numerics.Distributions;
using ThermalTrace.Phases;
using ThermalTrace.Tracks;

namespace ThermalTrace.Polars;

/// <summary>
/// Draws of the drag terms where no airspeed is known: the prediction's own, kept in proportion to how well they give the
/// sink seen while gliding at a trim that is itself only roughly known. docs/models/prediction.md.
/// </summary>
internal static class TrimmedSink
{
    private const int Draws = 4000, Kept = 1500;
    private const double TrimCl = 0.65, TrimClSpread = 0.15;   // where models are trimmed; common practice, no source
    private const double AirMotionMps = 0.10;                  // of a session's glides as a whole, not known to be zero
    private const double FlightMotionMps = 0.15;               // of one flight's

    /// <summary>Mean sink and time of one flight's glides; null with none to speak of.</summary>
    public static (double SinkMps, double Seconds)? Of(Flight flight)
    {
        double fall = 0, seconds = 0;
        foreach (Segment segment in flight.Segments.Where(s => s.Kind == PhaseKind.Glide))
        {
            int edge = (int)(3 / flight.Track.StepS);
            int first = segment.First + edge, end = segment.End - edge;
            if ((end - first) * flight.Track.StepS > 10)
            {
                fall += flight.Track.SmoothAltitudeM[first] - flight.Track.SmoothAltitudeM[end];
                seconds += (end - first) * flight.Track.StepS;
            }
        }
        return seconds > 20 ? (fall / seconds, seconds) : null;
    }

    /// <summary>Weighted draws, repeated in proportion.</summary>
    /// <param name="terms">Terms and prior.</param>
    /// <param name="maker">Curves.</param>
    /// <param name="flights">Mass in kg, ballast index, mean sink m/s and seconds of each flight with glides.</param>
    /// <param name="seed">Seed.</param>
    public static double[][] Draw(DragTerms terms, CurveMaker maker, IReadOnlyList<(double MassKg, int Ballast, double SinkMps, double Seconds)> flights, int seed)
    {
        System.Random random = new(seed);
        double[][] draws = terms.DrawPrior(random, Draws);
        List<double> logs = [];
        for (int d = 0; d < Draws; d++)
        {
            double[] draw = draws[d];
            double airSink = draw[DragTerms.AirSink];
            draw[DragTerms.AirSink] = 0; // the curve is drag alone, for still air
            double cl = Math.Clamp(TrimCl + TrimClSpread * Normal.Sample(random, 0, 1), 0.25, 1.0);
            double log = 0;
            foreach (IGrouping<(double MassKg, int Ballast), (double MassKg, int Ballast, double SinkMps, double Seconds)> group in flights.GroupBy(f => (f.MassKg, f.Ballast)))
            {
                double speed = maker.Planform.AirspeedMps(cl, group.Key.MassKg);
                // Seen is drag and the air's own sink together.
                double expected = CurveMaker.Sinks(maker.Factors([speed], group.Key.MassKg, group.Key.Ballast), [speed], draw)[0] + airSink;
                double seen = group.Sum(f => f.SinkMps * f.Seconds) / group.Sum(f => f.Seconds);
                double variance = AirMotionMps * AirMotionMps + FlightMotionMps * FlightMotionMps / group.Count();
                log -= 0.5 * (seen - expected) * (seen - expected) / variance;
            }
            logs.Add(log);
        }
        double top = logs.Max();
        double[] weights = [.. logs.Select(l => Math.Exp(l - top))];
        double total = weights.Sum();
        // Systematic resampling: one random number, no draw more often than its weight asks for.
        List<double[]> kept = [];
        double position = random.NextDouble(), sum = 0;
        for (int d = 0; d < Draws; d++)
        {
            sum += weights[d] / total * Kept;
            while (position < sum && kept.Count < Kept)
            {
                kept.Add(draws[d]);
                position += 1;
            }
        }
        return [.. kept];
    }
}
