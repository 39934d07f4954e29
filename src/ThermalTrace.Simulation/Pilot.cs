namespace ThermalTrace.Simulation;

/// <summary>
/// Flies by what can be felt and seen from the ground: roams in search of lift, circles in what feels like it, keeps
/// recentring, leaves it when it fades, comes home before it is too late, and brings the model down. On a test flight
/// speeds are held on opposite pairs of legs after the first climb.
/// </summary>
internal sealed class Pilot
{
    private const double FeelLagS = 1.2;

    private enum Mode
    {
        Roam,
        Test,
        Circle,
        Home,
        Down,
    }

    private readonly Model _model;
    private readonly MovingAir _air;
    private readonly RandomStream _random;
    private readonly double _liftMps;
    private readonly double _flightTimeS;
    private readonly double _roughness;
    private readonly bool _isTest;
    private readonly Circling _circling;
    private readonly WanderingValue _speedWander;
    private readonly WanderingValue _bankWander;
    private readonly CircleGuide _guide;
    private readonly TestCard _card;
    private Mode _mode = Mode.Roam;
    private double _felt;
    private double _feltLongS;
    private double _climbTrend;
    private double _modeSinceS;
    private double _leaveLiftUntilS;
    private double _waypointEastM;
    private double _waypointNorthM;
    private double _waypointUntilS = double.NegativeInfinity;
    private double _roamFactor = 1.15;
    private Thermal? _sought;
    private double _soughtErrorEastM;
    private double _soughtErrorNorthM;
    private bool _testing;

    public Pilot(Model model, MovingAir air, SimulationOptions options, double flightTimeS, bool isTest, RandomStream random)
    {
        (_model, _air, _random, _isTest, _flightTimeS) = (model, air, random, isTest, flightTimeS);
        _liftMps = options.LiftMps;
        _roughness = 1.2 * options.Edr;
        _circling = Circling.Best(model, Math.Max(options.LiftMps, 0.5), options.ThermalRadiusM, options.Edr);
        _speedWander = new WanderingValue(random, isTest ? 0.02 : 0.06, isTest ? 5 : 7, Glider.StepS);
        _bankWander = new WanderingValue(random, 0.03 + 0.5 * options.Edr / Math.Sqrt(model.Airframe.SpanM), 1.5, Glider.StepS);
        _guide = new CircleGuide(_circling, Circling.CentringShare(options.Edr, model), random);
        _card = new TestCard(model, random);
    }

    /// <summary>What the model is doing, for the truth.</summary>
    public Phase Phase => _mode switch { Mode.Circle => Phase.Climb, Mode.Down => Phase.Landing, _ => Phase.Glide };

    /// <summary>The thermal that is being worked, if any.</summary>
    public Thermal? Working => _mode == Mode.Circle ? _guide.Thermal : null;

    /// <summary>Controls for a step, <paramref name="sinceS"/> after release.</summary>
    public Controls Decide(Glider glider, double timeS, double sinceS)
    {
        double wander = _speedWander.Advance();
        _felt += (glider.Air.UpMps + 0.15 * _random.Normal() - _felt) * (1 - Math.Exp(-Glider.StepS / FeelLagS));
        _climbTrend += (glider.ClimbMps - _climbTrend) * (1 - Math.Exp(-Glider.StepS / 12));
        ChangeMode(glider, timeS, sinceS);
        double denser = Math.Sqrt(1.225 / Math.Max(glider.DensityKgM3, 0.5));
        Controls controls = _mode switch
        {
            Mode.Circle => Controls.Trimmed(_circling.AirspeedMps * (1 + 0.5 * wander), _guide.Bank(glider, _air, timeS)),
            Mode.Test => _card.Next(glider, _air, timeS, wander),
            Mode.Home => Toward(glider, 0, 0, (sinceS > _flightTimeS ? Math.Max(HurrySpeedMps, HomeSpeedMps(glider, timeS)) : HomeSpeedMps(glider, timeS)) * (1 + wander)),
            Mode.Down => Descend(glider, timeS),
            _ => Roam(glider, timeS, wander),
        };
        double slowest = _model.SlowestMps * 1.02 / Math.Sqrt(Math.Cos(Math.Clamp(controls.BankRad, -1.0, 1.0)));
        return controls with
        {
            AirspeedMps = denser * Math.Max(controls.AirspeedMps, slowest),
            BankRad = controls.BankRad + _bankWander.Advance(),
        };
    }

