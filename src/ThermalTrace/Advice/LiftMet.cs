using MathNet.Numerics.Distributions;
using ThermalTrace.Learning;

namespace ThermalTrace.Advice;

/// <summary>
/// How often lift is met and for how long it is worked: climbs of the logbook for each kilometre of air flown between them, as a Poisson
/// process whose rate is Gamma distributed. docs/models/advice.md eq. 8.
/// </summary>
/// <param name="Climbs">In the logbook.</param>
/// <param name="WayKm">Flown gliding.</param>
/// <param name="DurationsS">Of those climbs, rising; empty without.</param>
internal sealed record LiftMet(int Climbs, double WayKm, IReadOnlyList<double> DurationsS)
{
    // Without a logbook: about three climbs in two kilometres, a third or three times as many likely too. Common practice, no source.
    private const double PriorClimbs = 1, PriorKm = 0.7;
    private const double DaySpread = 0.4;    // days differ: of the rate's logarithm; common practice, no source
    private const double UsualS = 45, UsualSpread = 0.6; // of a climb; common practice, no source
    private const int EnoughClimbs = 5;

    /// <summary>From the season.</summary>
    public static LiftMet Of(SeasonModel model)
    {
        int climbs = 0;
        double way = 0;
        List<double> durations = [];
        foreach (SessionEvidence evidence in model.Sessions.Select(s => s.Evidence))
        {
            // A flight without airspeed does not know its way; its climbs would count against nothing.
            bool[] known = [.. evidence.Flights.Select(f => f is { Spoiled: false, GlideWayM: > 0 })];
            way += evidence.Flights.Where((_, i) => known[i]).Sum(f => f.GlideWayM!.Value) / 1000;
            foreach (ClimbFact climb in evidence.Climbs.Where(c => c.Flight < known.Length && known[c.Flight] && c.Seconds > 0))
            {
                climbs++;
                durations.Add(climb.Seconds);
            }
        }
        durations.Sort();
        return new LiftMet(climbs, way, durations);
    }

    /// <summary>A day's rate, for each kilometre.</summary>
    public double DrawRate(System.Random random) =>
        Gamma.Sample(random, PriorClimbs + Climbs, PriorKm + WayKm) * Math.Exp(DaySpread * Normal.Sample(random, 0, 1));

    /// <summary>How long a climb lasts, s.</summary>
    public double DrawDurationS(System.Random random) => DurationsS.Count >= EnoughClimbs
        ? DurationsS[random.Next(DurationsS.Count)]
        : UsualS * Math.Exp(UsualSpread * Normal.Sample(random, 0, 1));
}
