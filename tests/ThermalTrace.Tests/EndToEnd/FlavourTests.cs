using System.Globalization;
using System.Text;
using ThermalTrace.Logs;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;

namespace ThermalTrace.Tests.EndToEnd;

/// <summary>One session written in every flavour gives one answer.</summary>
public class FlavourTests
{
    /// <summary>Hundredths of km/h, of feet and thousandths of hPa (8 mm of height) and of knots, where the reference has hundredths of m and m/s.</summary>
    private static readonly Agreement CoarserUnits = new()
    {
        EdgeS = 1e-6, WindMps = 2e-3, EdrShare = 0.01, LaunchM = 0.01, FlownMps = 5e-3, SinkMps = 3e-3, GlideRatio = 0.01, RoundTripMps = 3e-3, Probability = 0.01,
    };

    /// <summary>
    /// Whole seconds for all rows of a second, spread evenly again: a row of a logger whose rate wanders lands up to some
    /// hundredths of a second from where it was, 0.3 m in the steepest part of a throw.
    /// </summary>
    private static readonly Agreement CoarserStamps = new()
    {
        EdgeS = 0.61, WindMps = 0.1, EdrShare = 0.1, LaunchM = 0.8, FlownMps = 0.25, SinkMps = 0.03, GlideRatio = 0.2, RoundTripMps = 0.015, Probability = 0.05,
    };

    /// <summary>
    /// A satellite file against a table of the same seconds and the same rounding: a value that is rounded twice lands now and
    /// then on the next metre or km/h, one row in fifty.
    /// </summary>
    private static readonly Agreement RoundedTwice = new()
    {
        EdgeS = 1.01, WindMps = 0.05, EdrShare = 0.1, LaunchM = 0.3, FlownMps = 0.05, SinkMps = 0.01, GlideRatio = 0.1, RoundTripMps = 0.01, Probability = 0.03,
    };

    public static TheoryData<string> Delimited => [.. Enum.GetValues<LogFlavour>()
        .Where(f => f is not (LogFlavour.Comma or LogFlavour.Igc or LogFlavour.Gpx)).Select(f => f.ToString())];

    [Theory]
    [MemberData(nameof(Delimited))]
    public void ASession_InAnyDelimitedFlavour_GivesTheSameEstimates(string name)
    {
        LogFlavour flavour = Enum.Parse<LogFlavour>(name);
        Agreement allowed = flavour switch
        {
            LogFlavour.Semicolon or LogFlavour.Tab or LogFlavour.DegreesMinutes or LogFlavour.Latin1UnitsRow => CoarserUnits,
            LogFlavour.WholeSeconds => CoarserStamps,
            _ => Agreement.Rounding,
        };
        ResultsDocument document = ShortSession.Debriefed(ShortSession.Read(SessionWriter.Write(ShortSession.Simulated, flavour)));
        Assert.Equal(ShortSession.Document.Comparison.Verdict, document.Comparison.Verdict);
        Agreement.Of(ShortSession.Document, document).RequireWithin(allowed);
    }

    [Theory]
    [InlineData(LogFlavour.Igc, ".igc")]
    [InlineData(LogFlavour.Gpx, ".gpx")]
    public void ASession_InASatelliteFormat_GivesWhatATableOfTheSameSecondsGives(LogFlavour flavour, string ending)
    {
        Session session = ShortSession.Read(SessionWriter.Write(ShortSession.Simulated, flavour));
        FlightLog log = session.Logs.Single();
        Assert.EndsWith(ending, log.File, StringComparison.Ordinal);
        FlightLog table = ShortSession.Import(log.File, Encoding.UTF8.GetBytes(EverySecond(ShortSession.Session.Logs[0], log)));
        Assert.Equal(log.TimeS.ToArray(), table.TimeS.ToArray());
        ResultsDocument expected = ShortSession.Debriefed(session with { Logs = [table] });
        Agreement.Of(expected, ShortSession.Debriefed(session)).RequireWithin(RoundedTwice);
        Assert.Equal(4, expected.Flights.Count);
    }

    /// <summary>The reference at whole seconds, straight lines between its rows, with the quantities and roundings of a satellite file.</summary>
    private static string EverySecond(FlightLog reference, FlightLog satellite)
    {
        bool igc = satellite.Has(Quantity.Altitude);
        StringBuilder text = new(igc ? "time_s,altitude_m,latitude,longitude,gps_altitude_m,ground_speed_kmh,track_deg\n" : "time_s,latitude,longitude,gps_altitude_m\n");
        double first = Math.Floor(reference.TimeS[0]) + 1;
        for (double t = first; t <= reference.TimeS[^1]; t++)
        {
            double latitude = At(reference, Quantity.Latitude, t), longitude = At(reference, Quantity.Longitude, t), altitude = At(reference, Quantity.Altitude, t);
            text.Append(CultureInfo.InvariantCulture, $"{t - first}");
            text.Append(igc
                ? string.Create(CultureInfo.InvariantCulture, $",{Math.Round(altitude)},{latitude:F7},{longitude:F7},{Math.Round(At(reference, Quantity.GpsAltitude, t))},{Math.Round(At(reference, Quantity.GroundSpeed, t) * 3.6)},{Math.Round(Nearest(reference, Quantity.Track, t))}\n")
                : string.Create(CultureInfo.InvariantCulture, $",{latitude:F7},{longitude:F7},{altitude:F2}\n"));
        }
        return text.ToString();
    }

    private static int RowAfter(FlightLog log, double timeS)
    {
        int row = log.TimeS.BinarySearch(timeS);
        return Math.Clamp(row < 0 ? ~row : row, 1, log.Rows - 1);
    }

    private static double At(FlightLog log, Quantity quantity, double timeS)
    {
        int row = RowAfter(log, timeS);
        double part = (timeS - log.TimeS[row - 1]) / (log.TimeS[row] - log.TimeS[row - 1]);
        return log[quantity][row - 1] + part * (log[quantity][row] - log[quantity][row - 1]);
    }

    private static double Nearest(FlightLog log, Quantity quantity, double timeS)
    {
        int row = RowAfter(log, timeS);
        return log[quantity][log.TimeS[row] - timeS < timeS - log.TimeS[row - 1] ? row : row - 1];
    }
}
