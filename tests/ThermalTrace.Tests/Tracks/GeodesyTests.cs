using CsCheck;
using ThermalTrace.Tracks;

namespace ThermalTrace.Tests.Tracks;

public class GeodesyTests
{
    // WGS 84 geodesics, computed by the methods of Karney (2013) and Vincenty (1975), which agree to 5e-7 m.
    [Theory]
    [InlineData(46.5, 7.5, 46.51, 7.51, 1350.859859)]
    [InlineData(51, 0, 51, 0.05, 3509.883816)]
    [InlineData(-33.9, 18.5, -33.88, 18.47, 3552.826303)]
    [InlineData(60, 25, 60.02, 25.03, 2786.696764)]
    public void Distance_OverAModelsRange_IsTheGeodesicsToATenthOfAMillimetre(
        double fromLatitude, double fromLongitude, double toLatitude, double toLongitude, double distanceM)
    {
        Assert.Equal(distanceM, Geodesy.DistanceM(fromLatitude, fromLongitude, toLatitude, toLongitude), 7e-5);
        (double eastM, double northM) = new LocalTangentPlane(fromLatitude, fromLongitude).FromDegrees(toLatitude, toLongitude);
        Assert.Equal(distanceM, Math.Sqrt(eastM * eastM + northM * northM), 7e-5);
    }

    // Same computation: the geodesic from (46.5, 7.5) to (46.51, 7.51) leaves at 34.62101918 degrees.
    [Fact]
    public void Azimuth_OverAModelsRange_IsTheGeodesics() =>
        Assert.Equal(34.62101918, Geodesy.AzimuthDeg(46.5, 7.5, 46.51, 7.51), 1e-5);

    // Computed from the meridian and prime-vertical radii of WGS 84.
    [Fact]
    public void OneDegree_AtLatitude45_HasTheEllipsoidsLengths()
    {
        (double latitudeM, double longitudeM) = Geodesy.MetresPerDegree(45);
        Assert.Equal(111_131.777, latitudeM, 0.0006);
        Assert.Equal(78_846.835, longitudeM, 0.0006);
    }

    [Theory]
    [InlineData(1, 0, 0)]
    [InlineData(0, 1, 90)]
    [InlineData(-1, 0, 180)]
    [InlineData(0, -1, 270)]
    public void Azimuth_OfTheFourWinds_CountsClockwiseFromNorth(double northDeg, double eastDeg, double azimuthDeg) =>
        Assert.Equal(azimuthDeg, Geodesy.AzimuthDeg(0, 0, northDeg / 100, eastDeg / 100), 1e-9);

    [Fact]
    public void Distance_AcrossTheDateLine_GoesTheShortWay() =>
        Assert.Equal(Geodesy.DistanceM(51, 0, 51, 0.05), Geodesy.DistanceM(51, 179.98, 51, -179.97), 1e-6);

    [Fact]
    public void Plane_ThereAndBack_ReturnsThePoint() =>
        Gen.Select(Gen.Double[-70, 70], Gen.Double[-180, 180], Gen.Double[-20_000, 20_000], Gen.Double[-20_000, 20_000])
            .Sample((latitude, longitude, eastM, northM) =>
            {
                LocalTangentPlane plane = new(latitude, longitude);
                (double latitudeDeg, double longitudeDeg) = plane.ToDegrees(eastM, northM);
                (double backEastM, double backNorthM) = plane.FromDegrees(latitudeDeg, longitudeDeg);
                return Math.Abs(backEastM - eastM) < 1e-6 && Math.Abs(backNorthM - northM) < 1e-6;
            });

    [Fact]
    public void Plane_BetweenTwoOfItsPoints_KeepsDistancesToOnePartInAMillion()
    {
        Gen<double> offset = Gen.Double[-3_500, 3_500];
        Gen.Select(Gen.Double[-60, 60], offset, offset, offset, offset).Sample((latitude, e1, n1, e2, n2) =>
        {
            LocalTangentPlane plane = new(latitude, 11);
            (double lat1, double lon1) = plane.ToDegrees(e1, n1);
            (double lat2, double lon2) = plane.ToDegrees(e2, n2);
            double planeM = Math.Sqrt((e2 - e1) * (e2 - e1) + (n2 - n1) * (n2 - n1));
            return Math.Abs(Geodesy.DistanceM(lat1, lon1, lat2, lon2) - planeM) <= 1e-6 * planeM + 1e-6;
        });
    }

    [Fact]
    public void Plane_WithACoordinateMissing_HasNoPlace()
    {
        (double eastM, double northM) = new LocalTangentPlane(50, 10).FromDegrees(double.NaN, 10);
        Assert.Equal(double.NaN, eastM);
        Assert.Equal(double.NaN, northM);
    }
}
