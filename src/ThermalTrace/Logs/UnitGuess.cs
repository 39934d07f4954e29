namespace ThermalTrace.Logs;

/// <summary>The unit of a column that names none: the SI one, unless the values cannot be that.</summary>
internal static class UnitGuess
{
    /// <param name="said">The unit that header, units row or note give; null for none.</param>
    public static LogUnit For(Quantity quantity, LogUnit? said, string header, Preamble table, int index, ProblemList problems)
    {
        if (said is not null)
        {
            // "deg" over whole numbers of ten-millionths is common; no coordinate is that large.
            if (said == UnitWords.Degree && quantity is Quantity.Latitude or Quantity.Longitude && Values(table, index) is [.., > 1_000_000] or [< -1_000_000, ..])
            {
                problems.Add(table.HeaderLine, $"column \"{ColumnPlan.ProblemText(header)}\" is too large for degrees; taken as {UnitWords.DegreeE7.Symbol}");
                return UnitWords.DegreeE7;
            }
            return said;
        }
        LogUnit usual = UnitWords.Default(Quantities.DimensionOf(quantity));
        if (usual.Dimension == Dimension.None || quantity is Quantity.Position)
        {
            return usual;
        }
        List<double> values = Values(table, index);
        if (values.Count == 0)
        {
            return usual;
        }
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

    /// <summary>True for values that change little about a pressure at which models fly, in hPa or Pa.</summary>
    public static bool LooksLikePressure(Preamble table, int index)
    {
        List<double> values = Values(table, index);
        return values.Count > 0 && (values[0] > 850 && values[^1] < 1090 && values[^1] - values[0] < 60 || values[0] > 30_000);
    }

    /// <summary>The sample's numbers in rising order.</summary>
    private static List<double> Values(Preamble table, int index)
    {
        List<double> values = [];
        foreach (byte[][] row in table.Sample)
        {
            if (index < row.Length && NumberText.TryParse(row[index], out double v, out _))
            {
                values.Add(v);
            }
        }
        values.Sort();
        return values;
    }
}
