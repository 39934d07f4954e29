namespace ThermalTrace.Simulation;

/// <summary>Where thermals rise about the field during one flight.</summary>
internal static class ThermalNursery
{
    private const double ReachM = 320;
    private const double BornEveryS = 17;

    /// <summary>Thermals from before the launch until the last moment the flight can last.</summary>
    public static IReadOnlyList<Thermal> Grow(SimulationOptions options, RandomStream random, MovingAir air, double startS, double endS)
    {
        List<Thermal> grown = [];
        if (!(options.LiftMps > 0))
        {
            return grown;
        }
        for (double born = startS - 360; born < endS; born += random.Exponential(BornEveryS))
        {
            double life = random.Uniform(140, 380);
            // Denser near the middle: a field is chosen for the lift that comes by.
            double distance = ReachM * Math.Pow(random.Uniform(), 0.65);
            double bearing = random.Uniform(0, 2 * Math.PI);
            double strength = Math.Clamp(1 + 0.28 * random.Normal(), 0.4, 1.8);
            (double east, double north) = air.MeanWind(60, Math.Max(0, born + life / 2));
            grown.Add(new Thermal
            {
                BornS = born,
                LifeS = life,
                LiftMps = options.LiftMps * strength,
                RadiusAt50M = options.ThermalRadiusM * Math.Clamp(1 + 0.2 * random.Normal(), 0.6, 1.6),
                MiddleEastM = distance * Math.Sin(bearing),
                MiddleNorthM = distance * Math.Cos(bearing),
                DriftEastMps = east,
                DriftNorthMps = north,
            });
        }
        return grown;
    }

    /// <summary>
    /// Sink of the air between thermals at 50 m, m/s, so that most of what goes up over the field comes down over it too; what is
    /// left over comes from farther away.
    /// </summary>
    public static double SurroundingSinkMps(IReadOnlyList<Thermal> thermals, RandomStream random, double startS, double endS)
    {
        const int Places = 600;
        const double ReturnedShare = 0.75;
        double sum = 0;
        for (int i = 0; i < Places; i++)
        {
            double distance = 220 * Math.Sqrt(random.Uniform());
            double bearing = random.Uniform(0, 2 * Math.PI);
            double time = random.Uniform(startS, endS);
            foreach (Thermal thermal in thermals)
            {
                sum += thermal.UpMps(distance * Math.Sin(bearing), distance * Math.Cos(bearing), 50, time);
            }
        }
        return Math.Max(0, ReturnedShare * sum / Places);
    }
}
