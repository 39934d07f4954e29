namespace ThermalTrace.Simulation;

/// <summary>Turning towards a direction over the ground.</summary>
internal static class Steering
{
    /// <summary>Bank, rad, that brings the track onto a direction, at most <paramref name="limitRad"/> either way.</summary>
    public static double Toward(Glider glider, double east, double north, double limitRad, bool crab = true)
    {
        double wanted = Math.Atan2(east, north);
        if (crab)
        {
            double across = glider.Air.EastMps * Math.Cos(wanted) - glider.Air.NorthMps * Math.Sin(wanted);
            wanted -= Math.Asin(Math.Clamp(across / glider.AirspeedMps, -0.8, 0.8));
        }
        return OntoHeading(glider, wanted, limitRad);
    }

    /// <summary>Bank, rad, that brings the nose onto a heading.</summary>
    public static double OntoHeading(Glider glider, double headingRad, double limitRad) =>
        Math.Clamp(1.1 * Wrap(headingRad - glider.HeadingRad), -limitRad, limitRad);

    /// <summary>An angle as a number from -π to π.</summary>
    public static double Wrap(double angleRad) => angleRad - 2 * Math.PI * Math.Round(angleRad / (2 * Math.PI));
}

/// <summary>Keeps a circle about where the pilot believes the core to be: wrong at first, better after a circle, never right.</summary>
internal sealed class CircleGuide(Circling circling, double centringShare, RandomStream random)
{
    private const double LearnS = 9;
    private const double WanderS = 14;

    private readonly WanderingValue _wanderEast = new(random, 1, WanderS, Glider.StepS);
    private readonly WanderingValue _wanderNorth = new(random, 1, WanderS, Glider.StepS);
    private double _turn = 1;
    private double _errorEastM;
    private double _errorNorthM;
    private double _falseEastM;
    private double _falseNorthM;

    /// <summary>What is being circled in; null where it was a gust.</summary>
    public Thermal? Thermal { get; private set; }

    public void Begin(Glider glider, MovingAir air, double timeS)
    {
        Thermal = null;
        double strongest = 0.1;
        foreach (Thermal thermal in air.Thermals)
        {
            double up = thermal.UpMps(glider.EastM, glider.NorthM, glider.HeightM, timeS);
            if (up > strongest)
            {
                (Thermal, strongest) = (thermal, up);
            }
        }
        double rightEast = Math.Cos(glider.HeadingRad);
        double rightNorth = -Math.Sin(glider.HeadingRad);
        _turn = random.Uniform() < 0.5 ? -1 : 1;
        double coreEast = 0, coreNorth = 0;
        if (Thermal is { } found)
        {
            (coreEast, coreNorth) = found.CoreAt(timeS);
            // A wing that is lifted tells the side three times in four.
            double side = Math.Sign((coreEast - glider.EastM) * rightEast + (coreNorth - glider.NorthM) * rightNorth);
            _turn = side != 0 && random.Uniform() < 0.75 ? side : _turn;
        }
        double radius = circling.RadiusM;
        double guessEast = glider.EastM + _turn * radius * rightEast + 4 * random.Normal();
        double guessNorth = glider.NorthM + _turn * radius * rightNorth + 4 * random.Normal();
        (_errorEastM, _errorNorthM) = (guessEast - coreEast, guessNorth - coreNorth);
        (_falseEastM, _falseNorthM) = (guessEast, guessNorth);
        _wanderEast.Restart();
        _wanderNorth.Restart();
    }

    /// <summary>Bank for this step, rad.</summary>
    public double Bank(Glider glider, MovingAir air, double timeS)
    {
        double east, north;
        double learn = Math.Exp(-Glider.StepS / LearnS);
        double wanderEast = _wanderEast.Advance();
        double wanderNorth = _wanderNorth.Advance();
        if (Thermal is { } thermal)
        {
            (_errorEastM, _errorNorthM) = (_errorEastM * learn, _errorNorthM * learn);
            double spread = centringShare * thermal.RadiusM(glider.HeightM);
            (east, north) = thermal.CoreAt(timeS);
            east += _errorEastM + spread * wanderEast;
            north += _errorNorthM + spread * wanderNorth;
        }
        else
        {
            (double windEast, double windNorth) = air.MeanWind(glider.HeightM, timeS);
            (_falseEastM, _falseNorthM) = (_falseEastM + windEast * Glider.StepS, _falseNorthM + windNorth * Glider.StepS);
            (east, north) = (_falseEastM, _falseNorthM);
        }
        double fromEast = glider.EastM - east;
        double fromNorth = glider.NorthM - north;
        double distance = Math.Sqrt(fromEast * fromEast + fromNorth * fromNorth);
        double inward = Math.Atan((distance - circling.RadiusM) / (0.8 * circling.RadiusM));
        double wanted = Math.Atan2(fromEast, fromNorth) + _turn * (Math.PI / 2 + inward);
        double bank = _turn * circling.BankRad + 1.2 * Steering.Wrap(wanted - glider.HeadingRad);
        return Math.Clamp(bank, -circling.BankRad - 0.3, circling.BankRad + 0.3);
    }
}
