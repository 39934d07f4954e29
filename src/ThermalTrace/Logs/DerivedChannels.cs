using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>Columns that follow from others: altitude from pressure, ground speed and track from position.</summary>
internal static class DerivedChannels
{
    /// <summary>Differences are not taken across more than this, s: the model may have done anything in between.</summary>
    private const double LongestStepS = 5;

    /// <summary>Faster is a jump of the position, not a flight.</summary>
    private const double FastestMps = 150;

    public static void Apply(RawLog log, double[] timeS)
    {
        if (!log.Columns.ContainsKey(Quantity.Altitude) && log.Columns.TryGetValue(Quantity.Pressure, out double[]? pressure))
        {
            log.Columns[Quantity.Altitude] = Array.ConvertAll(pressure, StandardAtmosphere.AltitudeM);
            log.Channels.Add(new LogChannel(Quantity.Altitude, "from pressure by the standard atmosphere", "m", Derived: true));
        }
        bool noSpeed = !log.Columns.ContainsKey(Quantity.GroundSpeed), noTrack = !log.Columns.ContainsKey(Quantity.Track);
        if ((noSpeed || noTrack) && log.Columns.TryGetValue(Quantity.Latitude, out double[]? latitude) && log.Columns.TryGetValue(Quantity.Longitude, out double[]? longitude))
        {
            (double[] speed, double[] track) = Motion(timeS, latitude, longitude);
            if (noSpeed)
            {
                log.Columns[Quantity.GroundSpeed] = speed;
                log.Channels.Add(new LogChannel(Quantity.GroundSpeed, "from position", "m/s", Derived: true));
            }
            if (noTrack)
            {
                log.Columns[Quantity.Track] = track;
                log.Channels.Add(new LogChannel(Quantity.Track, "from position", "°", Derived: true));
            }
        }
    }

    /// <summary>
    /// Ground speed, m/s, and track, degrees, by central differences between the fixes before and after, on the plane that
    /// touches the WGS 84 ellipsoid. A receiver slower than the logger repeats its fix: only new fixes count, and rows that repeat one
    /// keep its motion.
    /// </summary>
    private static (double[] SpeedMps, double[] TrackDeg) Motion(double[] timeS, double[] latitudeDeg, double[] longitudeDeg)
    {
        double[] speed = new double[timeS.Length], track = new double[timeS.Length];
        Array.Fill(speed, double.NaN);
        Array.Fill(track, double.NaN);
        List<int> fixes = [];
        for (int i = 0; i < timeS.Length; i++)
        {
            if (!double.IsNaN(latitudeDeg[i]) && !double.IsNaN(longitudeDeg[i])
                && (fixes.Count == 0 || latitudeDeg[i] != latitudeDeg[fixes[^1]] || longitudeDeg[i] != longitudeDeg[fixes[^1]] || timeS[i] - timeS[fixes[^1]] > 1.5))
            {
                fixes.Add(i);
            }
        }
        for (int k = 0; k < fixes.Count; k++)
        {
            int here = fixes[k];
            int from = k > 0 && timeS[here] - timeS[fixes[k - 1]] <= LongestStepS ? fixes[k - 1] : here;
            int to = k + 1 < fixes.Count && timeS[fixes[k + 1]] - timeS[here] <= LongestStepS ? fixes[k + 1] : here;
            if (from == to)
            {
                continue;
            }
            (double east, double north) = OffsetM(latitudeDeg[here], latitudeDeg[to] - latitudeDeg[from], longitudeDeg[to] - longitudeDeg[from]);
            double v = Math.Sqrt(east * east + north * north) / (timeS[to] - timeS[from]);
            if (!(v < FastestMps))
            {
                continue;
            }
            double direction = Math.Atan2(east, north) * 180 / Math.PI;
            int end = k + 1 < fixes.Count ? fixes[k + 1] : timeS.Length;
            for (int i = here; i < end && latitudeDeg[i] == latitudeDeg[here] && longitudeDeg[i] == longitudeDeg[here]; i++)
            {
                speed[i] = v;
                track[i] = direction < 0 ? direction + 360 : direction;
            }
        }
        return (speed, track);
    }

    /// <summary>Metres east and north for small differences of longitude and latitude; WGS 84 radii of curvature.</summary>
    private static (double EastM, double NorthM) OffsetM(double latitudeDeg, double northDeg, double eastDeg)
    {
        const double a = 6378137, f = 1 / 298.257223563, e2 = f * (2 - f);
        double phi = latitudeDeg * Math.PI / 180, s = Math.Sin(phi), w = 1 - e2 * s * s;
        double meridian = a * (1 - e2) / (w * Math.Sqrt(w)), normal = a / Math.Sqrt(w);
        return (normal * Math.Cos(phi) * eastDeg * Math.PI / 180, meridian * northDeg * Math.PI / 180);
    }
}
