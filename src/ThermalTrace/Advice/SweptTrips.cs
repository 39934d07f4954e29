using ThermalTrace.Decisions;

namespace ThermalTrace.Advice;

/// <summary>
/// Net climb after coming home over one condition that is swept, the others as asked, the same draws throughout: what changes from one
/// value to the next is the condition's doing.
/// </summary>
/// <param name="Over">Values of the condition, rising.</param>
/// <param name="Draws">By option, value and draw, m/s; NaN where a draw does not know it.</param>
internal sealed record SweptTrips(double[] Over, double[][][] Draws)
{
    private const int MostDraws = 75; // of a mean that is compared to 0.01 m/s: the draws are common to all options

    /// <summary>Over the wind, m/s.</summary>
    public static SweptTrips OverWind(DrawnOptions options, AskedAir air, AskedConditions asked, double[] windsMps) =>
        Run(options, air, windsMps, (draw, wind) => draw.InWind(wind, asked));

    /// <summary>Over the lift's core, m/s.</summary>
    public static SweptTrips OverLift(DrawnOptions options, AskedAir air, double[] coresMps) =>
        Run(options, air, coresMps, (draw, core) => draw with { CoreMps = core });

    /// <summary>Mean of an option at a value.</summary>
    public double Mean(int option, int value)
    {
        double sum = 0;
        foreach (double trip in Draws[option][value])
        {
            sum += trip;
        }
        return sum / Draws[option][value].Length;
    }

    private static SweptTrips Run(DrawnOptions options, AskedAir air, double[] over, Func<AirDraw, double, AirDraw> with)
    {
        int n = options.Options.Count, count = Math.Min(MostDraws, options.Draws);
        double[][][] trips = [.. Enumerable.Range(0, n).Select(_ => over.Select(_ => new double[count]).ToArray())];
        for (int c = 0; c < count; c++)
        {
            int d = (int)((long)c * options.Draws / count);
            AirDraw[] draws = [.. over.Select(value => with(air.Draws[d], value))];
            // What a circle keeps of the core does not hang on wind, lift or turbulence; the core counts by what centring keeps of it.
            Lift whole = new(draws[0].Lift.RadiusM, 0, 0, 1, 0);
            for (int k = 0; k < n; k++)
            {
                ClimbCurve circles = options.Climb(k, d, whole);
                for (int v = 0; v < over.Length; v++)
                {
                    double climb = circles.At(draws[v].CoreMps * draws[v].Lift.Centring(options.MassRatio(k))).ClimbMps;
                    trips[k][v][c] = RoundTrip.For(options.Level(k, d), climb, draws[v].WindMps, 0)?.ClimbMps ?? double.NaN;
                }
            }
        }
        return new SweptTrips(over, trips);
    }
}
