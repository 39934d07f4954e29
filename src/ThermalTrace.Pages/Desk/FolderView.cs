using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Pages.Desk;

/// <summary>A log of the folder.</summary>
/// <param name="File">Its name (untrusted text).</param>
/// <param name="Bytes">Its length.</param>
/// <param name="Log">What was read; null where it cannot be used.</param>
/// <param name="Complaint">Why not.</param>
/// <param name="Columns">As its text has them, understood or not; empty for formats that have none.</param>
internal sealed record LogView(string File, long Bytes, FlightLog? Log, string? Complaint, IReadOnlyList<LogColumn> Columns);

/// <summary>A note file of the folder.</summary>
/// <param name="Name">As the folder has it, or would.</param>
/// <param name="Text">Null where it is not there.</param>
/// <param name="Value">What it says; null where it is not there or cannot be.</param>
/// <param name="Complaint">Why it cannot be.</param>
internal sealed record NoteFile<T>(string Name, string? Text, T? Value, string? Complaint);

/// <summary>Everything in the folder at one moment.</summary>
internal sealed record FolderView
{
    /// <summary>Ordinal order of names, as a session has them.</summary>
    public required IReadOnlyList<LogView> Logs { get; init; }

    public required NoteFile<Airframe> Airframe { get; init; }

    public required NoteFile<IReadOnlyList<FlightNote>> Flights { get; init; }

    public required NoteFile<IReadOnlyList<PhaseNote>> Phases { get; init; }

    public required NoteFile<IReadOnlyList<ColumnNote>> Columns { get; init; }

    /// <summary>What does not fit together, or cannot be read at all.</summary>
    public required IReadOnlyList<string> Problems { get; init; }

    /// <summary>Changes whenever a debrief could come out differently.</summary>
    public required string Mark { get; init; }

    /// <summary>True once the folder was read for the first time.</summary>
    public bool IsRead { get; init; }

    /// <summary>What a debrief lacks, in words; empty where one can be made.</summary>
    public IReadOnlyList<string> Missing
    {
        get
        {
            List<string> missing = [];
            if (!Logs.Any(l => l.Log is not null))
            {
                missing.Add("a log that can be used");
            }
            if (Airframe.Value is null)
            {
                missing.Add(Airframe.Text is null ? "the airframe" : $"{Airframe.Name} without mistakes");
            }
            (string Name, string? Complaint)[] notes = [(Flights.Name, Flights.Complaint), (Phases.Name, Phases.Complaint), (Columns.Name, Columns.Complaint)];
            missing.AddRange(notes.Where(f => f.Complaint is not null).Select(f => $"{f.Name} without mistakes"));
            return missing;
        }
    }

    /// <summary>Before anything was read.</summary>
    public static FolderView Unread { get; } = new()
    {
        Logs = [],
        Airframe = new(AirframeFile.Name, null, null, null),
        Flights = new(FlightsFile.Name, null, null, null),
        Phases = new(PhasesFile.Name, null, null, null),
        Columns = new(ColumnsFile.Name, null, null, null),
        Problems = [],
        Mark = "",
    };
}
