using ThermalTrace.Sessions;

namespace ThermalTrace.Phases;

/// <summary>What one step of a track shows. NaN is not known.</summary>
/// <param name="VerticalMps">Rate of change of energy height where the airspeed is roughly known, else of height; up is positive.</param>
/// <param name="RawVerticalMps">Rate of change of height.</param>
/// <param name="TurnRadps">Turn rate through the air, clockwise is positive.</param>
/// <param name="SpeedMps">Over the ground.</param>
/// <param name="HeightM">Above the ground.</param>
/// <param name="Motor">1 running, 0 off, NaN without a motor channel.</param>
internal readonly record struct PhaseSigns(double VerticalMps, double RawVerticalMps, double TurnRadps, double SpeedMps, double HeightM, double Motor);

/// <summary>
/// The hidden Markov model of a flight: states, how long they last and what they look like. Numbers are trade knowledge
/// ("common practice, no source") kept wide, so that no airframe is special. docs/models/phases.md.
/// </summary>
internal sealed class PhaseModel
{
    public const int Ground = 0, Launch = 1, Glide = 2, ClimbRight = 3, ClimbLeft = 4, Landing = 5, States = 6;

    // Signs a fraction of a second apart say the same thing twice: the evidence counts as one look in this time.
    private const double LookS = 2.0;
    private const double HighestGroundM = 30, Impossible = 200;

    private readonly double _launchMps, _launchSpreadMps, _launchS;
    private readonly double _sinkMps;
    private readonly double _turnRadps;
    private readonly bool _restarts, _mayCircle;

    /// <param name="kind">How the model is launched, where known.</param>
    /// <param name="glideSinkMps">The flight's usual sink when gliding, m/s: brakes and steep approaches stand out from it.</param>
    /// <param name="turnRadps">Turn rate usual when circling with this airframe.</param>
    public PhaseModel(LaunchKind? kind, double glideSinkMps, double turnRadps)
    {
        (_launchMps, _launchSpreadMps, _launchS) = kind switch
        {
            LaunchKind.Discus => (9.0, 5.0, 4.0),
            LaunchKind.Hand => (5.0, 4.0, 3.0),
            LaunchKind.Electric => (6.0, 3.0, 25.0),
            LaunchKind.Winch => (7.0, 4.0, 30.0),
            LaunchKind.Bungee => (6.0, 4.0, 20.0),
            LaunchKind.Tow => (4.0, 2.5, 45.0),
            _ => (7.0, 4.5, 12.0),
        };
        _restarts = kind is LaunchKind.Electric or null;
        _mayCircle = kind is LaunchKind.Tow;
        _sinkMps = glideSinkMps;
        _turnRadps = turnRadps;
    }

    /// <summary>The state's kind.</summary>
    public static PhaseKind KindOf(int state) => state switch
    {
        Ground => PhaseKind.Ground,
        Launch => PhaseKind.Launch,
        Glide => PhaseKind.Glide,
        Landing => PhaseKind.Landing,
        _ => PhaseKind.Climb,
    };

    /// <summary>Log probabilities of going from one state to another within a step of the length given; row-major.</summary>
    public void Transitions(double stepS, double heightM, Span<double> log)
    {
        Span<double> rate = stackalloc double[States * States];
        rate.Clear();
        void Set(Span<double> r, int from, int to, double perSecond) => r[from * States + to] = perSecond;
        double low = heightM > 0 ? Math.Exp(-heightM / 8) : 1;
        Set(rate, Ground, Launch, low / 60.0);
        Set(rate, Ground, Glide, 1e-6);
        Set(rate, Launch, Glide, 1 / _launchS);
        Set(rate, Launch, ClimbRight, 0.03 / _launchS);
        Set(rate, Launch, ClimbLeft, 0.03 / _launchS);
        // High up nothing comes to the ground but by a landing: a launch that begins there would else pass for a new flight.
        Set(rate, Launch, Ground, 1e-4 * low);
        Set(rate, Launch, Landing, 1e-4);
        Set(rate, Glide, ClimbRight, 1 / 130.0);
        Set(rate, Glide, ClimbLeft, 1 / 130.0);
        Set(rate, Glide, Launch, _restarts ? 1 / 600.0 : 0);
        Set(rate, Glide, Landing, 2e-4 + 0.15 * low);
        Set(rate, Glide, Ground, 1e-5 * low);
        foreach (int climb in (ReadOnlySpan<int>)[ClimbRight, ClimbLeft])
        {
            Set(rate, climb, Glide, 1 / 45.0);
            Set(rate, climb, climb == ClimbRight ? ClimbLeft : ClimbRight, 1 / 400.0);
            Set(rate, climb, Launch, _restarts ? 1 / 6000.0 : 0);
            Set(rate, climb, Landing, 1e-5 + 0.01 * low);
        }
        Set(rate, Landing, Ground, low / 12.0);
        Set(rate, Landing, Glide, 1e-3);
        for (int from = 0; from < States; from++)
        {
            double leave = 0;
            for (int to = 0; to < States; to++)
            {
                leave += rate[from * States + to];
            }
            for (int to = 0; to < States; to++)
            {
                double p = to == from ? Math.Exp(-leave * stepS) : (1 - Math.Exp(-leave * stepS)) * rate[from * States + to] / Math.Max(leave, 1e-300);
                log[from * States + to] = p > 0 ? Math.Log(p) : double.NegativeInfinity;
            }
        }
    }

