using BenchmarkDotNet.Attributes;
using CsvHelper;
using ThermalTrace.Logs;

namespace ThermalTrace.Benchmarks;

/// <summary>The importer beside a bare reader that parses the same bytes to the same numbers and checks nothing.</summary>
[MemoryDiagnoser]
[ShortRunJob]
public class ImportBenchmarks
{
    private byte[] _bytes = [];

    /// <summary>Rows of the log.</summary>
    [Params(100_000, 1_000_000)]
    public int Rows { get; set; }

    /// <summary>Makes the bytes.</summary>
    [GlobalSetup]
    public void Setup() => _bytes = EndlessLog.Bytes(Rows);

    /// <summary>CsvHelper, every field to a double, nothing kept.</summary>
    [Benchmark(Baseline = true)]
    public int BareReader() => Count(new MemoryStream(_bytes, writable: false));

    /// <summary>The importer, hash, repairs and columns included.</summary>
    [Benchmark]
    public FlightLog Importer() => LogImporter.Read(new MemoryStream(_bytes, writable: false), "benchmark.csv", []);

    /// <summary>Rows of a log, each of its fields parsed.</summary>
    internal static int Count(Stream stream)
    {
        using CsvReader reader = CsvReader.Create(stream, new CsvReaderOptions(), false);
        double sum = 0;
        int rows = 0;
        while (reader.Read())
        {
            rows++;
            for (int field = 0; field < reader.FieldCount; field++)
            {
                sum += reader.Parse<double>(field);
            }
        }
        return double.IsNaN(sum) ? 0 : rows;
    }
}
