namespace ThermalTrace.Simulation;

/// <summary>What goes wrong in a log: doubled rows, rows out of order, spikes, stuck sensors, lost fixes.</summary>
internal static class SensorFaults
{
    private const double DoubledShare = 0.004;
    private const double SwappedShare = 0.002;
    private const double SpikeShare = 0.0012;
    private const double LostFixEveryS = 260;
    private const double StuckEveryS = 420;

    public static LogChannels Inflict(LogChannels log, double rateHz, RandomStream random)
    {
        int n = log.TimeS.Count;
        double[] pressure = [.. log.PressurePa];
        double[]? latitude = Copy(log.LatitudeDeg), longitude = Copy(log.LongitudeDeg), gpsAltitude = Copy(log.GpsAltitudeM);
        double[]? speed = Copy(log.GroundSpeedMps), track = Copy(log.TrackDeg), climb = Copy(log.ClimbRateMps);

        for (int i = 1; i < n; i++)
        {
            if (random.Uniform() < SpikeShare)
            {
                pressure[i] += random.Uniform(300, 1500) * (random.Uniform() < 0.5 ? -1 : 1);
            }
            if (climb is not null && random.Uniform() < SpikeShare)
            {
                climb[i] += random.Uniform(8, 30) * (random.Uniform() < 0.5 ? -1 : 1);
            }
            if (latitude is not null && random.Uniform() < SpikeShare)
            {
                latitude[i] += random.Uniform(0.001, 0.02);
            }
        }
        for (double at = random.Exponential(StuckEveryS) * rateHz; at < n; at += random.Exponential(StuckEveryS) * rateHz)
        {
            double[] stuck = climb is not null && random.Uniform() < 0.5 ? climb : pressure;
            Hold(stuck, (int)at, (int)(random.Uniform(3, 8) * rateHz));
        }
        if (latitude is not null)
        {
            for (double at = random.Exponential(LostFixEveryS) * rateHz; at < n; at += random.Exponential(LostFixEveryS) * rateHz)
            {
                int length = Math.Max(1, (int)(random.Uniform(1, 7) * rateHz));
                foreach (double[]? column in new[] { latitude, longitude, gpsAltitude, speed, track })
                {
                    column?.AsSpan((int)at, Math.Min(length, n - (int)at)).Fill(double.NaN);
                }
            }
        }

        LogChannels broken = log with
        {
            PressurePa = pressure,
            ClimbRateMps = climb,
            LatitudeDeg = latitude,
            LongitudeDeg = longitude,
            GpsAltitudeM = gpsAltitude,
            GroundSpeedMps = speed,
            TrackDeg = track,
        };
        List<int> order = [];
        for (int i = 0; i < n; i++)
        {
            order.Add(i);
            double luck = i == 0 ? 1 : random.Uniform();
            if (luck < DoubledShare)
            {
                order.Add(i);
            }
            else if (luck < DoubledShare + SwappedShare && order.Count > 2)
            {
                (order[^1], order[^2]) = (order[^2], order[^1]);
            }
        }
        return broken.Rows(order);
    }

    private static double[]? Copy(IReadOnlyList<double>? column) => column is null ? null : [.. column];

    private static void Hold(double[] column, int from, int count)
    {
        for (int i = from + 1; i < Math.Min(from + count, column.Length); i++)
        {
            column[i] = column[from];
        }
    }
}
