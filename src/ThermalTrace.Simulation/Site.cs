namespace ThermalTrace.Simulation;

/// <summary>The field: an invented one, put into mid-ocean so that nobody takes it for a real one.</summary>
internal static class Site
{
    public const double LatitudeDeg = 45.2;
    public const double LongitudeDeg = -28.6;
    public const double ElevationM = 137;

    /// <summary>Satellite heights differ from the barometer's by this much on top of their noise.</summary>
    public const double GeoidStepM = 2.4;

    private const double EquatorM = 6378137;
    private const double EccentricitySquared = 0.00669437999014; // WGS 84

    private static readonly double SinLatitude = Math.Sin(LatitudeDeg * Math.PI / 180);
    private static readonly double Curvature = 1 - EccentricitySquared * SinLatitude * SinLatitude;
    private static readonly double MetresPerDegreeNorth = Math.PI / 180 * EquatorM * (1 - EccentricitySquared) / (Curvature * Math.Sqrt(Curvature));
    private static readonly double MetresPerDegreeEast = Math.PI / 180 * EquatorM / Math.Sqrt(Curvature) * Math.Cos(LatitudeDeg * Math.PI / 180);

    public static double Latitude(double northM) => LatitudeDeg + northM / MetresPerDegreeNorth;

    public static double Longitude(double eastM) => LongitudeDeg + eastM / MetresPerDegreeEast;
}
