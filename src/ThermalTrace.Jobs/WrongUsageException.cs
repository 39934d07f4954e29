namespace ThermalTrace.Jobs;

/// <summary>A wish that cannot be followed. The message names it and says what was expected.</summary>
internal sealed class WrongUsageException(string message) : Exception(message);
