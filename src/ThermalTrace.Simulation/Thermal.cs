namespace ThermalTrace.Simulation;

/// <summary>A thermal of finite life that drifts with the wind, wider with height, with a ring of sink about it.</summary>
internal sealed record Thermal
{
    private const double RingShare = 0.07;

    public required double BornS { get; init; }
    public required double LifeS { get; init; }

    /// <summary>Core lift in its prime at 50 m, m/s.</summary>
    public required double LiftMps { get; init; }

    /// <summary>Radius where lift has fallen to 1/e, at 50 m, m.</summary>
    public required double RadiusAt50M { get; init; }

    /// <summary>Where its core is half way through its life.</summary>
    public required double MiddleEastM { get; init; }
    public required double MiddleNorthM { get; init; }
    public required double DriftEastMps { get; init; }
    public required double DriftNorthMps { get; init; }

    public (double EastM, double NorthM) CoreAt(double timeS)
    {
        double since = timeS - BornS - LifeS / 2;
        return (MiddleEastM + DriftEastMps * since, MiddleNorthM + DriftNorthMps * since);
    }

    public double RadiusM(double heightM) => RadiusAt50M * Widening(heightM);

    /// <summary>Radius at a height as a share of that at 50 m.</summary>
    public static double Widening(double heightM) => 0.75 + 0.25 * Math.Clamp(heightM / 50, 0, 5);

    /// <summary>Core lift now: it grows over a sixth of its life, holds, and fades over the last third.</summary>
    public double CoreLiftMps(double timeS, double heightM)
    {
        double age = (timeS - BornS) / LifeS;
        if (!(age > 0 && age < 1))
        {
            return 0;
        }
        double life = age < 1.0 / 6 ? Smooth(age * 6) : age > 2.0 / 3 ? Smooth((1 - age) * 3) : 1;
        return LiftMps * life * Math.Cbrt(Math.Clamp(heightM / 50, 0, 1));
    }

    /// <summary>Vertical speed of the air at a point, m/s.</summary>
    public double UpMps(double eastM, double northM, double heightM, double timeS)
    {
        double core = CoreLiftMps(timeS, heightM);
        if (core == 0)
        {
            return 0;
        }
        (double east, double north) = CoreAt(timeS);
        double radius = RadiusM(heightM);
        double q = ((eastM - east) * (eastM - east) + (northM - north) * (northM - north)) / (radius * radius);
        if (q > 16)
        {
            return 0;
        }
        double ring = (Math.Sqrt(q) - 2) / 0.6;
        return core * (Math.Exp(-q) - RingShare * Math.Exp(-ring * ring));
    }

    private static double Smooth(double x) => x * x * (3 - 2 * x);
}
