namespace ThermalTrace.Logs;

/// <summary>What each quantity is measured in, and its name in the contract.</summary>
internal static class Quantities
{
    public static Dimension DimensionOf(Quantity quantity) => quantity switch
    {
        Quantity.Time => Dimension.Time,
        Quantity.Altitude or Quantity.GpsAltitude => Dimension.Length,
        Quantity.Pressure => Dimension.Pressure,
        Quantity.ClimbRate or Quantity.GroundSpeed or Quantity.Airspeed => Dimension.Speed,
        Quantity.Latitude or Quantity.Longitude or Quantity.Position or Quantity.Track => Dimension.Angle,
        Quantity.VerticalAcceleration or Quantity.Acceleration => Dimension.Acceleration,
        Quantity.Temperature => Dimension.Temperature,
        Quantity.Voltage => Dimension.Voltage,
        Quantity.Ballast => Dimension.Mass,
        _ => Dimension.None,
    };

    /// <summary>True where a unit fits the quantity; a motor may be logged in almost anything.</summary>
    public static LogUnit? FindUnit(string text, Quantity quantity) => quantity switch
    {
        Quantity.Motor => Array.Find(UnitWords.All(text), u => u.Dimension is Dimension.Fraction or Dimension.Rotation) ?? (UnitWords.All(text).Length > 0 || text is "A" or "W" ? UnitWords.None : null),
        Quantity.Camber => UnitWords.None,
        Quantity.Date or Quantity.Clock => UnitWords.None,
        _ => UnitWords.Find(text, DimensionOf(quantity)),
    };

    /// <summary>The contract's name: <c>gps_altitude</c>.</summary>
    public static string NameOf(Quantity quantity)
    {
        string name = quantity.ToString();
        return string.Concat(name.Select((c, i) => char.IsUpper(c) ? (i > 0 ? "_" : "") + char.ToLowerInvariant(c) : c.ToString()));
    }

    /// <summary>In words, for a message.</summary>
    public static string WordsFor(Quantity quantity) => NameOf(quantity).Replace('_', ' ').Replace("gps", "GPS", StringComparison.Ordinal);
}
