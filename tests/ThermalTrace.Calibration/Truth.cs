using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace ThermalTrace.Calibration;

/// <summary>The parts of a truth document that scores need; keys as in the contract.</summary>
public sealed record Truth(
    [property: JsonPropertyName("polars")] IReadOnlyDictionary<string, double[][]> Polars,
    [property: JsonPropertyName("flown")] IReadOnlyDictionary<string, double[]> Flown,
    [property: JsonPropertyName("flights")] IReadOnlyList<TruthFlight> Flights,
    [property: JsonPropertyName("session")] TruthSession? Session)
{
    /// <summary>Reads a truth document.</summary>
    public static Truth Read(string json) => JsonSerializer.Deserialize<Truth>(json) ?? throw new JsonException("the truth document is empty");

    /// <summary>A ballast's key as a mass, g.</summary>
    public static double Grams(string key) => double.Parse(key, CultureInfo.InvariantCulture);

    /// <summary>True sink of a ballast at an airspeed, m/s; NaN outside the table.</summary>
    public double SinkMps(string ballast, double airspeedMps)
    {
        double[][] table = Polars[ballast];
        for (int i = 1; i < table.Length; i++)
        {
            if (airspeedMps >= table[i - 1][0] && airspeedMps <= table[i][0])
            {
                double weight = (airspeedMps - table[i - 1][0]) / (table[i][0] - table[i - 1][0]);
                return table[i - 1][1] + weight * (table[i][1] - table[i - 1][1]);
            }
        }
        return double.NaN;
    }
}

/// <summary>A flight's truth.</summary>
public sealed record TruthFlight(
    [property: JsonPropertyName("log")] string Log,
    [property: JsonPropertyName("wind_east_mps")] double WindEastMps,
    [property: JsonPropertyName("wind_north_mps")] double WindNorthMps,
    [property: JsonPropertyName("edr")] double Edr,
    [property: JsonPropertyName("launch_height_m")] double LaunchHeightM,
    [property: JsonPropertyName("segments")] IReadOnlyList<TruthSegment> Segments);

/// <summary>A segment's truth.</summary>
public sealed record TruthSegment(
    [property: JsonPropertyName("kind")] string Kind,
    [property: JsonPropertyName("start_s")] double StartS,
    [property: JsonPropertyName("end_s")] double EndS);

/// <summary>The session's conditions and what its options were truly worth.</summary>
public sealed record TruthSession(
    [property: JsonPropertyName("wind_mps")] double WindMps,
    [property: JsonPropertyName("lift_mps")] double LiftMps,
    [property: JsonPropertyName("thermal_radius_m")] double ThermalRadiusM,
    [property: JsonPropertyName("edr")] double Edr,
    [property: JsonPropertyName("options")] IReadOnlyList<TruthOption> Options)
{
    /// <summary>Round-trip climb given away by the option nearest to a ballast, m/s.</summary>
    public double LossMps(double ballastG) =>
        Options.Max(o => o.RoundTripClimbMps!.Value) - Options.MinBy(o => Math.Abs(o.BallastG - ballastG))!.RoundTripClimbMps!.Value;
}

/// <summary>An option's truth; R is null where it cannot be flown.</summary>
public sealed record TruthOption(
    [property: JsonPropertyName("ballast_g")] double BallastG,
    [property: JsonPropertyName("round_trip_climb_mps")] double? RoundTripClimbMps);
