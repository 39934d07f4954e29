namespace ThermalTrace.Simulation;

/// <summary>Test glides: a speed is held on one heading and then on the opposite one, speed after speed.</summary>
internal sealed class TestCard
{
    private static readonly double[] SpeedShares = [1.0, 1.15, 1.3, 1.5, 1.75];

    private readonly Model _model;
    private readonly RandomStream _random;
    private int _leg;
    private int _order;
    private double _headingRad;
    private double _airspeedMps;
    private double _untilS = double.NegativeInfinity;

    public TestCard(Model model, RandomStream random)
    {
        (_model, _random) = (model, random);
        _order = (int)random.Uniform(0, SpeedShares.Length);
    }

    /// <summary>The pair under way is given up.</summary>
    public void Interrupt() => (_leg, _untilS) = (_leg + (_leg % 2), double.NegativeInfinity);

    public Controls Next(Glider glider, MovingAir air, double timeS, double wander)
    {
        if (timeS > _untilS)
        {
            Begin(glider, air, timeS);
        }
        return Controls.Trimmed(_airspeedMps * (1 + wander), Steering.OntoHeading(glider, _headingRad, 0.6));
    }

    private void Begin(Glider glider, MovingAir air, double timeS)
    {
        (double windEast, double windNorth) = air.MeanWind(glider.HeightM, timeS);
        double wind = Math.Sqrt(windEast * windEast + windNorth * windNorth);
        if (_leg % 2 == 0)
        {
            // Speeds are taken far apart from pair to pair, so that a short flight still spans them.
            _order = (_order + 2) % SpeedShares.Length;
            _airspeedMps = _model.MinSinkAirspeedMps * SpeedShares[_order] * (1 + 0.03 * _random.Normal());
            // The first pair lies along the wind, upwind first: it costs no ground.
            bool across = wind < 1 || (_leg > 0 && _random.Uniform() < 0.35);
            double upwind = wind < 0.3 ? _random.Uniform(0, 2 * Math.PI) : Math.Atan2(-windEast, -windNorth);
            double homeward = Math.Atan2(-glider.EastM, -glider.NorthM);
            double axis = across ? upwind + Math.PI / 2 : upwind;
            _headingRad = across && Math.Cos(axis - homeward) < 0 ? axis + Math.PI : axis;
            _untilS = timeS + _random.Uniform(15, 22);
        }
        else
        {
            _headingRad += Math.PI;
            double downwind = (windEast * Math.Sin(_headingRad) + windNorth * Math.Cos(_headingRad)) / _airspeedMps;
            // Legs of equal length over the ground as far as there is time for them, turn included.
            _untilS = timeS + Math.Clamp(18 * (1 - downwind) / (1 + Math.Max(0, downwind)) + 5, 11, 24);
        }
        _leg++;
    }
}
