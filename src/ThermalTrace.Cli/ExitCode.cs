namespace ThermalTrace.Cli;

/// <summary>The contract's exit codes.</summary>
internal static class ExitCode
{
    public const int Done = 0;
    public const int ProgramFailed = 1;
    public const int WrongUsage = 2;
    public const int UnusableInput = 3;
    public const int Cancelled = 130;
}

/// <summary>An option that cannot be followed. The message names it and says what was expected.</summary>
internal sealed class WrongUsageException(string message) : Exception(message);
