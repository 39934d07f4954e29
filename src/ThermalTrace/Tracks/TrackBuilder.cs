using ThermalTrace.Logs;
using ThermalTrace.Units;

namespace ThermalTrace.Tracks;

/// <summary>Turns a log into tracks: one for each stretch between pauses of the logger. docs/models/track.md.</summary>
internal static class TrackBuilder
{
    private const double PauseS = 30;          // longer than any dropout in flight that could be bridged
    private const double ShortestTrackS = 5;
    private const double UsualGpsDelayS = 0.6; // common practice, no source: receivers' filters run 0.2 to 1.2 s behind
    private const double AnchorNoiseM = 3;     // of positions beside logged velocities: their slow error must not read as speed

    /// <summary>
    /// The tracks of one log, in time order. Empty where nothing tells height: neither altitude, GPS altitude nor
    /// vertical speed.
    /// </summary>
    /// <param name="log">The log.</param>
    /// <param name="logIndex">Its index in the session.</param>
    /// <param name="plane">Tangent plane for the session's positions; null without positions.</param>
    /// <param name="cancel">Stops the work.</param>
    public static IReadOnlyList<Track> Build(FlightLog log, int logIndex, LocalTangentPlane? plane, CancellationToken cancel)
    {
        List<Track> tracks = [];
        ReadOnlySpan<double> time = log.TimeS;
        BarometerDrift? drift = BarometerDrift.Of(log);
        int first = 0;
        for (int i = 1; i <= time.Length; i++)
        {
            if (i == time.Length || time[i] - time[i - 1] > PauseS)
            {
                cancel.ThrowIfCancellationRequested();
                if (time[i - 1] - time[first] >= ShortestTrackS && BuildOne(log, logIndex, first..i, plane, drift) is { } track)
                {
                    tracks.Add(track);
                }
                first = i;
            }
        }
        return tracks;
    }

    private static Track? BuildOne(FlightLog log, int logIndex, Range rows, LocalTangentPlane? plane, BarometerDrift? drift)
    {
        ReadOnlySpan<double> time = log.TimeS[rows];
        double step = Grid.StepFor(MedianStep(time));
        double start = time[0];
        int count = (int)Math.Floor((time[^1] - start) / step + 1e-9) + 1;
        double bridge = Math.Max(2.5 * step, 1.0);
        double[] On(Quantity quantity, double bridgeS)
        {
            ReadOnlySpan<double> column = log[quantity];
            return Grid.Resample(log.TimeS[rows], column[rows], start, step, count, bridgeS);
        }
        double[]? Optional(Quantity quantity) => log.Has(quantity) ? On(quantity, bridge) : null;

        bool fromGps = !log.Has(Quantity.Altitude) || AllMissing(log[Quantity.Altitude][rows]);
        double[] altitude;
        if (!fromGps)
        {
            altitude = On(Quantity.Altitude, bridge);
            drift?.TakeFrom(altitude, start, step);
        }
        else if (log.Has(Quantity.GpsAltitude) && !AllMissing(log[Quantity.GpsAltitude][rows]))
        {
            altitude = On(Quantity.GpsAltitude, bridge);
        }
        else if (log.Has(Quantity.ClimbRate) && !AllMissing(log[Quantity.ClimbRate][rows]))
        {
            altitude = Integrate(On(Quantity.ClimbRate, bridge), step);
        }
        else
        {
            return null;
        }

        AirDensity density = DensityOf(log, rows, altitude);
        if (density.FromLog && !fromGps)
        {
            ToTrueMetres(altitude, density);
        }
        MotionSmoother.Noise noise = MotionSmoother.ChooseNoise([(altitude, [])], step, [0.7, 2.5], [0.03, 0.08, 0.15, 0.3, 0.6, 1.2], [1]);
        MotionSmoother.Motion vertical = MotionSmoother.Smooth(altitude, [], step, noise);
        return new Track
        {
            Log = logIndex,
            StartS = start,
            StepS = step,
            AltitudeM = altitude,
            AltitudeNoiseM = noise.PositionM,
            SmoothAltitudeM = vertical.Position,
            VerticalSpeedMps = vertical.Velocity,
            Ground = plane is null ? null : GroundOf(log, rows, plane, fromGps ? null : altitude, start, step, count),
            VarioMps = fromGps || log.Channels.Any(c => c.Derived && c.Quantity == Quantity.ClimbRate) ? null : Optional(Quantity.ClimbRate),
            PitotMps = Optional(Quantity.Airspeed),
            Motor = Optional(Quantity.Motor),
            LoadFactorDeparture = LoadFactor(Optional(Quantity.VerticalAcceleration), Optional(Quantity.Acceleration)),
            Camber = log.Has(Quantity.Camber) ? Grid.Nearest(time, log[Quantity.Camber][rows], start, step, count, 60) : null,
            CamberLabels = log.CamberLabels,
            BallastG = log.Has(Quantity.Ballast) ? Grid.Nearest(time, log[Quantity.Ballast][rows], start, step, count, 60) : null,
            Density = density,
            Drift = fromGps ? null : drift,
        };
    }

