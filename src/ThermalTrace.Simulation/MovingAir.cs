namespace ThermalTrace.Simulation;

/// <summary>Motion of the air where the model is, m/s.</summary>
internal readonly record struct AirSample(double EastMps, double NorthMps, double UpMps, double Edr);

/// <summary>
/// The air of a day over the field: a wind with shear that changes slowly, turbulence in three components, long waves,
/// thermals. Heights are above the field, times from the session's start.
/// </summary>
internal sealed class MovingAir
{
    private const double ReferenceHeightM = 50;
    private const double GridS = 10;
    private const double VeerRadPerM = 0.0005;
    private const int Waves = 4;

    private readonly SimulationOptions _options;
    private readonly double _windTowardsRad;
    private readonly double[] _windShare;
    private readonly double[] _windTurnRad;
    private readonly double[] _edrShare;
    private readonly double[] _carriedEastM;
    private readonly double[] _carriedNorthM;
    private readonly TurbulenceField _turbulence;
    private readonly (double Kx, double Ky, double Omega, double Phase)[] _waves = new (double, double, double, double)[Waves];
    private readonly double _dayS;
    private double _surroundingSinkMps;

    public MovingAir(SimulationOptions options, double dayS)
    {
        _options = options;
        _dayS = dayS;
        RandomStream random = RandomStream.For(options.Seed, "wind");
        double fromDeg = random.Uniform(0, 360);
        _windTowardsRad = (double.IsNaN(options.WindFromDeg) ? fromDeg : options.WindFromDeg) * Math.PI / 180 + Math.PI;
        int grid = (int)(dayS / GridS) + 2;
        _windShare = Wander(random, 0.12, 400, grid);
        _windTurnRad = Wander(random, 0.12, 500, grid);
        _edrShare = Wander(random, 0.18, 250, grid);
        _turbulence = new TurbulenceField(RandomStream.For(options.Seed, "turbulence"));
        _carriedEastM = new double[grid];
        _carriedNorthM = new double[grid];
        for (int i = 1; i < grid; i++)
        {
            (double east, double north) = MeanWind(ReferenceHeightM, (i - 0.5) * GridS);
            _carriedEastM[i] = _carriedEastM[i - 1] + east * GridS;
            _carriedNorthM[i] = _carriedNorthM[i - 1] + north * GridS;
        }
        RandomStream waves = RandomStream.For(options.Seed, "waves");
        for (int n = 0; n < Waves; n++)
        {
            double k = 2 * Math.PI / waves.Uniform(250, 900);
            double direction = waves.Uniform(0, 2 * Math.PI);
            _waves[n] = (k * Math.Sin(direction), k * Math.Cos(direction), 2 * Math.PI / waves.Uniform(200, 600), waves.Uniform(0, 2 * Math.PI));
        }
    }

    /// <summary>Thermals near the field during the flight at hand.</summary>
    public IReadOnlyList<Thermal> Thermals { get; private set; } = [];

    /// <summary>Puts the thermals of the flight at hand into the air, and the sink between them.</summary>
    public void Grow(RandomStream random, double startS, double endS)
    {
        Thermals = ThermalNursery.Grow(_options, random, this, startS, endS);
        _surroundingSinkMps = ThermalNursery.SurroundingSinkMps(Thermals, random, startS, endS);
    }

    /// <summary>The wind without gusts, m/s.</summary>
    public (double EastMps, double NorthMps) MeanWind(double heightM, double timeS)
    {
        double height = Math.Clamp(heightM, 0.5, 400);
        double change = _options.WindChangeMps * Math.Clamp(timeS / _dayS, 0, 1);
        double speed = (_options.WindMps * (1 + Between(_windShare, timeS)) + change)
            * Math.Pow(height / ReferenceHeightM, _options.ShearExponent);
        double towards = _windTowardsRad + Between(_windTurnRad, timeS) + VeerRadPerM * (height - ReferenceHeightM);
        return (speed * Math.Sin(towards), speed * Math.Cos(towards));
    }

    /// <summary>Everything at a point and time.</summary>
    public AirSample At(double eastM, double northM, double heightM, double timeS)
    {
        (double east, double north) = MeanWind(heightM, timeS);
        double edr = LocalEdr(heightM, timeS);
        double up = 0;
        if (edr > 0)
        {
            (double gustEast, double gustNorth, double gustUp) = _turbulence.At(
                eastM - Between(_carriedEastM, timeS), northM - Between(_carriedNorthM, timeS), heightM, timeS * edr);
            east += edr * gustEast;
            north += edr * gustNorth;
            up += edr * gustUp;
        }
        if (_options.WavesMps > 0)
        {
            up += Wave(eastM, northM, heightM, timeS);
        }
        if (_surroundingSinkMps > 0)
        {
            double widening = Thermal.Widening(heightM);
            up -= _surroundingSinkMps * widening * widening * (1 - Math.Exp(-Math.Max(heightM, 0) / 25));
        }
        foreach (Thermal thermal in Thermals)
        {
            up += thermal.UpMps(eastM, northM, heightM, timeS);
        }
        return new AirSample(east, north, up, edr);
    }

    /// <summary>Eddy dissipation rate^(1/3): stronger near the ground (ε falls as 1/z), slowly changing.</summary>
    private double LocalEdr(double heightM, double timeS) => _options.Edr
        * (1 + Math.Clamp(Between(_edrShare, timeS), -0.5, 0.8))
        * Math.Clamp(Math.Pow(Math.Max(heightM, 1) / ReferenceHeightM, -1.0 / 6), 0.75, 1.6);

    private double Wave(double eastM, double northM, double heightM, double timeS)
    {
        double sum = 0;
        foreach ((double kx, double ky, double omega, double phase) in _waves)
        {
            sum += Math.Cos(kx * eastM + ky * northM - omega * timeS + phase);
        }
        return _options.WavesMps * Math.Sqrt(2.0 / Waves) * sum * (1 - Math.Exp(-Math.Max(heightM, 0) / 30));
    }

    private static double[] Wander(RandomStream random, double deviation, double correlationTimeS, int count)
    {
        WanderingValue value = new(random, deviation, correlationTimeS, GridS);
        double[] grid = new double[count];
        for (int i = 0; i < count; i++)
        {
            grid[i] = value.Advance();
        }
        return grid;
    }

    private static double Between(double[] grid, double timeS)
    {
        double place = Math.Clamp(timeS / GridS, 0, grid.Length - 1.000001);
        int i = (int)place;
        return grid[i] + (grid[i + 1] - grid[i]) * (place - i);
    }
}
