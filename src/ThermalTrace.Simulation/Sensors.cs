using ThermalTrace.Units;

namespace ThermalTrace.Simulation;

/// <summary>What the session's logger is like: drawn once, the same in all its logs.</summary>
internal sealed record Instruments
{
    public required double GpsDelayS { get; init; }
    public required double VarioLagS { get; init; }
    public required double PitotGain { get; init; }
    public required double BarometerLagS { get; init; }

    /// <summary>Share of the dynamic pressure that leaks into the static port.</summary>
    public required double StaticShare { get; init; }

    public static Instruments Draw(SimulationOptions options)
    {
        RandomStream random = RandomStream.For(options.Seed, "instruments");
        double delay = random.Uniform(0.2, 1.2);
        double lag = random.Uniform(0.2, 0.8);
        double gain = 0.03 * random.Normal();
        return new Instruments
        {
            GpsDelayS = double.IsNaN(options.GpsDelayS) ? delay : options.GpsDelayS,
            VarioLagS = double.IsNaN(options.VarioLagS) ? lag : options.VarioLagS,
            PitotGain = 1 + (double.IsNaN(options.PitotGainError) ? gain : options.PitotGainError),
            BarometerLagS = random.Uniform(0.05, 0.2),
            StaticShare = 0.012 * random.Normal(),
        };
    }
}

/// <summary>Turns the truth of one log into what its sensors wrote.</summary>
internal sealed class Sensors
{
    private const double GroundSpeedQuantumMps = 0.01;

    private readonly SimulationOptions _options;
    private readonly Instruments _instruments;
    private readonly Atmosphere _atmosphere;
    private readonly string _stem;

    private Sensors(SimulationOptions options, Instruments instruments, Atmosphere atmosphere, string stem)
    {
        (_options, _instruments, _atmosphere, _stem) = (options, instruments, atmosphere, stem);
    }

    /// <summary>Logs one stretch after another; between them the logger was off.</summary>
    /// <param name="options">What is logged, and how badly.</param>
    /// <param name="instruments">The logger.</param>
    /// <param name="atmosphere">Of the day.</param>
    /// <param name="stem">Name of the log.</param>
    /// <param name="startUtc">The instant of session time 0.</param>
    /// <param name="stretches">Moments, each stretch without a gap.</param>
    public static LogChannels Log(SimulationOptions options, Instruments instruments, Atmosphere atmosphere, string stem,
        DateTime startUtc, IReadOnlyList<IReadOnlyList<Moment>> stretches) =>
        new Sensors(options, instruments, atmosphere, stem).Run(startUtc, stretches);

    private RandomStream Stream(string sensor) => RandomStream.For(_options.Seed, _stem + "/" + sensor);

    private LogChannels Run(DateTime startUtc, IReadOnlyList<IReadOnlyList<Moment>> stretches)
    {
        double originS = stretches[0][0].TimeS;
        int every = Math.Max(1, (int)Math.Round(1 / (_options.RateHz * Glider.StepS)));
        List<(int Stretch, int Index)> rows = [];
        for (int s = 0; s < stretches.Count; s++)
        {
            for (int i = 0; i < stretches[s].Count; i += every)
            {
                rows.Add((s, i));
            }
        }
        RandomStream clock = Stream("clock");
        double[] times = [.. rows.Select((r, n) => Math.Round(
            stretches[r.Stretch][r.Index].TimeS - originS + (n == 0 ? 0 : clock.Uniform(-0.01, 0.01)), 2))];
        double[] pressure = Barometer(stretches, rows, out double[] climb);
        LogChannels channels = new() { Stem = _stem, StartUtc = startUtc.AddSeconds(Math.Round(originS, 2)), TimeS = times, PressurePa = pressure };
        if (_options.Vario)
        {
            channels = channels with { ClimbRateMps = climb };
        }
        if (_options.Gps)
        {
            channels = Gps(channels, stretches, rows);
        }
        if (_options.Pitot)
        {
            RandomStream noise = Stream("pitot");
            double deviation = 0.12 * _options.SensorNoise;
            channels = channels with
            {
                AirspeedMps = Each(rows, stretches, m =>
                {
                    double indicated = m.AirspeedMps * Math.Sqrt(m.DensityKgM3 / PhysicalConstants.SeaLevelDensityKgM3) * _instruments.PitotGain;
                    double pressureLike = indicated * indicated + 2 * deviation * Math.Max(indicated, 2) * noise.Normal();
                    return Math.Round(Math.Sqrt(Math.Max(0, pressureLike)), 2);
                }),
            };
        }
        if (_options.Accelerometer)
        {
            RandomStream noise = Stream("accelerometer");
            channels = channels with
            {
                // Chips of this kind end at 16 g.
                AccelerationMps2 = Each(rows, stretches, m => Math.Round(Math.Min(157, Math.Abs(
                    PhysicalConstants.StandardGravityMps2 * m.LoadFactor + 0.25 * _options.SensorNoise * noise.Normal())), 2)),
            };
        }
        if (_options.Temperature)
        {
            RandomStream noise = Stream("temperature");
            channels = channels with
            {
                TemperatureK = Each(rows, stretches, m => Math.Round(_atmosphere.TemperatureK(m.HeightM) + 0.6 + 0.1 * noise.Normal(), 2)),
            };
        }
        if (_options.Motor)
        {
            channels = channels with { Motor = Each(rows, stretches, m => m.Motor) };
        }
        return channels;
    }

