namespace ThermalTrace.Units;

/// <summary>Input that cannot be used. The message names file, line, column, what was found and what was expected.</summary>
public sealed class UnusableInputException(string message) : Exception(message);
