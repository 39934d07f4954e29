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
    /// <summary>
    /// Hundredths of km/h, of feet and thousandths of hPa (8 mm of height) and of knots, where the reference has hundredths of m and
    /// m/s. The polar moves more than that, by a fifth of its band at most: a row at the edge of what counts as gliding flight
    /// falls on its other side, and the search for the air's correlation ends within its tolerance, not at one point.
    /// A segment's edge lies on a row of the 5 Hz log; one of them moved by two rows. 18 of 600 draws changed
    /// the best; the search for the pilot's habits ended where the wind is 0.022 m/s away, a tenth of its standard error.
    /// </summary>
    private static readonly Agreement CoarserUnits = new()
    {
        EdgeS = 0.41,
        WindMps = 0.03,
        EdrShare = 0.01,
        LaunchM = 0.01,
        FlownMps = 0.03,
        SinkMps = 0.03,
        GlideRatio = 0.15,
        RoundTripMps = 0.03,
        Probability = 0.035,
    };

    /// <summary>
    /// Whole seconds for all rows of a second, spread evenly again: a row of a logger whose rate wanders lands up to some
    /// hundredths of a second from where it was, 0.3 m in the steepest part of a throw.
    /// </summary>
    private static readonly Agreement CoarserStamps = new()
    {
        EdgeS = 0.61,
        WindMps = 0.1,
        EdrShare = 0.1,
        LaunchM = 0.8,
        FlownMps = 0.25,
        SinkMps = 0.03,
        GlideRatio = 0.2,
        RoundTripMps = 0.05,
        Probability = 0.05,
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
    public void ASession_InASatelliteFormat_GivesWhatATableOfItsSecondsGives(LogFlavour flavour, string ending)
    {
        Session session = ShortSession.Read(SessionWriter.Write(ShortSession.Simulated, flavour));
        FlightLog log = session.Logs.Single();
        Assert.EndsWith(ending, log.File, StringComparison.Ordinal);
        RequireEverySecondOfTheReference(log);
        Session table = session with { Logs = [ShortSession.Import(log.File, Encoding.UTF8.GetBytes(Table(log)))] };
        ResultsDocument expected = ShortSession.Debriefed(table);
        Assert.Equal(4, expected.Flights.Count);
        Agreement.Of(expected, ShortSession.Debriefed(session)).RequireWithin(Agreement.Rounding);
    }

    /// <summary>Every value within the format's own rounding of a straight line between the reference's rows; times are whole seconds of the clock.</summary>
    private static void RequireEverySecondOfTheReference(FlightLog log)
    {
        bool igc = log.Has(Quantity.Altitude);
        FlightLog reference = ShortSession.Read(SessionWriter.Write(ShortSession.Simulated, LogFlavour.EpochSeconds)).Logs[0];
        double phase = log.ClockAtStartS!.Value - reference.ClockAtStartS!.Value;
        Assert.InRange(phase, 0, 1);
        // Half a last digit of the format, and half of the reference's: a metre, a km/h, 1/100,000 of a minute; 1 cm and 1e-7°.
        double degrees = igc ? 2.5e-7 : 1.5e-7;
        for (int row = 0; row < log.Rows; row++)
        {
            double t = log.TimeS[row] + phase;
            Assert.Equal(row, log.TimeS[row], 1e-6);
            Assert.Equal(At(reference, Quantity.Latitude, t), log[Quantity.Latitude][row], degrees);
            Assert.Equal(At(reference, Quantity.Longitude, t), log[Quantity.Longitude][row], degrees);
            if (igc)
            {
                Assert.Equal(At(reference, Quantity.Altitude, t), log[Quantity.Altitude][row], 0.51);
                Assert.Equal(At(reference, Quantity.GpsAltitude, t), log[Quantity.GpsAltitude][row], 0.56);
                Assert.Equal(At(reference, Quantity.GroundSpeed, t), log[Quantity.GroundSpeed][row], 0.51 / 3.6 + 0.01);
            }
            else
            {
                Assert.Equal(At(reference, Quantity.Altitude, t), log[Quantity.GpsAltitude][row], 0.011); // ele is one height, whichever
            }
        }
        Assert.InRange(reference.TimeS[^1] - log.TimeS[^1] - phase, 0, 1);
    }

    /// <summary>A log's own columns as delimited text.</summary>
    private static string Table(FlightLog log)
    {
        (Quantity Quantity, string Name)[] known =
        [
            (Quantity.Altitude, "altitude_m"), (Quantity.Latitude, "latitude"), (Quantity.Longitude, "longitude"), (Quantity.GpsAltitude, "gps_altitude_m"),
            (Quantity.GroundSpeed, "ground_speed_mps"), (Quantity.Track, "track_deg"),
        ];
        (Quantity Quantity, string Name)[] columns = [.. known.Where(k => log.Has(k.Quantity) && !log.Channels.Any(c => c.Quantity == k.Quantity && c.Derived))];
        StringBuilder text = new("time_s," + string.Join(',', columns.Select(c => c.Name)) + "\n");
        for (int row = 0; row < log.Rows; row++)
        {
            int r = row;
            text.Append(string.Join(',', columns.Select(c => log[c.Quantity][r]).Prepend(log.TimeS[r])
                .Select(v => double.IsNaN(v) ? "" : v.ToString("R", CultureInfo.InvariantCulture)))).Append('\n');
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
}
