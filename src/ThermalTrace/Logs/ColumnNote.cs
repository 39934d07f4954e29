namespace ThermalTrace.Logs;

/// <summary>A row of <c>columns.csv</c>: what a column means where the importer cannot tell.</summary>
/// <param name="Log">File name; null for all logs.</param>
/// <param name="Column">The column's header, as the log has it.</param>
/// <param name="Quantity">What it measures.</param>
/// <param name="Unit">Its unit; null where the header or the default says it.</param>
/// <param name="Line">Line in columns.csv, counted from 1.</param>
public sealed record ColumnNote(string? Log, string Column, Quantity Quantity, string? Unit, int Line);
