using ThermalTrace.Sessions;

namespace ThermalTrace.Phases;

/// <summary>
/// How this pilot turns and circles with this airframe on this day. Before anything is seen: trade knowledge, wide; then
/// learned from the track itself. docs/models/phases.md.
/// </summary>
/// <param name="TurnRadps">Turn rate of a turn that is flown to go elsewhere.</param>
/// <param name="TurnLiftMps">Lift over such turns.</param>
/// <param name="TurnLiftSpreadMps">Its standard deviation.</param>
/// <param name="CircleRadps">Turn rate working lift.</param>
/// <param name="CircleSpreadRadps">Its standard deviation.</param>
/// <param name="ClimbLiftMps">Lift that is worked, over the circle.</param>
/// <param name="ClimbLiftSpreadMps">Its standard deviation.</param>
/// <param name="LaunchMps">Rise in a launch.</param>
/// <param name="LaunchSpreadMps">Its standard deviation.</param>
/// <param name="LandingLiftMps">What brakes and a steep approach look like: lift, negative.</param>
/// <param name="LandingHeightM">Where the model begins to be brought down.</param>
internal sealed record Habits(double TurnRadps, double TurnLiftMps, double TurnLiftSpreadMps, double CircleRadps, double CircleSpreadRadps,
    double ClimbLiftMps, double ClimbLiftSpreadMps, double LaunchMps, double LaunchSpreadMps, double LandingLiftMps, double LandingHeightM)
{
    private const double PriorS = 60;        // of turning: how much the trade counts against what the track shows
    private const double LaunchPriorS = 40;
    private const double LandingPriorS = 30; // of coming down; of the height, of beginning to
    private const double LandingHeightPriorS = 10;

    /// <summary>Before anything is seen.</summary>
    /// <param name="airspeedMps">Usual on the track; NaN where not known.</param>
    /// <param name="kind">How the model is launched, where known.</param>
    public static Habits Usual(double airspeedMps, LaunchKind? kind)
    {
        double v = double.IsNaN(airspeedMps) ? 7 : airspeedMps;
        // Turns at a bank of 23°, circles at 37°: common practice, no source.
        double turn = Math.Clamp(4.2 / v, 0.25, 1.0), circle = Math.Clamp(7.4 / v, 0.4, 1.7);
        (double rise, double spread, _) = PhaseModel.LaunchOf(kind);
        // What is launched higher is larger, and its approach begins higher.
        double landing = kind switch { LaunchKind.Hand => 4, LaunchKind.Discus or null => 8, _ => 12 };
        return new Habits(turn, 0.1, 0.45, circle, 0.35 * circle, 1.5, 0.8, rise, spread, -0.8, landing);
    }

    /// <summary>Learned from a first look, each step counting by how surely it was a turn or a climb.</summary>
    public Habits Learn(PhaseSigns[] steps, double[] posterior, double stepS)
    {
        Weighed turnLift = new(TurnLiftMps, TurnLiftSpreadMps, PriorS), circle = new(CircleRadps, CircleSpreadRadps, PriorS),
            climbLift = new(ClimbLiftMps, ClimbLiftSpreadMps, PriorS),
            launch = new(LaunchMps, LaunchSpreadMps, LaunchPriorS), landing = new(LandingLiftMps, 0.6, LandingPriorS), height = new(LandingHeightM, 4, LandingHeightPriorS);
        for (int t = 0; t < steps.Length; t++)
        {
            ReadOnlySpan<double> at = posterior.AsSpan(t * PhaseModel.States, PhaseModel.States);
            double climb = at[PhaseModel.ClimbRight] + at[PhaseModel.ClimbLeft] + at[PhaseModel.StayRight] + at[PhaseModel.StayLeft];
            double turn = at[PhaseModel.TurnRight] + at[PhaseModel.TurnLeft];
            climbLift.Add(steps[t].CircleLiftMps, climb * stepS);
            turnLift.Add(steps[t].CircleLiftMps, turn * stepS);
            launch.Add(steps[t].VerticalMps, at[PhaseModel.Launch] * stepS);
            height.Add(steps[t].HeightM, at[PhaseModel.Landing] * stepS);
            for (int stage = PhaseModel.Landing; stage < PhaseModel.LandingEnd; stage++)
            {
                landing.Add(steps[t].LiftMps, at[stage] * stepS);
            }
            if (!double.IsNaN(steps[t].TurnRadps))
            {
                circle.Add(Math.Abs(steps[t].TurnRadps), climb * stepS);
            }
        }
        return this with
        {
            TurnLiftMps = Math.Clamp(turnLift.Mean, -0.2, 0.4),
            TurnLiftSpreadMps = Math.Clamp(turnLift.Spread, 0.25, 0.6),
            CircleRadps = circle.Mean,
            CircleSpreadRadps = Math.Clamp(circle.Spread, 0.2 * circle.Mean, 0.4 * circle.Mean),
            ClimbLiftMps = Math.Max(climbLift.Mean, 0.6),
            ClimbLiftSpreadMps = Math.Max(0.4 * climbLift.Mean, Math.Min(climbLift.Spread, 1.5)), // in very strong lift the least exceeds the usual most
            LaunchMps = launch.Mean,
            LaunchSpreadMps = Math.Max(launch.Spread, 0.2 * launch.Mean),
            LandingLiftMps = Math.Clamp(landing.Mean, -1.5, -0.3),
            LandingHeightM = Math.Clamp(height.Mean, 3, 25),
        };
    }

    /// <summary>Mean and spread with a prior that weighs so many seconds.</summary>
    private sealed class Weighed(double mean, double spread, double priorS)
    {
        private double _sum = priorS * mean, _squares = priorS * (mean * mean + spread * spread), _weight = priorS;

        public double Mean => _sum / _weight;

        public double Spread => Math.Sqrt(Math.Max(_squares / _weight - Mean * Mean, 0));

        public void Add(double value, double weight)
        {
            _sum += weight * value;
            _squares += weight * value * value;
            _weight += weight;
        }
    }
}
