using System.Globalization;
using System.Text.RegularExpressions;

namespace ThermalTrace.Sessions;

/// <summary>The <c>flight</c> column of flights.csv: empty, <c>3</c>, <c>2-4</c> or a time of day range <c>10:05-10:20</c>.</summary>
internal static partial class FlightField
{
    private const string Expected = "expected nothing for all flights of the log, a number such as 3, a range such as 2-4, "
        + "or a time of day range such as 10:05-10:20";
    private const double DayS = 86_400;

    /// <summary>Reads the field.</summary>
    /// <returns>False with a complaint where it is none of these.</returns>
    public static bool TryParse(string text, out (int First, int Last)? numbers, out (double FromS, double ToS)? clockS, out string complaint)
    {
        numbers = null;
        clockS = null;
        complaint = "";
        if (text.Length == 0)
        {
            return true;
        }
        if (Numbers().Match(text) is { Success: true } match)
        {
            int first = int.Parse(match.Groups[1].ValueSpan, CultureInfo.InvariantCulture);
            int last = match.Groups[2].Success ? int.Parse(match.Groups[2].ValueSpan, CultureInfo.InvariantCulture) : first;
            numbers = (first, last);
            complaint = first < 1 ? $"flight \"{text}\" starts below 1; flights are counted from 1"
                : last < first ? $"flight \"{text}\" runs backwards; expected the smaller number first"
                : "";
            return complaint.Length == 0;
        }
        if (Clocks().Match(text) is { Success: true } clock)
        {
            if (TimeOfDayS(clock, 1) is { } from && TimeOfDayS(clock, 4) is { } to)
            {
                // A range may pass midnight, as a log's clock does; one of more than half a day is a slip.
                double end = to < from ? to + DayS : to;
                clockS = (from, end);
                complaint = !(end > from) || end - from > DayS / 2 ? $"flight \"{text}\" ends before it begins" : "";
                return complaint.Length == 0;
            }
            complaint = $"flight \"{text}\" has a time that no clock shows; expected 00:00 to 23:59";
            return false;
        }
        complaint = $"flight \"{text}\" is not understood; {Expected}";
        if (Date().IsMatch(text))
        {
            complaint += "; a spreadsheet makes a date of 2-4: format the column as text";
        }
        return false;
    }

    /// <summary>Writes what <see cref="TryParse"/> reads.</summary>
    public static string Format(FlightNote note) => note switch
    {
        { ClockRangeS: { } clock } => $"{ClockText(clock.FromS)}-{ClockText(clock.ToS)}",
        { Numbers: { } n } when n.First == n.Last => n.First.ToString(CultureInfo.InvariantCulture),
        { Numbers: { } n } => string.Create(CultureInfo.InvariantCulture, $"{n.First}-{n.Last}"),
        _ => "",
    };

    /// <summary>Time of day as people write it, with seconds.</summary>
    public static string ClockText(double secondsAfterMidnight) =>
        TimeSpan.FromSeconds(Math.Round((secondsAfterMidnight % DayS + DayS) % DayS) % DayS).ToString(@"hh\:mm\:ss", CultureInfo.InvariantCulture);

    private static double? TimeOfDayS(Match match, int group)
    {
        double hours = double.Parse(match.Groups[group].ValueSpan, CultureInfo.InvariantCulture);
        double minutes = double.Parse(match.Groups[group + 1].ValueSpan, CultureInfo.InvariantCulture);
        Group seconds = match.Groups[group + 2];
        double s = seconds.Success ? double.Parse(seconds.ValueSpan, CultureInfo.InvariantCulture) : 0;
        return hours < 24 && minutes < 60 && s < 60 ? hours * 3600 + minutes * 60 + s : null;
    }

    [GeneratedRegex(@"^(\d{1,6})(?:\s*[-–—]\s*(\d{1,6}))?$", RegexOptions.CultureInvariant)]
    private static partial Regex Numbers();

    [GeneratedRegex(@"^(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?\s*[-–—]\s*(\d{1,2}):(\d{2})(?::(\d{2}(?:\.\d+)?))?$", RegexOptions.CultureInvariant)]
    private static partial Regex Clocks();

    [GeneratedRegex(@"\p{L}{3}|^\d{1,4}[-./]\d{1,2}[-./]\d{1,4}$", RegexOptions.CultureInvariant)]
    private static partial Regex Date();
}
