using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

public class LogFlavourTests
{
    public static TheoryData<string> Names => new(LogFlavour.All.Select(f => f.Name));

    [Theory]
    [MemberData(nameof(Names))]
    public void ALog_InAnyFlavour_GivesTheSameNumbers(string name)
    {
        LogFlavour flavour = LogFlavour.All.Single(f => f.Name == name);
        FlightLog expected = SampleFlight.Log;
        FlightLog log = SampleFlight.Import(flavour.Write(expected));
        Assert.Equal(expected.Rows, log.Rows);
        for (int i = 0; i < log.Rows; i++)
        {
            Assert.Equal(expected.TimeS[i], log.TimeS[i], 1e-6);
        }
        Quantity[] written = [.. flavour.Channels.Keys, Quantity.Latitude, Quantity.Longitude];
        foreach (Quantity quantity in written)
        {
            Assert.True(log.Has(quantity), quantity + " is missing; " + string.Join(" | ", log.Problems.Select(p => p.Text)));
            // A unit's factor there and back costs a few last digits; ten-millionths of a degree keep seven decimals.
            double tolerance = quantity is Quantity.Latitude or Quantity.Longitude ? 1e-10 : 1e-9;
            for (int i = 0; i < log.Rows; i++)
            {
                Assert.Equal(expected[quantity][i], log[quantity][i], tolerance);
            }
        }
        Assert.Equal(5, log.RateHz, 1e-6);
    }

    [Fact]
    public void Flavours_HaveDifferentBytes_AndSoDifferentHashes()
    {
        string[] hashes = [.. LogFlavour.All.Select(f => SampleFlight.Import(f.Write(SampleFlight.Log)).Sha256)];
        Assert.Equal(LogFlavour.All.Count, hashes.Distinct().Count());
    }
}
