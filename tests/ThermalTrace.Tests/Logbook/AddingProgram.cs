using System.Globalization;
using ThermalTrace.Logbook;

namespace ThermalTrace.Tests.Logbook;

/// <summary>
/// Adds session after session to a logbook, as a process that a test can kill: <c>dotnet ThermalTrace.Tests.dll FILE FROM COUNT</c>.
/// A session's id is printed once it was reported as added.
/// </summary>
internal static class AddingProgram
{
    public static int Main(string[] args)
    {
        if (args.Length != 3)
        {
            return 2;
        }
        int from = int.Parse(args[1], CultureInfo.InvariantCulture), count = int.Parse(args[2], CultureInfo.InvariantCulture);
        using StreamWriter output = new(Console.OpenStandardOutput()) { AutoFlush = true };
        for (int seed = from; seed < from + count; seed++)
        {
            LogbookSession session = MadeUpSession.Bare(seed);
            // Opened anew each time, so that opening and closing are killed too.
            using LogbookFile logbook = LogbookFile.OpenToWrite(args[0]);
            output.Write(logbook.Add(session).Id + "\n");
        }
        return 0;
    }
}
