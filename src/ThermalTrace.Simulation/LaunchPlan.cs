namespace ThermalTrace.Simulation;

/// <summary>How the height is bought: controls from the release until the climb that it paid for ends.</summary>
internal sealed class LaunchPlan
{
    private const double DegreesToRad = Math.PI / 180;

    private readonly SimulatedLaunch _kind;
    private readonly Model _model;
    private readonly double _targetHeightM;
    private readonly double _steepnessRad;
    private readonly double _pullMps;
    private bool _coasting;

    private LaunchPlan(SimulatedLaunch kind, Model model, double targetHeightM, double steepnessRad, double pullMps)
    {
        (_kind, _model, _targetHeightM, _steepnessRad, _pullMps) = (kind, model, targetHeightM, steepnessRad, pullMps);
    }

    /// <summary>Speed over the ground in the moment of release, m/s.</summary>
    public double ReleaseSpeedMps { get; private init; }

    /// <summary>Path angle in that moment, rad.</summary>
    public double ReleaseAngleRad { get; private init; }

    /// <summary>Motor running now, as a share of full power.</summary>
    public double Motor => _kind == SimulatedLaunch.Electric && !_coasting ? 1 : 0;

    public static LaunchPlan FromGround(SimulatedLaunch kind, Model model, RandomStream random)
    {
        double effort = 1 + 0.025 * random.Normal();
        double slow = model.MinSinkAirspeedMps;
        double loaded = model.MassKg / model.Airframe.MassKg;
        // A throw or a rubber has so much energy for model and arm (or line) together: the heavier model leaves slower.
        double thrown = effort / Math.Sqrt((model.MassKg + 0.35) / (model.Airframe.MassKg + 0.35));
        return kind switch
        {
            SimulatedLaunch.Discus => new(kind, model, 0, random.Uniform(64, 68) * DegreesToRad, double.NaN)
            {
                ReleaseSpeedMps = (model.Airframe.SpanM > 1.2 ? 35.5 : 31) * thrown,
                ReleaseAngleRad = 28 * DegreesToRad,
            },
            SimulatedLaunch.Hand => new(kind, model, 0, random.Uniform(48, 56) * DegreesToRad, double.NaN)
            {
                ReleaseSpeedMps = 16 * thrown,
                ReleaseAngleRad = 22 * DegreesToRad,
            },
            SimulatedLaunch.Electric => new(kind, model, (model.Airframe.SpanM > 3 ? 170 : 130) * (1 + 0.08 * random.Normal()),
                random.Uniform(32, 38) * DegreesToRad, 1.75 * slow)
            {
                ReleaseSpeedMps = 8.5,
                ReleaseAngleRad = 10 * DegreesToRad,
            },
            SimulatedLaunch.Winch => new(kind, model, 125 * effort / Math.Pow(loaded, 0.12), 58 * DegreesToRad,
                Math.Max(16, 2.1 * slow) * effort)
            {
                ReleaseSpeedMps = 8,
                ReleaseAngleRad = 14 * DegreesToRad,
            },
            SimulatedLaunch.Bungee => new(kind, model, 70 * effort / Math.Pow(loaded, 0.3), 44 * DegreesToRad,
                Math.Max(15, 1.9 * slow) * effort)
            {
                ReleaseSpeedMps = 8,
                ReleaseAngleRad = 14 * DegreesToRad,
            },
            _ => new(kind, model, 190 * (1 + 0.1 * random.Normal()), 13 * DegreesToRad, Math.Max(12.5, 1.7 * slow))
            {
                ReleaseSpeedMps = 7,
                ReleaseAngleRad = 3 * DegreesToRad,
            },
        };
    }

    /// <summary>A motor run in the air, up to a height above the field.</summary>
    public static LaunchPlan Restart(Model model, double targetHeightM) =>
        new(SimulatedLaunch.Electric, model, targetHeightM, 30 * DegreesToRad, 1.7 * model.MinSinkAirspeedMps);

    /// <summary>Controls for this step, or null when the height is bought.</summary>
    /// <param name="glider">The model.</param>
    /// <param name="sinceS">Since release or motor start.</param>
    /// <param name="bankRad">Bank that keeps the launch over the field; thrown models ignore it.</param>
    public Controls? Next(Glider glider, double sinceS, double bankRad)
    {
        if (_coasting)
        {
            return glider.PathAngleRad > 0.02 && sinceS < 120 ? Controls.Path(-0.12, double.NaN) : null;
        }
        double share = Math.Clamp(glider.HeightM / Math.Max(_targetHeightM, 1), 0, 1);
        // A throw and a zoom are coasted until what is left is just enough to push over and fly.
        bool slowEnough = glider.AirspeedMps < 1.15 * _model.MinSinkAirspeedMps / Math.Cos(_steepnessRad);
        switch (_kind)
        {
            case SimulatedLaunch.Discus:
            case SimulatedLaunch.Hand:
                if (slowEnough)
                {
                    break;
                }
                return Controls.Path(_steepnessRad, double.NaN);
            case SimulatedLaunch.Winch:
                if (share >= 1 || sinceS > 16)
                {
                    // Released: the line's speed becomes height.
                    if (slowEnough)
                    {
                        break;
                    }
                    return Controls.Path(_steepnessRad, double.NaN);
                }
                return Controls.Path(
                    sinceS < 0.8 ? 20 * DegreesToRad : _steepnessRad * (1 - 0.75 * share * share * share),
                    _pullMps * (1 + 0.3 * Math.Max(0, share - 0.75) * 4));
            case SimulatedLaunch.Bungee:
                if (share >= 1 || sinceS > 11)
                {
                    break;
                }
                return Controls.Path(sinceS < 0.8 ? 18 * DegreesToRad : _steepnessRad * (1 - 0.6 * share * share), _pullMps * (1.15 - 0.35 * share));
            case SimulatedLaunch.Electric:
                if (share >= 1 || sinceS > 42)
                {
                    break;
                }
                return Controls.Path(Math.Min(_steepnessRad, 0.2 + 0.25 * sinceS), _pullMps, sinceS > 3 ? bankRad : 0);
            default:
                if (share >= 1 || sinceS > 110)
                {
                    break;
                }
                return Controls.Path(Math.Min(_steepnessRad, 0.05 + 0.05 * sinceS), _pullMps, sinceS > 8 ? bankRad : 0);
        }
        _coasting = true;
        return Controls.Path(-0.12, double.NaN);
    }
}
