namespace ThermalTrace.Simulation;

/// <summary>
/// Ways to write one and the same log. The word after <c>--flavour</c> is the name in lower case with hyphens.
/// </summary>
public enum LogFlavour
{
    /// <summary>Comma, decimal point, SI, seconds; CRLF.</summary>
    Comma,
    /// <summary>Semicolon, decimal comma, feet, km/h, ft/min, date and clock in two columns.</summary>
    Semicolon,
    /// <summary>Tab, ISO 8601 stamps, pressure in hPa, knots, both coordinates in one column.</summary>
    Tab,
    /// <summary>Comma, milliseconds since 1970.</summary>
    EpochMilliseconds,
    /// <summary>Comma, seconds since 1970.</summary>
    EpochSeconds,
    /// <summary>Semicolon, degrees and minutes with hemisphere letters.</summary>
    DegreesMinutes,
    /// <summary>Tab, UTF-16 little endian with a byte order mark.</summary>
    Utf16,
    /// <summary>Semicolon, Latin-1 bytes, a units row under the header.</summary>
    Latin1UnitsRow,
    /// <summary>Comma, UTF-8 with a byte order mark, comment and blank lines before the header.</summary>
    Comments,
    /// <summary>Comma, every field quoted; names with units in suffixes.</summary>
    Quoted,
    /// <summary>Comma, lines end with a bare CR.</summary>
    CarriageReturn,
    /// <summary>Comma, date and clock in one column, whole seconds for all rows of a second.</summary>
    WholeSeconds,
    /// <summary>Comma, a clock without a date that passes midnight during the session.</summary>
    PastMidnight,
    /// <summary>IGC flight recorder file, one fix a second, extensions declared in its I record.</summary>
    Igc,
    /// <summary>GPX 1.1 track, one point a second.</summary>
    Gpx,
}
