using MathNet.Numerics.Distributions;
using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Decisions;

/// <summary>
/// The climbs of a session or a flight and what they say of the lift: the core in which the masses flown, each at its best
/// circle and with what centring loses, would have gained on average what was gained. docs/models/climb.md.
/// </summary>
internal sealed class WorkedClimbs
{
    // By what the lift met in the climbs flown falls short of the best circle's, on a logarithmic scale. From simulations: docs/calibration.md.
    private const double LostCircles = 0.4, LostSpread = 0.6, MostLost = 0.5; // of each climb: tries in nothing, ways in and out, circles begun anew
    private const double UsualCircleS = 7;    // where there is no airspeed
    private const double CommonSpread = 0.07; // of a session's climbs alike: the day, the pilot, the phases' edges
    private const double ClimbSpread = 0.22;  // of a single climb: some are found at once, some hardly

    private const int MostSteps = 30;
    private const double EnoughMps = 1e-9;

    private readonly double _heightM, _gainMps, _circles, _scatter;
    private readonly (ClimbModel Model, double Share)[] _masses;

    private WorkedClimbs(double heightM, double gainMps, double circles, double scatter, (ClimbModel, double)[] masses) =>
        (_heightM, _gainMps, _circles, _scatter, _masses) = (heightM, gainMps, circles, scatter, masses);

    /// <summary>Of at least one climb, with the mass and departure index of each.</summary>
    public static WorkedClimbs Of(IReadOnlyList<(FlownClimb Climb, double MassKg, int Ballast)> climbs, double bareMassKg, CurveMaker maker)
    {
        // Where nothing lasted, the climbs are taken as they are.
        bool lasted = climbs.Any(c => c.Climb.EstablishedS > 0);
        double Weight(FlownClimb c) => lasted ? c.EstablishedS : c.Seconds;
        double seconds = climbs.Sum(c => Weight(c.Climb)), squares = climbs.Sum(c => Weight(c.Climb) * Weight(c.Climb));
        double gain = climbs.Where(c => Weight(c.Climb) > 0).Sum(c => Weight(c.Climb) * (lasted ? c.Climb.GainMps : c.Climb.ClimbMps)) / seconds;
        double scatter = Math.Sqrt(CommonSpread * CommonSpread + ClimbSpread * ClimbSpread * squares / (seconds * seconds));
        return new WorkedClimbs(climbs.Sum(c => c.Climb.HeightM * Weight(c.Climb)) / seconds, gain, climbs.Average(c => c.Climb.Seconds / CircleS(c.Climb)), scatter,
            [.. climbs.GroupBy(c => (c.MassKg, c.Ballast)).Select(g => (new ClimbModel(maker, g.Key.MassKg, bareMassKg, g.Key.Ballast), g.Sum(c => Weight(c.Climb)) / seconds))]);
    }

    private static double CircleS(FlownClimb c) => double.IsNaN(c.AirspeedMps) ? UsualCircleS
        : 2 * Math.PI * c.AirspeedMps / (PhysicalConstants.StandardGravityMps2 * Math.Sqrt(c.LoadFactor * c.LoadFactor - 1));

    /// <summary>Radius, losses and shortfall from their priors.</summary>
    public Lift DrawLift(System.Random random, double edr)
    {
        ClimbHabit habit = ClimbHabit.Draw(random);
        double lost = Math.Min(LostCircles * Math.Exp(LostSpread * Normal.Sample(random, 0, 1)) / _circles, MostLost);
        return habit.At(_heightM, edr, lost + _scatter * Normal.Sample(random, 0, 1));
    }

    /// <summary>The core, m/s, in which the best circles gain what was gained and what the climbs fell short by.</summary>
    public double CoreMps(ReadOnlySpan<double> coefficients, Lift lift)
    {
        ClimbCurve[] curves = new ClimbCurve[_masses.Length];
        for (int i = 0; i < curves.Length; i++)
        {
            curves[i] = _masses[i].Model.For(coefficients, lift);
        }
        // The mean climb is convex in the core and rises with it, so Newton's steps come down to the root from above.
        double core = Math.Max(_gainMps, 0) + 1;
        for (int step = 0; step < MostSteps; step++)
        {
            double climb = 0, gain = 0;
            for (int i = 0; i < curves.Length; i++)
            {
                (double best, double keeps) = curves[i].At(core);
                climb += _masses[i].Share * best;
                gain += _masses[i].Share * keeps;
            }
            double change = (_gainMps - climb) / gain;
            core = Math.Max(core + change, 0);
            if (Math.Abs(change) < EnoughMps)
            {
                break;
            }
        }
        return core * Math.Exp(lift.Shortfall);
    }
}
