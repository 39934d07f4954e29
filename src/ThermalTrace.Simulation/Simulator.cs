using System.Globalization;

namespace ThermalTrace.Simulation;

/// <summary>Makes sessions with known truth. Pure: the same options give the same bytes.</summary>
public static class Simulator
{
    private static readonly DateTime DayStartUtc = new(2026, 6, 14, 9, 30, 0, DateTimeKind.Utc);

    /// <summary>Flies a session and writes its files into memory.</summary>
    /// <exception cref="ArgumentException">An option is out of range; the message says which.</exception>
    /// <exception cref="OperationCanceledException"><paramref name="cancel"/> was signalled.</exception>
    public static SimulatedSession Run(SimulationOptions options, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(options);
        AirframePreset preset = AirframePresets.Find(options.Preset);
        IReadOnlyList<double> ballasts = options.BallastsG.Count > 0 ? options.BallastsG : preset.BallastsG;
        Check(options, preset, ballasts);

        Model[] models = Build(options, preset, ballasts);
        Model[] cambered = [.. models.Select(m => new Model(preset, Cambered(m.Drag, options.CamberShift), m.BallastG))];
        double flightTimeS = double.IsNaN(options.FlightTimeS) ? preset.FlightTimeS : options.FlightTimeS;
        MovingAir air = new(options, options.Flights * (flightTimeS + 120));
        Atmosphere atmosphere = new(Site.ElevationM, options.WarmerK);
        List<SimulatedFlight> flights = [];
        double clockS = 0;
        foreach (int choice in Order(options, models.Length))
        {
            cancel.ThrowIfCancellationRequested();
            string name = "flight-" + (flights.Count + 1).ToString(CultureInfo.InvariantCulture);
            RandomStream random = RandomStream.For(options.Seed, name);
            air.Grow(RandomStream.For(options.Seed, name + "/thermals"), clockS, clockS + flightTimeS + 500);
            // Counted for each ballast, so that every ballast gets its share of test flights.
            double earlier = options.TestShare * flights.Count(f => f.Model.BallastG == models[choice].BallastG) + 1e-9;
            bool isTest = Math.Floor(earlier + options.TestShare) > Math.Floor(earlier);
            int number = flights.Count + 1;
            bool changed = options.CamberFrom > 0 && number >= options.CamberFrom && (options.CamberTo == 0 || number <= options.CamberTo);
            SimulatedFlight flight = FlightSimulation.Fly(options, air, atmosphere, (changed ? cambered : models)[choice], isTest, random, clockS,
                flightTimeS * random.Uniform(0.85, 1.1));
            flights.Add(flight);
            clockS = flight.Moments[^1].TimeS;
        }
        return SessionAssembly.Assemble(options, preset, models, atmosphere, flights, DayStartUtc.AddDays(options.Day));
    }

    internal static Model[] Build(SimulationOptions options, AirframePreset preset, IReadOnlyList<double> ballasts)
    {
        RandomStream random = RandomStream.For(options.AirframeSeed ?? options.Seed, "airframe");
        double Spread() => Math.Clamp(1 + options.AirframeSpread * random.Normal(), 0.6, 1.6);
        DragCurve drag = preset.Drag with
        {
            ProfileDrag = preset.Drag.ProfileDrag * Spread(),
            BodyDrag = preset.Drag.BodyDrag * Spread(),
            ReynoldsExponent = preset.Drag.ReynoldsExponent * Spread(),
            BucketHalfWidth = preset.Drag.BucketHalfWidth * Spread(),
            BucketRise = preset.Drag.BucketRise * Spread(),
            BubbleDrag = preset.Drag.BubbleDrag * Spread(),
            SpanEfficiency = Math.Min(0.97, preset.Drag.SpanEfficiency * (1 - 0.3 * Math.Abs(Spread() - 1))),
            MaxLift = preset.Drag.MaxLift * (1 + 0.4 * (Spread() - 1)),
        };
        drag = drag with { ProfileDrag = drag.ProfileDrag * (1 + options.Wear), BodyDrag = drag.BodyDrag * (1 + options.Wear) };
        return
        [
            .. ballasts.Select(ballast => new Model(preset, drag with
            {
                // Through a season a ballast departs alike, whatever others are carried that day.
                ProfileDrag = drag.ProfileDrag * (1 + options.BallastSpread * (options.AirframeSeed is { } own
                    ? RandomStream.For(own, "ballast-" + ballast.ToString(CultureInfo.InvariantCulture)) : random).Normal()),
            }, ballast)),
        ];
    }

