namespace ThermalTrace.Tracks;

/// <summary>
/// East and north of an origin in metres, for the few kilometres that a model flies. Directions and distances from the
/// origin are <see cref="Geodesy"/>'s; between any two points within 5 km of it, up to latitude 60°, the plane's distances
/// are within one part in 10⁶ of the ellipsoid's. Heights do not enter: 1000 m above the ellipsoid, true distances are
/// 1.6 parts in 10⁴ longer.
/// </summary>
/// <param name="OriginLatitudeDeg">Degrees, north is positive.</param>
/// <param name="OriginLongitudeDeg">Degrees, east is positive.</param>
public sealed record LocalTangentPlane(double OriginLatitudeDeg, double OriginLongitudeDeg)
{
    /// <summary>East and north of the origin, m; NaN where a coordinate is missing.</summary>
    public (double EastM, double NorthM) FromDegrees(double latitudeDeg, double longitudeDeg) =>
        Geodesy.OffsetM(OriginLatitudeDeg, OriginLongitudeDeg, latitudeDeg, longitudeDeg);

    /// <summary>Latitude and longitude, degrees, of a point given in metres; the inverse of <see cref="FromDegrees"/>.</summary>
    public (double LatitudeDeg, double LongitudeDeg) ToDegrees(double eastM, double northM)
    {
        // Within 20 km a round of correction wins at least two digits; eight reach the last bit.
        double latitudeDeg = OriginLatitudeDeg;
        double longitudeDeg = OriginLongitudeDeg;
        for (int round = 0; round < 8; round++)
        {
            (double latitudeM, double longitudeM) = Geodesy.MetresPerDegree(latitudeDeg);
            (double reachedEastM, double reachedNorthM) = FromDegrees(latitudeDeg, longitudeDeg);
            latitudeDeg += (northM - reachedNorthM) / latitudeM;
            longitudeDeg += (eastM - reachedEastM) / longitudeM;
        }
        return (latitudeDeg, Math.IEEERemainder(longitudeDeg, 360));
    }
}
