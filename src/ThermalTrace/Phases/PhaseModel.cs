using ThermalTrace.Sessions;

namespace ThermalTrace.Phases;

/// <summary>
/// The hidden Markov model of a flight: states, how long they last and what they look like. Numbers are trade knowledge
/// ("common practice, no source") kept wide, so that no airframe is special. docs/models/phases.md.
/// </summary>
internal sealed class PhaseModel
{
    public const int Ground = 0, Launch = 1, Straight = 2, TurnRight = 3, TurnLeft = 4, ClimbRight = 5, ClimbLeft = 6, StayRight = 7, StayLeft = 8,
        Landing = 9, LandingEnd = 12, States = 12;

    // Signs a fraction of a second apart say the same thing twice: the evidence counts as one look in this time.
    private const double LookS = 2.0;
    // Who goes round and round has a reason: a look at it against its being a turn that leads elsewhere.
    private const double LongTurnLoss = 0.4;
    private const double HighestGroundM = 30, Impossible = 200;
    private const double HeightStepM = 0.5, HighestMovesM = 100; // above it the moves change no more

    private readonly Habits _habits;
    private readonly double _launchS, _spreadMps, _weight, _circleWeight;
    private readonly bool _restarts, _mayCircle;
    private readonly double _stepS;
    private readonly HiddenMarkov.Moves?[] _moves = new HiddenMarkov.Moves?[(int)(HighestMovesM / HeightStepM) + 1];

    /// <param name="kind">How the model is launched, where known.</param>
    /// <param name="habits">How the pilot turns and circles.</param>
    /// <param name="liftSpreadMps">How far the lift of straight glides scatters about none.</param>
    /// <param name="stepS">From one look to the next, s.</param>
    public PhaseModel(LaunchKind? kind, Habits habits, double liftSpreadMps, double stepS)
    {
        _launchS = LaunchOf(kind).DurationS;
        _restarts = kind is LaunchKind.Electric or null;
        _mayCircle = kind is LaunchKind.Tow;
        (_habits, _spreadMps, _stepS, _weight) = (habits, liftSpreadMps, stepS, stepS / LookS);
        // Half a circle says one thing, however many looks it takes.
        _circleWeight = Math.Min(1, 1.5 * LookS * habits.CircleRadps / Math.PI);
    }

    /// <summary>How fast a launch rises, m/s, how far that scatters, and how long it lasts, s.</summary>
    public static (double RiseMps, double SpreadMps, double DurationS) LaunchOf(LaunchKind? kind) => kind switch
    {
        LaunchKind.Discus => (9.0, 5.0, 4.0),
        LaunchKind.Hand => (5.0, 4.0, 3.0),
        LaunchKind.Electric => (6.0, 3.0, 25.0),
        LaunchKind.Winch => (7.0, 4.0, 30.0),
        LaunchKind.Bungee => (6.0, 4.0, 20.0),
        LaunchKind.Tow => (4.0, 2.5, 45.0),
        _ => (7.0, 4.5, 12.0),
    };

    /// <summary>The state's kind.</summary>
    public static PhaseKind KindOf(int state) => state switch
    {
        Ground => PhaseKind.Ground,
        Launch => PhaseKind.Launch,
        Straight or TurnRight or TurnLeft => PhaseKind.Glide,
        ClimbRight or ClimbLeft or StayRight or StayLeft => PhaseKind.Climb,
        _ => PhaseKind.Landing,
    };

    /// <summary>Log probabilities of the states where a track begins.</summary>
    public static double[] Start()
    {
        double[] log = new double[States];
        Array.Fill(log, Math.Log(0.004));
        (log[Ground], log[Launch], log[Straight]) = (Math.Log(0.9), Math.Log(0.01), Math.Log(0.05));
        return log;
    }

    /// <summary>How likely states follow each other within a step at a height above the ground.</summary>
    public HiddenMarkov.Moves MovesAt(double heightM)
    {
        int k = (int)Math.Clamp(Math.Round(heightM / HeightStepM), 0, _moves.Length - 1);
        return _moves[k] ??= Moves(k * HeightStepM);
    }