    /// <summary>A flap let down a few degrees: the bucket moves to higher lift, and the hinge line costs a little.</summary>
    private static DragCurve Cambered(DragCurve drag, double shift) => drag with
    {
        BucketMiddle = drag.BucketMiddle + shift,
        ProfileDrag = drag.ProfileDrag * (1 + 0.2 * Math.Abs(shift)),
        MaxLift = drag.MaxLift + 0.4 * shift,
    };

    private static IEnumerable<int> Order(SimulationOptions options, int ballasts)
    {
        for (int i = 0; i < options.Flights; i++)
        {
            int place = i % (2 * ballasts);
            yield return options.Order switch
            {
                BallastOrder.Blocks => (int)((long)i * ballasts / options.Flights),
                BallastOrder.ThereAndBack => place < ballasts ? place : 2 * ballasts - 1 - place,
                _ => i % ballasts,
            };
        }
    }

    private static void Check(SimulationOptions options, AirframePreset preset, IReadOnlyList<double> ballasts)
    {
        Require(options.Flights is >= 1 and <= 200, "the number of flights must lie between 1 and 200");
        Require(options.RateHz is >= 0.5 and <= 20, "the rate must lie between 0.5 and 20 rows per second");
        Require(options.WindMps is >= 0 and <= 20, "the wind must lie between 0 and 20 m/s");
        Require(options.WindMps + options.WindChangeMps is >= 0 and <= 20, "the wind at the end of the session must lie between 0 and 20 m/s");
        Require(options.Edr is >= 0 and <= 0.8, "the turbulence must lie between 0 and 0.8 m^(2/3)/s");
        Require(options.EddySizeM is >= 20 and <= 2000, "the eddies' size must lie between 20 and 2000 m");
        Require(options.LiftMps is >= 0 and <= 8, "the lift must lie between 0 and 8 m/s");
        Require(options.ThermalRadiusM is >= 5 and <= 200, "the thermal radius must lie between 5 and 200 m");
        Require(options.WavesMps is >= 0 and <= 2, "the waves must lie between 0 and 2 m/s");
        Require(options.WarmerK is >= -40 and <= 40, "the air must be at most 40 K warmer or colder than standard");
        Require(options.ShearExponent is >= 0 and <= 0.6, "the shear exponent must lie between 0 and 0.6");
        Require(options.TestShare is >= 0 and <= 1, "the share of test flights must lie between 0 and 1");
        Require(options.AirframeSpread is >= 0 and <= 0.3, "the airframe's spread must lie between 0 and 0.3");
        Require(options.Day is >= 0 and <= 3650, "the day must lie between 0 and 3650");
        Require(options.Wear is >= -0.3 and <= 1, "the wear must lie between -0.3 and 1");
        Require(options.BallastSpread is >= 0 and <= 0.1, "a ballast's spread must lie between 0 and 0.1");
        Require(options.SensorNoise is >= 0 and <= 10, "the sensor noise must lie between 0 and 10");
        Require(options.BaroDriftMPerH is >= -500 and <= 500, "the barometer's drift must lie between -500 and 500 m/h");
        Require(options.CamberShift is >= -0.5 and <= 0.5, "the camber's shift must lie between -0.5 and 0.5");
        Require(options.CamberFrom >= 0 && options.CamberTo >= 0, "the flights with another camber are counted from 1");
        Require(double.IsNaN(options.FlightTimeS) || options.FlightTimeS is >= 30 and <= 7200, "the flight time must lie between 30 and 7200 s");
        Require(double.IsNaN(options.GpsDelayS) || options.GpsDelayS is >= 0 and <= 5, "the delay of the satellite fix must lie between 0 and 5 s");
        Require(double.IsNaN(options.VarioLagS) || options.VarioLagS is > 0 and <= 10, "the lag of the vario must lie between 0 and 10 s");
        Require(ballasts.Distinct().Count() == ballasts.Count, "each ballast may be named once");
        double room = Math.Round(1000 * (preset.MaxMassKg - preset.MassKg), 3);
        Require(ballasts.All(b => b >= 0 && b <= room), $"a ballast for {preset.Key} must lie between 0 and {room.ToString(CultureInfo.InvariantCulture)} g");
    }

    private static void Require(bool holds, string rule)
    {
        if (!holds)
        {
            throw new ArgumentException(rule);
        }
    }
}
