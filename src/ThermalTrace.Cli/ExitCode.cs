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