    private HiddenMarkov.Moves Moves(double heightM)
    {
        double[] rate = new double[States * States];
        void Set(int from, int to, double perSecond) => rate[from * States + to] = perSecond;
        double low = Math.Exp(-heightM / 8);
        double broughtDown = 2e-4 + 0.1 * low + 0.3 / (1 + Math.Exp((heightM - 1.1 * _habits.LandingHeightM) / (0.25 * _habits.LandingHeightM + 1)));
        Set(Ground, Launch, low / 60.0);
        Set(Ground, Straight, 1e-6);
        Set(Launch, Straight, 0.8 / _launchS);
        // High up nothing comes to the ground but by a landing: a launch that begins there would else pass for a new flight.
        Set(Launch, Ground, 1e-4 * low);
        Set(Launch, Landing, 1e-4);
        foreach (int glide in (ReadOnlySpan<int>)[Straight, TurnRight, TurnLeft])
        {
            Set(glide, Launch, _restarts ? 1 / 600.0 : 0);
            Set(glide, Landing, broughtDown);
            Set(glide, Ground, 1e-5 * low);
        }
        double away = 1 - low;
        foreach ((int turn, int climb, int stay, int otherTurn, int otherClimb, int otherStay) in ((int, int, int, int, int, int)[])
            [(TurnRight, ClimbRight, StayRight, TurnLeft, ClimbLeft, StayLeft), (TurnLeft, ClimbLeft, StayLeft, TurnRight, ClimbRight, StayRight)])
        {
            Set(Launch, turn, 0.1 / _launchS);
            Set(Launch, climb, 0.03 / _launchS);
            Set(Straight, turn, 1 / 30.0);
            Set(Straight, climb, away / 130.0);
            Set(turn, Straight, 1 / 6.0);
            Set(turn, otherTurn, 1 / 60.0);
            Set(turn, climb, away / 150.0);
            Set(turn, otherClimb, away / 600.0);
            // Whoever begins to circle stays for a circle at least, most of the time.
            Set(climb, stay, 1 / 6.0);
            Set(climb, Straight, 1 / 80.0);
            Set(climb, otherClimb, 1 / 200.0);
            Set(stay, Straight, 1 / 45.0);
            Set(stay, turn, 1 / 300.0);
            Set(stay, otherTurn, 1 / 600.0);
            Set(stay, otherStay, 1 / 400.0);
            foreach (int working in (ReadOnlySpan<int>)[climb, stay])
            {
                Set(working, Launch, _restarts ? 1 / 6000.0 : 0);
                Set(working, Landing, 0.05 * broughtDown);
            }
        }
        // Three stages in turn: to be brought down takes its time.
        for (int stage = Landing; stage < LandingEnd; stage++)
        {
            Set(stage, stage + 1 < LandingEnd ? stage + 1 : Ground, stage + 1 < LandingEnd ? 1 / 4.0 : low / 4.0);
            Set(stage, Straight, 1e-3);
        }
        double[] probability = new double[States * States], log = new double[States * States];
        for (int from = 0; from < States; from++)
        {
            double leave = 0;
            for (int to = 0; to < States; to++)
            {
                leave += rate[from * States + to];
            }
            double stay = Math.Exp(-leave * _stepS);
            for (int to = 0; to < States; to++)
            {
                int at = from * States + to;
                probability[at] = to == from ? stay : (1 - stay) * rate[at] / Math.Max(leave, 1e-300);
                log[at] = Math.Log(probability[at]);
            }
        }
        return new HiddenMarkov.Moves(probability, log);
    }

