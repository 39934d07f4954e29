namespace ThermalTrace.Advice;

/// <summary>A reading of the wind near the ground beside what the logs of the same flights showed at flying height.</summary>
/// <param name="FieldName">Where (untrusted text).</param>
/// <param name="ReadMps">As read, m/s.</param>
/// <param name="HeightM">At which height over ground, m.</param>
/// <param name="MeasuredMps">At flying height, m/s.</param>
public sealed record FieldReading(string FieldName, double ReadMps, double HeightM, double MeasuredMps);

/// <summary>
/// From a reading near the ground to flying height: the logarithmic law, then what readings at this field have shown beside it.
/// docs/models/advice.md eq. 4.
/// </summary>
/// <param name="LogRatio">Expected logarithm of the wind at flying height over the reading.</param>
/// <param name="Spread">Its standard deviation.</param>
/// <param name="Readings">Of this field behind it.</param>
internal sealed record FieldWind(double LogRatio, double Spread, int Readings)
{
    // Of a single reading against a flight's mean: gusts, and where one stood; worth three readings beside what is seen. Common practice, no source.
    private const double ReadingScatter = 0.25, ScatterWorth = 3;
    private const double LeastMps = 0.5; // a cup that hardly turns tells nothing

    /// <summary>Combines both.</summary>
    /// <param name="readAtM">Height of the reading to come, m.</param>
    /// <param name="ground">What the wind comes across.</param>
    /// <param name="field">The field's name, or null.</param>
    /// <param name="readings">Of any fields.</param>
    public static FieldWind From(double readAtM, Ground ground, string? field, IReadOnlyList<FieldReading> readings)
    {
        (double prior, double spread) = SurfaceWind.ToFlyingHeight(readAtM, ground);
        // How the field departs from the law is one number for every height that is read at.
        double[] departures = field is null ? [] :
        [
            .. readings.Where(r => string.Equals(r.FieldName.Trim(), field.Trim(), StringComparison.OrdinalIgnoreCase) && r.ReadMps >= LeastMps && r.MeasuredMps >= LeastMps)
                .Select(r => Math.Log(r.MeasuredMps / r.ReadMps) - SurfaceWind.ToFlyingHeight(r.HeightM, ground).LogRatio),
        ];
        if (departures.Length == 0)
        {
            return new FieldWind(prior, spread, 0);
        }
        double mean = departures.Average();
        double variance = (departures.Sum(d => (d - mean) * (d - mean)) + ScatterWorth * ReadingScatter * ReadingScatter) / (departures.Length - 1 + ScatterWorth);
        double known = departures.Length / variance, precision = 1 / (spread * spread) + known;
        return new FieldWind(prior + mean * known / precision, Math.Sqrt(1 / precision), departures.Length);
    }
}
