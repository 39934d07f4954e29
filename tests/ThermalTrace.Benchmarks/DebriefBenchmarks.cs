using BenchmarkDotNet.Attributes;
using ThermalTrace.Logs;

namespace ThermalTrace.Benchmarks;

/// <summary>The main job, from a log's bytes to the result document.</summary>
[MemoryDiagnoser]
[ShortRunJob]
public class DebriefBenchmarks
{
    private byte[] _bytes = [];

    /// <summary>Rows of the session's one log; a day out is some ten thousand.</summary>
    [Params(10_000, 100_000)]
    public int Rows { get; set; }

    /// <summary>Makes the bytes.</summary>
    [GlobalSetup]
    public void Setup() => _bytes = EndlessLog.Bytes(Rows);

    /// <summary>Import, phases, air, polars, comparison.</summary>
    [Benchmark]
    public DebriefResult Whole() => Debrief.Run(
        EndlessLog.SessionOf(LogImporter.Read(new MemoryStream(_bytes, writable: false), "benchmark.csv", [])), new DebriefOptions());
}
