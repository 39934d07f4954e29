using System.Globalization;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests.Numerics;

/// <summary>Reads the observations of a NIST Statistical Reference Dataset (lines from 61 on, or after a line of dashes).</summary>
internal static class NistData
{
    /// <summary>Rows of the file, the response first.</summary>
    public static double[][] Read(string name)
    {
        string[] lines = File.ReadAllLines(Path.Combine(SharedFolder.Path!, "reference", "nist", name + ".dat"));
        int start = Array.FindIndex(lines, line => line.StartsWith("Data:  ", StringComparison.Ordinal) && line.Contains('x', StringComparison.Ordinal)
            && line.Contains('y', StringComparison.Ordinal) && !line.Contains('=', StringComparison.Ordinal)) + 1;
        return [.. lines.Skip(Math.Max(start, 60)).Where(line => !string.IsNullOrWhiteSpace(line))
            .Select(line => line.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)
                .Select(field => double.Parse(field, CultureInfo.InvariantCulture)).ToArray())];
    }

    /// <summary>Digits that an estimate shares with the certified value: −log10 of the relative error, 15 at most.</summary>
    public static double Digits(double certified, double found) =>
        found == certified ? 15 : Math.Min(15, -Math.Log10(Math.Abs(found - certified) / Math.Abs(certified)));
}