    /// <summary>Log likelihood of the signs in each state, weighted to the time a step stands for.</summary>
    public void Emissions(in PhaseSigns signs, double stepS, Span<double> log)
    {
        double weight = stepS / LookS;
        double z = signs.VerticalMps;
        log.Clear();
        log[Ground] += Log(0.97 * Normal(signs.RawVerticalMps, 0, 0.25) + 0.03 * Normal(signs.RawVerticalMps, 0, 2));
        log[Launch] += Log(Normal(signs.RawVerticalMps, _launchMps, _launchSpreadMps) + 1e-5);
        log[Glide] += Log(0.85 * Normal(z, -_sinkMps, 0.45) + 0.14 * Normal(z, -_sinkMps, 1.2) + 0.01 * Normal(z, 0, 5));
        double climb = Log(0.4 * Normal(z, 0.8, 0.6) + 0.3 * Normal(z, 1.5, 1.0) + 0.15 * Normal(z, 3, 1.5) + 0.1 * Normal(z, 0, 1.2) + 0.05 * Normal(z, 2, 3));
        log[ClimbRight] += climb;
        log[ClimbLeft] += climb;
        log[Landing] += Log(0.7 * Normal(z, -(_sinkMps + 0.6), 0.5) + 0.25 * Normal(z, -(_sinkMps + 1.5), 1.2) + 0.05 * Normal(z, 0, 3));

        double h = signs.HeightM;
        if (!double.IsNaN(h))
        {
            log[Ground] += Log(0.96 * Normal(h, 0, 1.5) + 0.04 * Normal(h, 0, 8));
            double air = Log(1 / 100.0 * Sigmoid((h - 1.5) / 0.7) + 1e-6);
            log[Glide] += air;
            log[ClimbRight] += air;
            log[ClimbLeft] += air;
            log[Launch] += Log(1 / 60.0);
            // Height does not tell a landing from a glide, or every low glide would be one: the way into it does, below.
            log[Landing] += Log(1 / 100.0 * Sigmoid((h + 1) / 0.7) * Math.Exp(-Math.Max(h - 20, 0) / 20) + 1e-8);
        }
        if (!double.IsNaN(signs.SpeedMps))
        {
            double s = signs.SpeedMps;
            log[Ground] += Log(0.9 * 2 * Normal(s, 0, 0.5) + 0.1 * 2 * Normal(s, 0, 2.5));
            double air = Log(1 / 20.0);
            for (int state = Launch; state < States; state++)
            {
                log[state] += air;
            }
        }
        if (!double.IsNaN(signs.TurnRadps))
        {
            double w = signs.TurnRadps;
            double straight = Log(0.90 * Normal(w, 0, 0.13) + 0.10 * Normal(w, 0, 0.5));
            log[Glide] += straight;
            log[Landing] += straight;
            // Behind another model the way up may be a circle; a motor climbs straight, and lift is what circles.
            log[Launch] += Log(_mayCircle ? 0.5 * Normal(w, 0, 0.15) + 0.5 * Normal(w, 0, 0.6) : 0.93 * Normal(w, 0, 0.13) + 0.07 * Normal(w, 0, 0.6));
            log[Ground] += Log(Normal(w, 0, 1.0));
            log[ClimbRight] += Log(0.93 * Normal(w, _turnRadps, 0.35 * _turnRadps) + 0.07 * Normal(w, _turnRadps, 1.0));
            log[ClimbLeft] += Log(0.93 * Normal(w, -_turnRadps, 0.35 * _turnRadps) + 0.07 * Normal(w, -_turnRadps, 1.0));
        }
        if (!double.IsNaN(signs.Motor))
        {
            for (int state = 0; state < States; state++)
            {
                bool agrees = signs.Motor > 0.5 ? state == Launch : state != Launch;
                log[state] += Log(agrees ? 0.98 : 0.02) * 2;
            }
        }
        for (int state = 0; state < States; state++)
        {
            log[state] *= weight;
        }
        // No look is needed to know that a model far above every place it stood on is not standing.
        if (h > HighestGroundM)
        {
            log[Ground] -= Impossible;
        }
    }

    private static double Normal(double x, double mean, double sd)
    {
        double u = (x - mean) / sd;
        return Math.Exp(-0.5 * u * u) / (sd * 2.5066282746310002);
    }

    private static double Sigmoid(double x) => 1 / (1 + Math.Exp(-x));

    private static double Log(double density) => Math.Log(density + 1e-12);
}
