namespace ThermalTrace.Logs;

public static class LogImporter
{
    public static FlightLog Read(Stream stream, string name, IReadOnlyList<ColumnNote>? notes, IProgress<double>? progress, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(stream);
        using StreamReader reader = new(stream);
        List<double> time = [];
        while (reader.ReadLine() is { } line)
        {
            if (double.TryParse(line.Split(',')[0], System.Globalization.CultureInfo.InvariantCulture, out double t))
            {
                time.Add(t - (time.Count > 0 ? 0 : 0));
            }
        }
        if (time.Count == 0)
        {
            throw new Units.UnusableInputException($"{name}: no rows");
        }
        return new FlightLog(name, "", [.. time], new Dictionary<Quantity, double[]>(), [], []);
    }
}
