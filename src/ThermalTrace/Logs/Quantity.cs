namespace ThermalTrace.Logs;

/// <summary>What a column of a log measures: the names of the contract's <c>columns.csv</c>, in its order.</summary>
public enum Quantity
{
    /// <summary>Seconds, or a full time stamp.</summary>
    Time,
    /// <summary>Calendar date, beside a clock.</summary>
    Date,
    /// <summary>Time of day.</summary>
    Clock,
    /// <summary>Barometric altitude, m.</summary>
    Altitude,
    /// <summary>Static pressure, Pa.</summary>
    Pressure,
    /// <summary>Altitude from satellite navigation, m.</summary>
    GpsAltitude,
    /// <summary>Variometer reading, m/s, up is positive.</summary>
    ClimbRate,
    /// <summary>Degrees, north is positive.</summary>
    Latitude,
    /// <summary>Degrees, east is positive.</summary>
    Longitude,
    /// <summary>Both coordinates in one column; becomes <see cref="Latitude"/> and <see cref="Longitude"/>.</summary>
    Position,
    /// <summary>m/s.</summary>
    GroundSpeed,
    /// <summary>Direction of motion over the ground, degrees clockwise from true north.</summary>
    Track,
    /// <summary>Indicated airspeed, m/s.</summary>
    Airspeed,
    /// <summary>m/s², gravity left out (0 at rest) as far as the importer can tell.</summary>
    VerticalAcceleration,
    /// <summary>Magnitude of specific force, m/s² (9.8 at rest).</summary>
    Acceleration,
    /// <summary>Air temperature, K.</summary>
    Temperature,
    /// <summary>V.</summary>
    Voltage,
    /// <summary>Motor setting or speed; 0 is off.</summary>
    Motor,
    /// <summary>Wing setting; the column holds indices into <see cref="FlightLog.CamberLabels"/>.</summary>
    Camber,
    /// <summary>Ballast carried, g.</summary>
    Ballast,
    /// <summary>Not to be read.</summary>
    Ignore,
}
