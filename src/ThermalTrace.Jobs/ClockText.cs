using System.Globalization;

namespace ThermalTrace.Jobs;

/// <summary>Times as people read them.</summary>
internal static class ClockText
{
    /// <summary>A time of day, such as 10:05:12.</summary>
    public static string Of(double secondsAfterMidnight) =>
        TimeSpan.FromSeconds(Math.Floor(secondsAfterMidnight % 86_400)).ToString(@"hh\:mm\:ss", CultureInfo.InvariantCulture);

    /// <summary>A length of time, such as 48 s, 3:20 min or 1:05:00 h.</summary>
    public static string Length(double seconds)
    {
        TimeSpan length = TimeSpan.FromSeconds(Math.Round(seconds));
        return length.TotalMinutes < 1 ? length.ToString("%s' s'", CultureInfo.InvariantCulture)
            : length.TotalHours < 1 ? length.ToString(@"m\:ss' min'", CultureInfo.InvariantCulture)
            : string.Create(CultureInfo.InvariantCulture, $"{(int)length.TotalHours}:{length.Minutes:00}:{length.Seconds:00} h");
    }
}
