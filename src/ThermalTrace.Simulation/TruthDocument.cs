using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;

namespace ThermalTrace.Simulation;

/// <summary>The truth beside a session: the shape that the scoring script reads.</summary>
internal static class TruthDocument
{
    public static string Write(AirframePreset preset, SimulationOptions options, IReadOnlyList<Model> models, IReadOnlyList<LoggedFlight> flights, string logEnding)
    {
        using MemoryStream stream = new();
        JsonWriterOptions layout = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
        using (Utf8JsonWriter json = new(stream, layout))
        {
            json.WriteStartObject();
            json.WriteString("airframe", preset.Name);
            WritePolars(json, models);
            WriteFlown(json, models, flights);
            json.WriteStartArray("flights");
            foreach (LoggedFlight flight in flights)
            {
                WriteFlight(json, flight, logEnding);
            }
            json.WriteEndArray();
            WriteSession(json, options, models, flights);
            json.WriteEndObject();
        }
        return Encoding.UTF8.GetString(stream.ToArray()) + "\n";
    }

    private static void WritePolars(Utf8JsonWriter json, IReadOnlyList<Model> models)
    {
        json.WriteStartObject("polars");
        foreach (Model model in models)
        {
            json.WriteStartArray(Key(model));
            foreach ((double airspeed, double sink) in model.Polar())
            {
                json.WriteStartArray();
                Value(json, airspeed);
                Value(json, sink);
                json.WriteEndArray();
            }
            json.WriteEndArray();
        }
        json.WriteEndObject();
    }

    private static void WriteFlown(Utf8JsonWriter json, IReadOnlyList<Model> models, IReadOnlyList<LoggedFlight> flights)
    {
        json.WriteStartObject("flown");
        foreach (Model model in models)
        {
            double[] speeds =
            [
                .. flights.Where(f => f.Flight.Model.BallastG == model.BallastG).SelectMany(f => f.Flight.Moments)
                    .Where(m => m.Phase == Phase.Glide).Select(m => m.AirspeedMps * Math.Sqrt(m.DensityKgM3 / 1.225)).Order(),
            ];
            if (speeds.Length > 0)
            {
                json.WriteStartArray(Key(model));
                Value(json, speeds[(int)(0.05 * (speeds.Length - 1))]);
                Value(json, speeds[(int)(0.95 * (speeds.Length - 1))]);
                json.WriteEndArray();
            }
        }
        json.WriteEndObject();
    }

    private static void WriteFlight(Utf8JsonWriter json, LoggedFlight logged, string logEnding)
    {
        IReadOnlyList<Moment> moments = logged.Flight.Moments;
        Conditions air = Conditions.Of(logged.Flight);
        json.WriteStartObject();
        json.WriteString("log", logged.Stem + logEnding);
        json.WriteNumber("number", logged.Number);
        json.WriteNumber("ballast_g", logged.Flight.Model.BallastG);
        Value(json, "wind_east_mps", air.WindEastMps);
        Value(json, "wind_north_mps", air.WindNorthMps);
        Value(json, "edr", air.Edr);
        Value(json, "launch_height_m", logged.Flight.LaunchHeightM);
        json.WriteStartArray("segments");
        for (int from = 0; from < moments.Count;)
        {
            int to = from;
            while (to < moments.Count && moments[to].Phase == moments[from].Phase)
            {
                to++;
            }
            json.WriteStartObject();
            json.WriteString("kind", Word(moments[from].Phase));
            Value(json, "start_s", moments[from].TimeS - logged.LogOriginS);
            Value(json, "end_s", moments[Math.Min(to, moments.Count - 1)].TimeS - logged.LogOriginS);
            json.WriteEndObject();
            from = to;
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static void WriteSession(Utf8JsonWriter json, SimulationOptions options, IReadOnlyList<Model> models, IReadOnlyList<LoggedFlight> flights)
    {
        Conditions[] each = [.. flights.Select(f => Conditions.Of(f.Flight))];
        double wind = each.Average(c => Math.Sqrt(c.WindEastMps * c.WindEastMps + c.WindNorthMps * c.WindNorthMps));
        double workedS = each.Sum(c => c.WorkedS);
        double lift = workedS > 0 ? each.Sum(c => c.LiftSum) / workedS : 0;
        double radius = workedS > 0 ? each.Sum(c => c.RadiusSum) / workedS : options.ThermalRadiusM;
        double[] edrs = [.. each.Select(c => c.Edr).Order()];
        double edr = (edrs[(edrs.Length - 1) / 2] + edrs[edrs.Length / 2]) / 2;
        json.WriteStartObject("session");
        Value(json, "wind_mps", wind);
        Value(json, "lift_mps", lift);
        Value(json, "thermal_radius_m", radius);
        Value(json, "edr", edr);
        json.WriteStartArray("options");
        foreach (Model model in models)
        {
            double climb = Circling.Best(model, lift, radius, edr).ClimbMps;
            (double roundTrip, double airspeed) = RoundTrip.Of(model, climb, wind);
            json.WriteStartObject();
            json.WriteNumber("ballast_g", model.BallastG);
            Value(json, "climb_mps", climb);
            Value(json, "return_airspeed_mps", airspeed);
            Value(json, "round_trip_climb_mps", roundTrip);
            json.WriteEndObject();
        }
        json.WriteEndArray();
        json.WriteEndObject();
    }

    private static string Key(Model model) => model.BallastG.ToString(CultureInfo.InvariantCulture);

    private static string Word(Phase phase) => phase switch
    {
        Phase.Launch => "launch",
        Phase.Glide => "glide",
        Phase.Climb => "climb",
        Phase.Landing => "landing",
        _ => "ground",
    };

    private static void Value(Utf8JsonWriter json, double value) => json.WriteNumberValue(Math.Round(value, 5));

    private static void Value(Utf8JsonWriter json, string name, double value) => json.WriteNumber(name, Math.Round(value, 5));

    /// <summary>Means over a flight.</summary>
    private readonly record struct Conditions(double WindEastMps, double WindNorthMps, double Edr, double WorkedS, double LiftSum, double RadiusSum)
    {
        public static Conditions Of(SimulatedFlight flight)
        {
            double east = 0, north = 0, edr = 0, lift = 0, radius = 0;
            int airborne = 0, worked = 0;
            foreach (Moment m in flight.Moments)
            {
                if (m.Phase == Phase.Ground)
                {
                    continue;
                }
                airborne++;
                (east, north, edr) = (east + m.Air.EastMps, north + m.Air.NorthMps, edr + m.Air.Edr);
                if (m.CoreLiftMps > 0.05)
                {
                    worked++;
                    (lift, radius) = (lift + m.CoreLiftMps, radius + m.CoreRadiusM);
                }
            }
            return new Conditions(east / airborne, north / airborne, edr / airborne, worked * Glider.StepS,
                lift * Glider.StepS, radius * Glider.StepS);
        }
    }
}