    /// <summary>Log likelihood of the signs in each state, weighted to the time a step stands for.</summary>
    public void Emissions(in PhaseSigns signs, Span<double> log)
    {
        double w = signs.LiftMps, circle = signs.CircleLiftMps, up = signs.VerticalMps;
        // Without turns to tell, what rises for long is worked.
        double passing = double.IsNaN(signs.TurnRadps) ? 0.01 : 0.08;
        log.Clear();
        log[Ground] += Log(0.97 * Normal(up, 0, 0.25) + 0.03 * Normal(up, 0, 2));
        log[Launch] += Log(Normal(up, _habits.LaunchMps, _habits.LaunchSpreadMps) * Sigmoid((up - 0.3) / 0.3) + 1e-5);
        log[Straight] += Log((0.92 - passing) * Normal(w, 0, _spreadMps) + 0.07 * Normal(w, 0, 2.7 * _spreadMps) + passing * Normal(w, 0.5, 1.8) + 0.01 * Normal(w, 0, 5));
        Habits usual = _habits;
        double turn = _circleWeight * Log(0.80 * Normal(circle, usual.TurnLiftMps, usual.TurnLiftSpreadMps) + 0.19 * Normal(circle, usual.TurnLiftMps, 2.2 * usual.TurnLiftSpreadMps) + 0.01 * Normal(circle, 0, 5));
        turn -= LongTurnLoss * Math.Clamp(signs.Turns - 1.25, 0, 1);
        double lift = usual.ClimbLiftMps;
        double climb = _circleWeight * Log(0.55 * Normal(circle, lift, usual.ClimbLiftSpreadMps) + 0.27 * Normal(circle, 0.45 * lift, 0.4 * lift)
            + 0.15 * Normal(circle, 2 * lift, lift) + 0.03 * Normal(circle, lift, 3));
        double landing = Log(0.6 * Normal(w, usual.LandingLiftMps, 0.6) + 0.3 * Normal(w, 2 * usual.LandingLiftMps, 1.2) + 0.1 * Normal(w, 0, 2));

        double h = signs.HeightM;
        if (!double.IsNaN(h))
        {
            log[Ground] += Log(0.96 * Normal(h, 0, 1.5) + 0.04 * Normal(h, 0, 8));
            double air = Log(1 / 100.0 * Sigmoid((h - 3) / 1.0) + 1e-6);
            for (int state = Straight; state < Landing; state++)
            {
                log[state] += air;
            }
            log[Launch] += Log(1 / 60.0);
            landing += Log(1 / 100.0 * Sigmoid((h + 1) / 0.7) + 1e-8);
        }
        if (!double.IsNaN(signs.SpeedMps))
        {
            double s = signs.SpeedMps;
            log[Ground] += Log(0.9 * 2 * Normal(s, 0, 0.5) + 0.1 * 2 * Normal(s, 0, 2.5));
            double air = Log(1 / 20.0);
            for (int state = Launch; state < Landing; state++)
            {
                log[state] += air;
            }
            landing += air;
        }
        double right = 0, left = 0, circleRight = 0, circleLeft = 0;
        if (!double.IsNaN(signs.TurnRadps))
        {
            double r = signs.TurnRadps, rate = usual.TurnRadps, circling = usual.CircleRadps, spread = usual.CircleSpreadRadps;
            double straight = Log(0.95 * Normal(r, 0, 0.13) + 0.05 * Normal(r, 0, 0.5));
            log[Straight] += straight;
            landing += Log(0.85 * Normal(r, 0, 0.13) + 0.15 * Normal(r, 0, 0.5));
            // Behind another model the way up may be a circle; a motor climbs straight, and lift is what circles.
            log[Launch] += Log(_mayCircle ? 0.5 * Normal(r, 0, 0.15) + 0.5 * Normal(r, 0, 0.6) : 0.93 * Normal(r, 0, 0.13) + 0.07 * Normal(r, 0, 0.6));
            log[Ground] += Log(Normal(r, 0, 1.0));
            right = Log(0.93 * Normal(r, rate, 0.45 * rate) + 0.07 * Normal(r, rate, 1.0));
            left = Log(0.93 * Normal(r, -rate, 0.45 * rate) + 0.07 * Normal(r, -rate, 1.0));
            // Straightened for a moment, to move the circle.
            circleRight = Log(0.80 * Normal(r, circling, spread) + 0.13 * Normal(r, 0.5 * circling, 0.4 * circling) + 0.07 * Normal(r, circling, 1.0));
            circleLeft = Log(0.80 * Normal(r, -circling, spread) + 0.13 * Normal(r, -0.5 * circling, 0.4 * circling) + 0.07 * Normal(r, -circling, 1.0));
        }
        log[TurnRight] += turn + right;
        log[TurnLeft] += turn + left;
        log[ClimbRight] += climb + circleRight;
        log[ClimbLeft] += climb + circleLeft;
        log[StayRight] = log[ClimbRight];
        log[StayLeft] = log[ClimbLeft];
        log[Landing..LandingEnd].Fill(landing);
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
            log[state] *= _weight;
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
