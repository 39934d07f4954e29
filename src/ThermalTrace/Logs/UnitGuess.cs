namespace ThermalTrace.Logs;

/// <summary>The unit of a column that names none: the SI one, unless the values cannot be that.</summary>
internal static class UnitGuess
{
    public static LogUnit For(Quantity quantity, string header, Preamble table, int index, ProblemList problems)
    {
        LogUnit usual = UnitWords.Default(Quantities.DimensionOf(quantity));
        if (usual.Dimension == Dimension.None || quantity is Quantity.Position)
        {
            return usual;
        }
        List<double> values = [];
        foreach (byte[][] row in table.Sample)
        {
            if (index < row.Length && NumberText.TryParse(row[index], out double v, out _))
            {
                values.Add(v);
            }
        }
        if (values.Count == 0)
        {
            return usual;
        }
        values.Sort();
        double median = values[values.Count / 2];
        double largest = Math.Max(Math.Abs(values[0]), Math.Abs(values[^1]));
        LogUnit unit = quantity switch
        {
            Quantity.Pressure => median switch
            {
                > 20_000 and < 120_000 => UnitWords.Pascal,
                > 200 and < 1200 => UnitWords.Hectopascal,
                > 20 and < 32 => UnitWords.Find("inHg", Dimension.Pressure)!,
                > 32 and < 120 => UnitWords.Kilopascal,
                _ => usual,
            },
            Quantity.Latitude or Quantity.Longitude when largest > 1_000_000 => UnitWords.DegreeE7,
            Quantity.Temperature => median switch
            {
                > 200 and < 340 => UnitWords.Kelvin,
                _ => UnitWords.Celsius,
            },
            Quantity.Acceleration => median is > 0.5 and < 2 ? UnitWords.StandardGravity : usual,
            Quantity.VerticalAcceleration => Math.Abs(median) is > 0.8 and < 1.2 ? UnitWords.StandardGravity : usual,
            Quantity.Voltage => median > 1000 ? UnitWords.Find("mV", Dimension.Voltage)! : usual,
            _ => usual,
        };
        // Degrees need no saying.
        if (unit != UnitWords.Degree)
        {
            problems.Add(table.HeaderLine, $"column \"{ColumnPlan.ProblemText(header)}\" names no unit; taken as {unit.Symbol}");
        }
        return unit;
    }
}