    /// <summary>Bank that keeps a powered climb from running away from the field.</summary>
    public static double LaunchBank(Glider glider, double turnWithinM)
    {
        double distance = Math.Sqrt(glider.EastM * glider.EastM + glider.NorthM * glider.NorthM);
        return distance < turnWithinM ? 0 : Steering.Toward(glider, -glider.EastM, -glider.NorthM, 0.3);
    }

    /// <summary>A motor run or a launch has ended: fly on from here.</summary>
    public void Resume()
    {
        _mode = _testing ? Mode.Test : Mode.Roam;
        _waypointUntilS = double.NegativeInfinity;
        _felt = 0;
    }

    private void ChangeMode(Glider glider, double timeS, double sinceS)
    {
        double distance = Math.Sqrt(glider.EastM * glider.EastM + glider.NorthM * glider.NorthM);
        if (_mode == Mode.Down)
        {
            return;
        }
        bool overtime = sinceS > _flightTimeS;
        // Brakes are for the last of the height; what is too high near the end of the time is flown off fast.
        double landingHeight = _model.Airframe.LandingHeightM;
        if (glider.HeightM < landingHeight || (overtime && distance < 90 && glider.HeightM < 2 * landingHeight) || sinceS > _flightTimeS + 500)
        {
            Enter(Mode.Down, timeS);
            return;
        }
        switch (_mode)
        {
            case Mode.Circle:
                bool given = timeS - _modeSinceS > 8;
                double least = Math.Max(0.08, 0.1 * _liftMps);
                if ((given && _climbTrend < least) || overtime || glider.HeightM > _model.Airframe.CeilingM
                    || (given && !CanReachHome(glider, timeS, distance, 0.75)) || distance > 480)
                {
                    _leaveLiftUntilS = timeS + 14;
                    _testing |= _isTest && (glider.HeightM > 40 || sinceS > 150);
                    Enter(CanReachHome(glider, timeS, distance, 1.3) ? _testing ? Mode.Test : Mode.Roam : Mode.Home, timeS);
                    _waypointUntilS = double.NegativeInfinity;
                }
                return;
            case Mode.Test:
                if (overtime || !CanReachHome(glider, timeS, distance, 1.05) || distance > 420)
                {
                    Enter(Mode.Home, timeS);
                }
                return;
            case Mode.Home:
                if (distance < 60 && !overtime)
                {
                    Enter(_testing ? Mode.Test : Mode.Roam, timeS);
                }
                break;
            default:
                _testing |= _isTest && sinceS > (_liftMps > 0 ? 60 : 5);
                if (_testing)
                {
                    Enter(Mode.Test, timeS);
                    return;
                }
                if (overtime || !CanReachHome(glider, timeS, distance, 1.25) || distance > 420)
                {
                    Enter(Mode.Home, timeS);
                }
                break;
        }
        double threshold = Math.Max(0.3, 0.22 * _liftMps) + _roughness;
        _feltLongS = _felt > threshold ? _feltLongS + Glider.StepS : 0;
        if (_liftMps > 0 && _feltLongS > 0.8 && timeS > _leaveLiftUntilS && !overtime && !_testing
            && glider.HeightM > _model.Airframe.LandingHeightM + 4 && glider.HeightM < 0.9 * _model.Airframe.CeilingM)
        {
            _guide.Begin(glider, _air, timeS);
            _climbTrend = 0.35 * _liftMps;
            Enter(Mode.Circle, timeS);
        }
    }

    private void Enter(Mode mode, double timeS)
    {
        (_mode, _modeSinceS, _feltLongS) = (mode, timeS, 0);
        if (mode == Mode.Test)
        {
            _card.Interrupt();
        }
    }

    private bool CanReachHome(Glider glider, double timeS, double distance, double margin)
    {
        (double windEast, double windNorth) = _air.MeanWind(glider.HeightM, timeS);
        double against = distance < 1 ? 0 : (windEast * glider.EastM + windNorth * glider.NorthM) / distance;
        double v = HomeSpeedMps(glider, timeS);
        double over = Math.Max(v - against, 0.3);
        return distance * _model.SinkMps(v) / over * margin + _model.Airframe.LandingHeightM + 3 < glider.HeightM || distance < 50;
    }

    private double HurrySpeedMps => 1.75 * _model.MinSinkAirspeedMps;

