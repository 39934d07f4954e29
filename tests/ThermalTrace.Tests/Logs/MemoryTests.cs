using System.Text;
using ThermalTrace.Logs;

namespace ThermalTrace.Tests.Logs;

/// <summary>Memory is the process's: these run while nothing else does.</summary>
[CollectionDefinition(nameof(MemoryTests), DisableParallelization = true)]
[Collection(nameof(MemoryTests))]
public class MemoryTests
{
    [Fact]
    public void ALongTailOfRubbish_IsStreamed_NotKept()
    {
        // 100 MB after a good log, in lines that are no rows: memory must not follow.
        string good = SampleFlight.Text("time_s,alt_m", 200, i => $"{i},{SampleFlight.F(SampleFlight.AltitudeM(i), 2)}");
        EndlessStream stream = new("this is no row of the table at all, is it?\n"u8.ToArray(), 100_000_000, Encoding.UTF8.GetBytes(good));
        long before = GC.GetTotalMemory(true);
        FlightLog log = LogImporter.Read(stream, "kestrel.csv", []);
        Assert.Equal(200, log.Rows);
        Assert.True(GC.GetTotalMemory(true) - before < 20_000_000);
        Assert.Contains(log.Problems, p => p.Line == 202 && p.Text.Contains("rows", StringComparison.Ordinal));
    }
}
