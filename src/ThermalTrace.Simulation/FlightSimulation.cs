namespace ThermalTrace.Simulation;

/// <summary>One flight from the wait before the launch to the walk back after the landing.</summary>
internal sealed class FlightSimulation
{
    private const double HandHeightM = 1.2;
    private const double SpinS = 1.1;
    private const double SpinRadiusM = 1.1;
    private const double WalkMps = 1.5;
    private const int LongestWaitS = 25;

    private readonly SimulationOptions _options;
    private readonly MovingAir _air;
    private readonly Atmosphere _atmosphere;
    private readonly Model _model;
    private readonly SimulatedLaunch _launch;
    private readonly RandomStream _random;
    private readonly List<Moment> _moments = [];
    private double _timeS;

    private FlightSimulation(SimulationOptions options, MovingAir air, Atmosphere atmosphere, Model model, RandomStream random, double startS)
    {
        (_options, _air, _atmosphere, _model, _random, _timeS) = (options, air, atmosphere, model, random, startS);
        _launch = options.Launch ?? model.Airframe.Launch;
    }

    /// <summary>Flies it; times of the moments go on from <paramref name="startS"/>, seconds of the session.</summary>
    public static SimulatedFlight Fly(SimulationOptions options, MovingAir air, Atmosphere atmosphere, Model model, bool isTest,
        RandomStream random, double startS, double flightTimeS)
    {
        FlightSimulation flight = new(options, air, atmosphere, model, random, startS);
        double launchHeight = flight.Run(isTest, flightTimeS);
        WorkedLift.Relabel(flight._moments);
        return new SimulatedFlight(model, flight._moments, launchHeight);
    }

    private double Run(bool isTest, double flightTimeS)
    {
        bool thrown = _launch is SimulatedLaunch.Discus or SimulatedLaunch.Hand or SimulatedLaunch.Electric;
        double waitHeight = thrown ? HandHeightM : 0.2;
        // A line is laid out upwind; the model starts at its downwind end, which is the field's own middle here.
        (double windEast, double windNorth) = _air.MeanWind(5, _timeS);
        double intoWind = windEast * windEast + windNorth * windNorth > 0.04
            ? Math.Atan2(-windEast, -windNorth) + 0.1 * _random.Normal()
            : _random.Uniform(0, 2 * Math.PI);
        Stand(_random.Uniform(7, 13), 0, 0, waitHeight);
        for (int wait = 0; wait < LongestWaitS && _options.LiftMps > 0 && !LiftComesBy(intoWind); wait++)
        {
            Stand(1, 0, 0, waitHeight);
        }
        LaunchPlan plan = LaunchPlan.FromGround(_launch, _model, _random);
        if (_launch == SimulatedLaunch.Discus)
        {
            Spin(intoWind, plan.ReleaseSpeedMps);
        }

        Glider glider = new(_model, _atmosphere, _air);
        glider.Release(_timeS, 0, 0, waitHeight + 0.4, plan.ReleaseSpeedMps, plan.ReleaseAngleRad, intoWind);
        double releasedS = _timeS;
        Pilot pilot = new(_model, _air, _options, flightTimeS, isTest, _random);
        Climb(glider, plan);
        double launchHeight = glider.HeightM - waitHeight;
        pilot.Resume();

        int restarts = _launch == SimulatedLaunch.Electric ? 2 : 0;
        while (glider.HeightM > 0.12)
        {
            double since = _timeS - releasedS;
            if (restarts > 0 && pilot.Phase == Phase.Glide && since < 0.7 * flightTimeS
                && glider.HeightM < _model.Airframe.LandingHeightM + 22)
            {
                restarts--;
                Climb(glider, LaunchPlan.Restart(_model, glider.HeightM + _random.Uniform(70, 120)));
                pilot.Resume();
                continue;
            }
            Controls controls = pilot.Decide(glider, _timeS, since);
            glider.Step(_timeS, controls);
            Thermal? working = pilot.Working;
            Record(glider, pilot.Phase, 0, working?.CoreLiftMps(_timeS, glider.HeightM) ?? double.NaN, working?.RadiusM(glider.HeightM) ?? double.NaN);
        }
        Slide(glider);
        WalkBack(waitHeight);
        return launchHeight;
    }

    /// <summary>Pilots wait with the launch until there are signs of lift over the field or a little upwind of it.</summary>
    private bool LiftComesBy(double intoWindRad) => _air.Thermals.Any(thermal =>
    {
        (double east, double north) = thermal.CoreAt(_timeS + 8);
        double upwind = east * Math.Sin(intoWindRad) + north * Math.Cos(intoWindRad);
        double aside = east * Math.Cos(intoWindRad) - north * Math.Sin(intoWindRad);
        return thermal.CoreLiftMps(_timeS + 8, 50) > 0.6 * _options.LiftMps && upwind is > -15 and < 80 && Math.Abs(aside) < 45;
    });

