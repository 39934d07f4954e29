namespace ThermalTrace.Tracks;

/// <summary>
/// Short distances on the WGS 84 ellipsoid by the mid-latitude formula (docs/models/geodesy.md). Against exact
/// geodesics the error grows with the cube of the distance: 0.24 mm at 4 km and 3.7 mm at 10 km at latitude 60°.
/// Not meant for points more than 100 km apart (4 m off) or near a pole. Angles in degrees; NaN in, NaN out.
/// </summary>
public static class Geodesy
{
    /// <summary>WGS 84 semi-major axis, m; NGA.STND.0036, table 3.1.</summary>
    public const double SemiMajorAxisM = 6_378_137;

    /// <summary>WGS 84 reciprocal flattening; NGA.STND.0036, table 3.1.</summary>
    public const double ReciprocalFlattening = 298.257223563;

    private const double EccentricitySquared = (2 - 1 / ReciprocalFlattening) / ReciprocalFlattening;

    /// <summary>Length of the shortest line between two points on the ellipsoid, m.</summary>
    public static double DistanceM(double fromLatitudeDeg, double fromLongitudeDeg, double toLatitudeDeg, double toLongitudeDeg)
    {
        (double eastM, double northM) = OffsetM(fromLatitudeDeg, fromLongitudeDeg, toLatitudeDeg, toLongitudeDeg);
        return double.Hypot(eastM, northM);
    }

    /// <summary>Direction in which that line leaves the first point, degrees clockwise from true north, 0 to 360.</summary>
    public static double AzimuthDeg(double fromLatitudeDeg, double fromLongitudeDeg, double toLatitudeDeg, double toLongitudeDeg)
    {
        (double eastM, double northM) = OffsetM(fromLatitudeDeg, fromLongitudeDeg, toLatitudeDeg, toLongitudeDeg);
        double azimuthDeg = double.RadiansToDegrees(Math.Atan2(eastM, northM));
        return azimuthDeg < 0 ? azimuthDeg + 360 : azimuthDeg;
    }

    /// <summary>Metres in a degree of latitude (along the meridian) and of longitude (along the parallel) at a latitude.</summary>
    public static (double LatitudeM, double LongitudeM) MetresPerDegree(double latitudeDeg)
    {
        (double sin, double cos) = Math.SinCos(double.DegreesToRadians(latitudeDeg));
        double squeeze = 1 - EccentricitySquared * sin * sin;
        double primeVerticalM = SemiMajorAxisM / Math.Sqrt(squeeze);
        double meridianM = primeVerticalM * (1 - EccentricitySquared) / squeeze;
        return (double.DegreesToRadians(meridianM), double.DegreesToRadians(primeVerticalM * cos));
    }

    /// <summary>East and north of the second point as the first one sees it, m. docs/models/geodesy.md eq. 3.</summary>
    internal static (double EastM, double NorthM) OffsetM(
        double fromLatitudeDeg, double fromLongitudeDeg, double toLatitudeDeg, double toLongitudeDeg)
    {
        double middleDeg = 0.5 * (fromLatitudeDeg + toLatitudeDeg);
        double longitudeStepDeg = Math.IEEERemainder(toLongitudeDeg - fromLongitudeDeg, 360); // the short way round
        (double latitudeM, double longitudeM) = MetresPerDegree(middleDeg);
        double eastM = longitudeStepDeg * longitudeM;
        double northM = (toLatitudeDeg - fromLatitudeDeg) * latitudeM;
        // The bearing so far is the one at the middle of the line; at its start it is smaller by half the convergence.
        double halfConvergenceRad = 0.5 * double.DegreesToRadians(longitudeStepDeg) * Math.Sin(double.DegreesToRadians(middleDeg));
        (double sin, double cos) = Math.SinCos(halfConvergenceRad);
        return (eastM * cos - northM * sin, northM * cos + eastM * sin);
    }
}