    private static GroundMotion? GroundOf(FlightLog log, Range rows, LocalTangentPlane plane, double[]? altitude, double start, double step, int count)
    {
        if (!log.Has(Quantity.Latitude) || !log.Has(Quantity.Longitude))
        {
            return null;
        }
        ReadOnlySpan<double> time = log.TimeS[rows];
        ReadOnlySpan<double> latitude = log[Quantity.Latitude][rows], longitude = log[Quantity.Longitude][rows];
        double[] east = new double[time.Length], north = new double[time.Length];
        for (int i = 0; i < time.Length; i++)
        {
            (east[i], north[i]) = plane.FromDegrees(latitude[i], longitude[i]);
        }
        bool held = DropHeldFixes(east, north);
        // Between held fixes nothing is known: joining them by lines would pass for data.
        double bridge = held ? 0.51 * step : Math.Max(2.5 * step, 1.0);
        double[] eastM = Grid.Resample(time, east, start, step, count, bridge);
        double[] northM = Grid.Resample(time, north, start, step, count, bridge);
        if (Known(eastM) < 10)
        {
            return null;
        }
        double[] eastMps = [], northMps = [];
        if (log.Has(Quantity.GroundSpeed) && log.Has(Quantity.Track) && !log.Channels.Any(c => c.Derived && c.Quantity is Quantity.GroundSpeed or Quantity.Track && c.Derived))
        {
            ReadOnlySpan<double> speed = log[Quantity.GroundSpeed][rows], trackDeg = log[Quantity.Track][rows];
            double[] vEast = new double[time.Length], vNorth = new double[time.Length];
            for (int i = 0; i < time.Length; i++)
            {
                (double sin, double cos) = Math.SinCos(trackDeg[i] * Math.PI / 180);
                (vEast[i], vNorth[i]) = held && double.IsNaN(east[i]) ? (double.NaN, double.NaN) : (speed[i] * sin, speed[i] * cos);
            }
            eastMps = Grid.Resample(time, vEast, start, step, count, bridge);
            northMps = Grid.Resample(time, vNorth, start, step, count, bridge);
        }
        bool logged = eastMps.Length > 0 && Known(eastMps) > count / 10;
        if (!logged)
        {
            eastMps = northMps = [];
        }
        MotionSmoother.Noise noise = MotionSmoother.ChooseNoise([(eastM, eastMps), (northM, northMps)], step, [1, 2, 4, 8],
            logged ? [AnchorNoiseM] : [0.05, 0.15, 0.4, 1.0, 2.0], logged ? [0.05, 0.1, 0.2, 0.4, 0.8] : [1]);
        MotionSmoother.Motion e = MotionSmoother.Smooth(eastM, eastMps, step, noise);
        MotionSmoother.Motion n = MotionSmoother.Smooth(northM, northMps, step, noise);

        double? found = null;
        if (altitude is not null && log.Has(Quantity.GpsAltitude))
        {
            double[] gpsAltitude = Grid.Resample(time, log[Quantity.GpsAltitude][rows], start, step, count, bridge);
            found = DelayOf(gpsAltitude, altitude, step);
        }
        double delay = altitude is null ? 0 : found ?? UsualGpsDelayS;
        return new GroundMotion(Shift(e.Position, delay / step), Shift(n.Position, delay / step), Shift(e.Velocity, delay / step),
            Shift(n.Velocity, delay / step), Later(e.Variance, delay / step), delay, altitude is null || found is not null, logged);
    }

