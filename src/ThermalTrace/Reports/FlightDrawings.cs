using ThermalTrace.Reports.Page;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports;

/// <summary>A picture as markup that is safe to put into a page as it stands, and where its axes lie.</summary>
public sealed record Drawing(string Markup, PlotArea Area);

/// <summary>A phase of a flight in words.</summary>
/// <param name="Kind">The contract's word.</param>
/// <param name="Name">As people say it.</param>
/// <param name="From">Time of flight.</param>
/// <param name="To">Time of flight.</param>
/// <param name="Length">How long.</param>
/// <param name="HeightChange">With its unit.</param>
public sealed record PhaseWords(string Kind, string Name, string From, string To, string Length, string HeightChange);

/// <summary>Pictures and words of single flights, the report's own, for pages that show them one by one. Markup needs the sheet of <see cref="PageStyle"/>.</summary>
public static class FlightDrawings
{
    /// <summary>The flight's height by phase, without axes, to know it again in a list.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="trace">Its trace.</param>
    /// <param name="index">Number by which the page calls it.</param>
    /// <param name="widthPx">Of the view box.</param>
    /// <param name="heightPx">Of the view box.</param>
    public static string Small(FlightEntry flight, FlightTrace trace, int index, int widthPx = 160, int heightPx = 44)
    {
        ArgumentNullException.ThrowIfNull(flight);
        ArgumentNullException.ThrowIfNull(trace);
        return FlightPictures.Small(flight, trace, index, widthPx, heightPx).Source;
    }

    /// <summary>A stretch of the flight's height by phase; x is time of flight, s. Null where fewer than two heights lie in it.</summary>
    /// <param name="flight">The flight.</param>
    /// <param name="trace">Its trace.</param>
    /// <param name="index">Number by which the page calls it; no two pictures of a page may share it.</param>
    /// <param name="fromS">Begin of the stretch, s of flight.</param>
    /// <param name="toS">Its end.</param>
    /// <param name="widthPx">Of the view box; as wide as it is shown, its words have their proper size.</param>
    /// <param name="heightPx">Of the view box.</param>
    public static Drawing? Height(FlightEntry flight, FlightTrace trace, int index, double fromS, double toS, int widthPx = 640, int heightPx = 360)
    {
        ArgumentNullException.ThrowIfNull(flight);
        ArgumentNullException.ThrowIfNull(trace);
        return FlightPictures.HeightBetween(flight, trace, index, fromS, toS, widthPx, heightPx) is { } drawn ? new Drawing(drawn.Svg, drawn.Area) : null;
    }

    /// <summary>The track over the ground with the wind, as the report shows it; x and y are metres from the launch. Null without position.</summary>
    public static Drawing? Track(FlightEntry flight, FlightTrace trace, int index)
    {
        ArgumentNullException.ThrowIfNull(flight);
        ArgumentNullException.ThrowIfNull(trace);
        return FlightPictures.Over(flight, trace, index) is { } drawn ? new Drawing(drawn.Svg, drawn.Area) : null;
    }

    /// <summary>Why there is no track.</summary>
    public static string NoTrack => FlightPictures.NoPosition;

    /// <summary>The key to the phases' lines.</summary>
    public static string Key() => FlightPictures.Key().Source;

    /// <summary>The wind in words, with its interval.</summary>
    public static string Wind(WindEntry wind)
    {
        ArgumentNullException.ThrowIfNull(wind);
        return FlightPictures.WindInWords(wind);
    }

    /// <summary>How long a flight lasted.</summary>
    public static string Length(FlightEntry flight)
    {
        ArgumentNullException.ThrowIfNull(flight);
        return Words.Duration(flight.EndS - flight.StartS);
    }

    /// <summary>Height gained in the first launch, "32 m"; a dash where no launch was seen.</summary>
    public static string LaunchHeight(FlightEntry flight)
    {
        ArgumentNullException.ThrowIfNull(flight);
        return flight.Launch is { } launch ? Parts.Number(launch.HeightM, 0) + " m" : Parts.Dash;
    }

    /// <summary>How many climbs, "3 climbs".</summary>
    public static string Climbs(FlightEntry flight)
    {
        ArgumentNullException.ThrowIfNull(flight);
        return flight.Lift.Climbs == 0 ? "no climb" : Words.Plural(flight.Lift.Climbs, "climb");
    }

    /// <summary>A height as people read it, "32 m"; a dash where not known.</summary>
    public static string Metres(double heightM) => double.IsFinite(heightM) ? Parts.Number(heightM, 0) + " m" : Parts.Dash;

    /// <summary>A mass as people read it, "30 g".</summary>
    public static string Grams(double massG) => Words.Grams(massG);

    /// <summary>The flight's phases in order.</summary>
    public static IReadOnlyList<PhaseWords> Phases(FlightEntry flight)
    {
        ArgumentNullException.ThrowIfNull(flight);
        return [.. flight.Segments.Select(s => new PhaseWords(s.Kind, Words.Phase(s.Kind), TimeOfFlight(s.StartS - flight.StartS), TimeOfFlight(s.EndS - flight.StartS),
            Words.Duration(s.EndS - s.StartS), Parts.Number(s.HeightChangeM, 0) + " m"))];
    }

    /// <summary>A phase's name inside a sentence.</summary>
    public static string Phase(string kind) => Words.Phase(kind);

    /// <summary>Time of flight to a tenth of a second, "2:05.4".</summary>
    public static string TimeOfFlight(double seconds)
    {
        long tenths = (long)Math.Round(Math.Abs(seconds) * 10);
        string text = string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{tenths / 600}:{tenths / 10 % 60:00}.{tenths % 10}");
        return seconds < 0 && tenths > 0 ? "\u2212" + text : text;
    }

    /// <summary>Where the model was at a time: the trace's point nearest to it. NaN where nothing is known.</summary>
    /// <param name="trace">The trace.</param>
    /// <param name="timeS">s from the log's earliest stamp.</param>
    public static (double HeightM, double EastM, double NorthM) At(FlightTrace trace, double timeS)
    {
        ArgumentNullException.ThrowIfNull(trace);
        if (trace.TimeS.Length == 0)
        {
            return (double.NaN, double.NaN, double.NaN);
        }
        int at = Array.BinarySearch(trace.TimeS, timeS);
        int after = Math.Clamp(at < 0 ? ~at : at, 0, trace.TimeS.Length - 1), before = Math.Max(0, after - 1);
        int nearest = timeS - trace.TimeS[before] < trace.TimeS[after] - timeS ? before : after;
        return (trace.HeightM[nearest], trace.EastM[nearest], trace.NorthM[nearest]);
    }
}
