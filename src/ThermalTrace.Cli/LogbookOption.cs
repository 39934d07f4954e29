using System.CommandLine;

namespace ThermalTrace.Cli;

/// <summary>The option that every command with a logbook has.</summary>
internal static class LogbookOption
{
    /// <summary>Makes it.</summary>
    public static Option<string?> Create() => new("--logbook") { HelpName = "FILE", Description = "The logbook's file (if not given, one in your data folder)." };
}
