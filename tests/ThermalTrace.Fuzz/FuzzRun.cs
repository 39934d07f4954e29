using ThermalTrace.Units;

namespace ThermalTrace.Fuzz;

/// <summary>One input and what came of it.</summary>
internal static class FuzzRun
{
    /// <summary>The seeds of one input: the same run seed and number give the same input, whatever ran before.</summary>
    public static Random RandomOf(int seed, Target target, long number) => new(HashCodeOf(seed, target.Name, number));

    /// <summary>Reads one input; null where it was read or refused in words, else what was wrong.</summary>
    public static string? Try(Target target, byte[] input, string folder)
    {
        try
        {
            target.Read(input, folder);
            return null;
        }
        catch (UnusableInputException refused)
        {
            return refused.Message.Length is 0 or > 5_000 ? $"a message of {refused.Message.Length} characters" : null;
        }
#pragma warning disable CA1031 // Whatever else is thrown is the finding.
        catch (Exception failure)
#pragma warning restore CA1031
        {
            return failure.ToString();
        }
    }

    // Not HashCode.Combine, which differs from process to process.
    private static int HashCodeOf(int seed, string name, long number)
    {
        ulong mixed = (ulong)seed * 0x9E3779B97F4A7C15 ^ (ulong)number * 0xBF58476D1CE4E5B9;
        foreach (char c in name)
        {
            mixed = (mixed ^ c) * 0x94D049BB133111EB;
        }
        return (int)(mixed >> 33);
    }
}