    private static double[] Each(List<(int Stretch, int Index)> rows, IReadOnlyList<IReadOnlyList<Moment>> stretches, Func<Moment, double> read) =>
        [.. rows.Select(r => read(stretches[r.Stretch][r.Index]))];

    /// <summary>Static pressure with lag, noise, drift and the port's error; the vario from the same port with its own lag.</summary>
    private double[] Barometer(IReadOnlyList<IReadOnlyList<Moment>> stretches, List<(int Stretch, int Index)> rows, out double[] climb)
    {
        RandomStream noise = Stream("barometer");
        RandomStream varioNoise = Stream("vario");
        WanderingValue drift = new(Stream("drift"), 0.5, 900, Glider.StepS);
        double[] pressure = new double[rows.Count];
        climb = new double[rows.Count];
        double keepBarometer = Math.Exp(-Glider.StepS / _instruments.BarometerLagS);
        double keepVario = Math.Exp(-Glider.StepS / _instruments.VarioLagS);
        int row = 0;
        for (int s = 0; s < stretches.Count; s++)
        {
            double lagged = double.NaN, before = double.NaN, rate = 0;
            for (int i = 0; i < stretches[s].Count; i++)
            {
                Moment m = stretches[s][i];
                double port = m.HeightM + drift.Advance() + _options.BaroDriftMPerH / 3600 * (m.TimeS - stretches[0][0].TimeS) - _instruments.StaticShare * m.AirspeedMps * m.AirspeedMps / (2 * PhysicalConstants.StandardGravityMps2);
                lagged = double.IsNaN(lagged) ? port : port + (lagged - port) * keepBarometer;
                double slope = double.IsNaN(before) ? 0 : (lagged - before) / Glider.StepS;
                before = lagged;
                rate = slope + (rate - slope) * keepVario;
                if (row < rows.Count && rows[row] == (s, i))
                {
                    double measured = _atmosphere.PressurePa(lagged + 0.1 * _options.SensorNoise * noise.Normal());
                    pressure[row] = Math.Round(measured, 1);
                    climb[row] = Math.Round(rate + 0.05 * _options.SensorNoise * varioNoise.Normal(), 2);
                    row++;
                }
            }
        }
        return pressure;
    }

    private LogChannels Gps(LogChannels channels, IReadOnlyList<IReadOnlyList<Moment>> stretches, List<(int Stretch, int Index)> rows)
    {
        RandomStream noise = Stream("gps");
        double poor = _options.SensorNoise;
        double rowS = 1 / _options.RateHz;
        WanderingValue east = new(noise, 1.2 * poor, 50, rowS);
        WanderingValue north = new(noise, 1.2 * poor, 50, rowS);
        WanderingValue up = new(noise, 2.5 * poor, 70, rowS);
        WanderingValue speedEast = new(noise, 0.06 * poor, 4, rowS);
        WanderingValue speedNorth = new(noise, 0.06 * poor, 4, rowS);
        int n = rows.Count;
        double[] latitude = new double[n], longitude = new double[n], altitude = new double[n], speed = new double[n], track = new double[n];
        for (int row = 0; row < n; row++)
        {
            (int s, int i) = rows[row];
            double place = Math.Max(0, i - _instruments.GpsDelayS / Glider.StepS);
            int whole = Math.Min((int)place, stretches[s].Count - 1);
            Moment a = stretches[s][whole];
            Moment b = stretches[s][Math.Min(whole + 1, stretches[s].Count - 1)];
            double part = place - whole;
            double eastM = a.EastM + (b.EastM - a.EastM) * part + east.Advance() + 0.1 * poor * noise.Normal();
            double northM = a.NorthM + (b.NorthM - a.NorthM) * part + north.Advance() + 0.1 * poor * noise.Normal();
            double heightM = a.HeightM + (b.HeightM - a.HeightM) * part + up.Advance() + 0.2 * poor * noise.Normal();
            double vEast = a.GroundEastMps + (b.GroundEastMps - a.GroundEastMps) * part + speedEast.Advance() + 0.07 * poor * noise.Normal();
            double vNorth = a.GroundNorthMps + (b.GroundNorthMps - a.GroundNorthMps) * part + speedNorth.Advance() + 0.07 * poor * noise.Normal();
            latitude[row] = Math.Round(Site.Latitude(northM), 7);
            longitude[row] = Math.Round(Site.Longitude(eastM), 7);
            altitude[row] = Math.Round(Site.ElevationM + Site.GeoidStepM + heightM, 1);
            speed[row] = Math.Round(Math.Sqrt(vEast * vEast + vNorth * vNorth) / GroundSpeedQuantumMps) * GroundSpeedQuantumMps;
            track[row] = Math.Round(Math.Atan2(vEast, vNorth) * 180 / Math.PI + 360, 1) % 360;
        }
        channels = channels with { LatitudeDeg = latitude, LongitudeDeg = longitude, GpsAltitudeM = altitude };
        return _options.GroundSpeed ? channels with { GroundSpeedMps = speed, TrackDeg = track } : channels;
    }
}