    private void Climb(Glider glider, LaunchPlan plan)
    {
        double fromS = _timeS;
        double turnWithinM = _launch == SimulatedLaunch.Tow ? 120 : 160;
        while (plan.Next(glider, _timeS - fromS, Pilot.LaunchBank(glider, turnWithinM)) is { } controls)
        {
            glider.Step(_timeS, controls);
            Record(glider, Phase.Launch, plan.Motor, double.NaN, double.NaN);
            if (glider.HeightM < 0.1)
            {
                break;
            }
        }
    }

    private void Record(Glider glider, Phase phase, double motor, double coreLiftMps, double coreRadiusM)
    {
        _timeS += Glider.StepS;
        _moments.Add(new Moment(_timeS, phase, glider.EastM, glider.NorthM, glider.HeightM, glider.GroundEastMps, glider.GroundNorthMps,
            glider.ClimbMps, glider.AirspeedMps, glider.LoadFactor, glider.Air, glider.DensityKgM3, motor, coreLiftMps, coreRadiusM));
    }

    private void Stand(double seconds, double eastM, double northM, double heightM)
    {
        for (double end = _timeS + seconds; _timeS < end;)
        {
            OnGround(Phase.Ground, eastM, northM, heightM, 0, 0, 1);
        }
    }

    private void OnGround(Phase phase, double eastM, double northM, double heightM, double speedEastMps, double speedNorthMps, double loadFactor)
    {
        _timeS += Glider.StepS;
        (double windEast, double windNorth) = _air.MeanWind(heightM, _timeS);
        double airEast = speedEastMps - windEast;
        double airNorth = speedNorthMps - windNorth;
        _moments.Add(new Moment(_timeS, phase, eastM, northM, heightM, speedEastMps, speedNorthMps, 0,
            Math.Sqrt(airEast * airEast + airNorth * airNorth), loadFactor, new AirSample(windEast, windNorth, 0, 0),
            _atmosphere.DensityKgM3(heightM), 0, double.NaN, double.NaN));
    }

    /// <summary>A turn and a half about the pilot, faster and faster; the release comes at its end.</summary>
    private void Spin(double releaseHeadingRad, double releaseMps)
    {
        for (double t = Glider.StepS; t < SpinS; t += Glider.StepS)
        {
            double left = 1 - t / SpinS;
            double speed = releaseMps * 0.6 * (1 - left);
            double angle = releaseHeadingRad - Math.PI / 2 - 3 * Math.PI * left * left;
            OnGround(Phase.Ground, SpinRadiusM * Math.Sin(angle), SpinRadiusM * Math.Cos(angle), HandHeightM,
                speed * Math.Cos(angle), -speed * Math.Sin(angle), Math.Sqrt(1 + Math.Pow(speed * speed / (SpinRadiusM * 9.81), 2)));
        }
    }

    private void Slide(Glider glider)
    {
        double east = glider.EastM;
        double north = glider.NorthM;
        double speedEast = glider.GroundEastMps;
        double speedNorth = glider.GroundNorthMps;
        while (speedEast * speedEast + speedNorth * speedNorth > 0.04)
        {
            double keep = Math.Exp(-Glider.StepS / 0.25);
            (speedEast, speedNorth) = (speedEast * keep, speedNorth * keep);
            (east, north) = (east + speedEast * Glider.StepS, north + speedNorth * Glider.StepS);
            OnGround(Phase.Landing, east, north, 0.1, speedEast, speedNorth, 1 + 0.4 * _random.Uniform());
        }
        Stand(_random.Uniform(3, 7), east, north, 0.1);
    }

    /// <summary>The pilot fetches the model and carries it back to where it is launched.</summary>
    private void WalkBack(double heightM)
    {
        double east = _moments[^1].EastM;
        double north = _moments[^1].NorthM;
        double distance = Math.Sqrt(east * east + north * north);
        double bob = 0;
        for (double gone = 0; gone < distance; gone += WalkMps * Glider.StepS)
        {
            double share = 1 - gone / distance;
            bob += Glider.StepS;
            OnGround(Phase.Ground, east * share, north * share, heightM + 0.03 * Math.Sin(11 * bob), -WalkMps * east / distance,
                -WalkMps * north / distance, 1 + 0.15 * Math.Sin(11 * bob));
        }
        Stand(_random.Uniform(4, 9), 0, 0, heightM);
    }
}