    /// <summary>
    /// Receivers that fix less often than the logger writes hold a fix for several rows: only the first tells anything,
    /// the others become NaN. True where that is the habit of this log.
    /// </summary>
    private static bool DropHeldFixes(double[] east, double[] north)
    {
        int repeats = 0, moves = 0;
        for (int i = 1; i < east.Length; i++)
        {
            bool known = !double.IsNaN(east[i]) && !double.IsNaN(east[i - 1]);
            repeats += known && east[i] == east[i - 1] && north[i] == north[i - 1] ? 1 : 0;
            moves += known ? 1 : 0;
        }
        // A model that stands still repeats its fix too, but not half of all rows and in step.
        if (moves == 0 || repeats < 0.4 * moves)
        {
            return false;
        }
        double lastEast = double.NaN, lastNorth = double.NaN;
        for (int i = 0; i < east.Length; i++)
        {
            if (east[i] == lastEast && north[i] == lastNorth)
            {
                (east[i], north[i]) = (double.NaN, double.NaN);
            }
            else if (!double.IsNaN(east[i]))
            {
                (lastEast, lastNorth) = (east[i], north[i]);
            }
        }
        return true;
    }

    /// <summary>
    /// The delay at which GPS altitude follows the barometer best, by least squares of their changes over a few
    /// seconds (launches and climbs carry it); null where nothing moves enough to tell.
    /// </summary>
    private static double? DelayOf(double[] gpsAltitude, double[] altitude, double step)
    {
        int span = Math.Max(1, (int)Math.Round(3 / step));
        double bestDelay = double.NaN, best = double.PositiveInfinity, worst = 0;
        for (int k = 0; k <= 60; k++)
        {
            double delay = -0.5 + 0.05 * k;
            double sum = 0;
            int n = 0;
            for (int i = span; i < altitude.Length; i++)
            {
                double difference = At(gpsAltitude, i + delay / step) - At(gpsAltitude, i - span + delay / step) - (altitude[i] - altitude[i - span]);
                if (!double.IsNaN(difference))
                {
                    // A fix that jumps must not decide: beyond 10 m it counts no more.
                    sum += Math.Min(difference * difference, 100);
                    n++;
                }
            }
            if (n < 100)
            {
                return null;
            }
            double mean = sum / n;
            worst = Math.Max(worst, mean);
            if (mean < best)
            {
                (best, bestDelay) = (mean, delay);
            }
        }
        return best < 0.9 * worst && bestDelay is > -0.45 and < 2.45 ? bestDelay : null;
    }

    private static double At(double[] values, double index)
    {
        int i = (int)Math.Floor(index);
        if (i < 0 || i + 1 >= values.Length)
        {
            return double.NaN;
        }
        double weight = index - i;
        return weight < 1e-9 ? values[i] : values[i] + weight * (values[i + 1] - values[i]);
    }

    /// <summary>
    /// Smooth values some steps later, by the cubic through neighbours and their slopes: a straight line between two rows a second
    /// apart would cut the corner of a circle and lose a tenth of its speed.
    /// </summary>
    internal static double[] Shift(double[] values, double by)
    {
        double[] result = new double[values.Length];
        double Value(int i) => values[Math.Clamp(i, 0, values.Length - 1)];
        for (int i = 0; i < values.Length; i++)
        {
            double place = Math.Clamp(i + by, 0, values.Length - 1);
            int at = (int)place;
            double u = place - at, y0 = Value(at), y1 = Value(at + 1);
            double m0 = 0.5 * (y1 - Value(at - 1)), m1 = 0.5 * (Value(at + 2) - y0);
            result[i] = y0 + u * (m0 + u * (3 * (y1 - y0) - 2 * m0 - m1 + u * (m0 + m1 - 2 * (y1 - y0))));
        }
        return result;
    }