    private double HomeSpeedMps(Glider glider, double timeS)
    {
        (double windEast, double windNorth) = _air.MeanWind(glider.HeightM, timeS);
        double distance = Math.Max(1, Math.Sqrt(glider.EastM * glider.EastM + glider.NorthM * glider.NorthM));
        double against = (windEast * glider.EastM + windNorth * glider.NorthM) / distance;
        return _model.MinSinkAirspeedMps * 1.12 + 0.75 * Math.Max(0, against);
    }

    private Controls Roam(Glider glider, double timeS, double wander)
    {
        if (_sought is { } sought)
        {
            (double coreEast, double coreNorth) = sought.CoreAt(timeS);
            (_waypointEastM, _waypointNorthM) = (coreEast + _soughtErrorEastM, coreNorth + _soughtErrorNorthM);
        }
        double toEast = _waypointEastM - glider.EastM;
        double toNorth = _waypointNorthM - glider.NorthM;
        if (timeS > _waypointUntilS || toEast * toEast + toNorth * toNorth < (_sought is null ? 400 : 36))
        {
            ChooseWaypoint(glider, timeS);
        }
        return Toward(glider, _waypointEastM, _waypointNorthM, _model.MinSinkAirspeedMps * _roamFactor * (1 + wander));
    }

    private void ChooseWaypoint(Glider glider, double timeS)
    {
        (double windEast, double windNorth) = _air.MeanWind(glider.HeightM, timeS);
        _roamFactor = _random.Uniform(1.0, 1.6);
        _waypointUntilS = timeS + _random.Uniform(14, 40);
        _sought = _random.Uniform() < 0.75 && timeS > _leaveLiftUntilS ? Hint(glider, timeS) : null;
        if (_sought is not null)
        {
            _soughtErrorEastM = 10 * _random.Normal();
            _soughtErrorNorthM = 10 * _random.Normal();
            _roamFactor = Math.Min(_roamFactor, 1.35);
            return;
        }
        // Somewhere about the field, rather upwind of it.
        double distance = 230 * Math.Sqrt(_random.Uniform());
        double bearing = _random.Uniform(0, 2 * Math.PI);
        _waypointEastM = distance * Math.Sin(bearing) - 15 * windEast;
        _waypointNorthM = distance * Math.Cos(bearing) - 15 * windNorth;
    }

    /// <summary>A thermal that shows itself: a bird, warmer air on the face, another model going up.</summary>
    private Thermal? Hint(Glider glider, double timeS)
    {
        Thermal? nearest = null;
        double least = 220 * 220;
        foreach (Thermal thermal in _air.Thermals)
        {
            if (thermal.CoreLiftMps(timeS, 50) < 0.5 * _liftMps || thermal.BornS + thermal.LifeS < timeS + 70)
            {
                continue;
            }
            (double east, double north) = thermal.CoreAt(timeS);
            double squared = (east - glider.EastM) * (east - glider.EastM) + (north - glider.NorthM) * (north - glider.NorthM);
            if (squared < least && squared < glider.HeightM * glider.HeightM * 30)
            {
                (nearest, least) = (thermal, squared);
            }
        }
        return nearest;
    }

    private static Controls Toward(Glider glider, double eastM, double northM, double airspeedMps) =>
        Controls.Trimmed(airspeedMps, Steering.Toward(glider, eastM - glider.EastM, northM - glider.NorthM, 0.55));

    private Controls Descend(Glider glider, double timeS)
    {
        (double windEast, double windNorth) = _air.MeanWind(5, timeS);
        double distance = Math.Sqrt(glider.EastM * glider.EastM + glider.NorthM * glider.NorthM);
        bool calm = windEast * windEast + windNorth * windNorth < 0.25;
        bool final = glider.HeightM < 5 || distance < 25;
        double bank = final
            ? calm ? 0 : Steering.Toward(glider, -windEast, -windNorth, 0.4, crab: false)
            : Steering.Toward(glider, -glider.EastM, -glider.NorthM, 0.5);
        double brakes = glider.HeightM < 1.2 ? 0.05 : glider.HeightM > 3 * _model.Airframe.LandingHeightM ? 0.25 : distance > 60 && glider.HeightM < 1.2 * _model.Airframe.LandingHeightM ? 0.06 : 0.13;
        if (glider.HeightM < 2)
        {
            bank = Math.Clamp(bank, -0.15, 0.15);
        }
        return Controls.Trimmed(1.15 * _model.MinSinkAirspeedMps, bank, brakes);
    }
}