    private static double[] Later(double[] values, double by) =>
        [.. values.Select((_, i) => values[(int)Math.Clamp(Math.Round(i + by), 0, values.Length - 1)])];

    private static AirDensity DensityOf(FlightLog log, Range rows, double[] altitude)
    {
        double reference = MedianOf(altitude);
        // A barometer that was set to 0 at the launch tells nothing of the density; the satellite altitude does.
        double above = log.Has(Quantity.GpsAltitude) ? MedianOf(log[Quantity.GpsAltitude][rows]) : double.NaN;
        double pressure = log.Has(Quantity.Pressure) ? MedianOf(log[Quantity.Pressure][rows]) : double.NaN;
        if (!(pressure > 30_000 && pressure < 120_000))
        {
            double height = double.IsNaN(above) || Math.Abs(above - reference) < 100 ? reference : above;
            pressure = StandardAtmosphere.PressurePa(Math.Clamp(double.IsNaN(height) ? 0 : height, -400, 6000));
        }
        double temperature = log.Has(Quantity.Temperature) ? MedianOf(log[Quantity.Temperature][rows]) : double.NaN;
        bool known = temperature is > 230 and < 330;
        double used = known ? temperature : StandardAtmosphere.TemperatureK(StandardAtmosphere.AltitudeM(pressure));
        return new AirDensity(reference, StandardAtmosphere.DensityKgM3(pressure, used), used, known);
    }

    /// <summary>
    /// Pressure altitude assumes the standard atmosphere; in air warmer by a factor the same pressures lie farther apart
    /// by that factor (hydrostatic equation), about the reference height.
    /// </summary>
    private static void ToTrueMetres(double[] altitude, AirDensity density)
    {
        double factor = density.TemperatureK / StandardAtmosphere.TemperatureK(Math.Clamp(density.ReferenceAltitudeM, -400, 6000));
        for (int i = 0; i < altitude.Length; i++)
        {
            altitude[i] = density.ReferenceAltitudeM + factor * (altitude[i] - density.ReferenceAltitudeM);
        }
    }

    private static double[]? LoadFactor(double[]? vertical, double[]? total)
    {
        double[]? source = vertical ?? total;
        if (source is null)
        {
            return null;
        }
        // Whether gravity is in the reading is told by its middle value in flight.
        double middle = MedianOf(source);
        double rest = Math.Abs(middle) > 5 ? Math.CopySign(PhysicalConstants.StandardGravityMps2, middle) : 0;
        double[] result = new double[source.Length];
        for (int i = 0; i < source.Length; i++)
        {
            result[i] = (source[i] - rest) * (rest < 0 ? -1 : 1) / PhysicalConstants.StandardGravityMps2;
        }
        return result;
    }

    private static double[] Integrate(double[] climbMps, double step)
    {
        double[] altitude = new double[climbMps.Length];
        double height = 0;
        for (int i = 0; i < climbMps.Length; i++)
        {
            height += double.IsNaN(climbMps[i]) ? 0 : climbMps[i] * step;
            altitude[i] = height;
        }
        return altitude;
    }

    private static double MedianStep(ReadOnlySpan<double> time)
    {
        double[] steps = new double[Math.Max(time.Length - 1, 1)];
        steps[0] = 1;
        for (int i = 1; i < time.Length; i++)
        {
            steps[i - 1] = time[i] - time[i - 1];
        }
        return MedianOf(steps);
    }

    private static double MedianOf(ReadOnlySpan<double> values)
    {
        List<double> known = new(values.Length);
        foreach (double value in values)
        {
            if (!double.IsNaN(value))
            {
                known.Add(value);
            }
        }
        known.Sort();
        return known.Count == 0 ? double.NaN : known[known.Count / 2];
    }

    private static bool AllMissing(ReadOnlySpan<double> values) => Known(values) == 0;

    private static int Known(ReadOnlySpan<double> values)
    {
        int n = 0;
        foreach (double value in values)
        {
            n += double.IsNaN(value) ? 0 : 1;
        }
        return n;
    }
}
