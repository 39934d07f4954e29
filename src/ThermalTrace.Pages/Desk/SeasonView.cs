using ThermalTrace.Logbook;

namespace ThermalTrace.Pages.Desk;

/// <summary>What the logbook knows of the folder's airframe at one moment.</summary>
internal sealed record SeasonView
{
    /// <summary>The logbook's file; null where this system names none.</summary>
    public required string? Path { get; init; }

    /// <summary>True where the file is there.</summary>
    public bool Exists { get; init; }

    /// <summary>The model's name (untrusted text); null where the folder has none yet.</summary>
    public string? Airframe { get; init; }

    /// <summary>Its sessions, by day.</summary>
    public IReadOnlyList<LogbookSession> Sessions { get; init; } = [];

    /// <summary>Sessions of other models.</summary>
    public int Others { get; init; }

    /// <summary>Sessions that are damaged, each with what is.</summary>
    public IReadOnlyList<ListedSession> Damaged { get; init; } = [];

    /// <summary>How tuning went, as markup; empty where there is nothing to say.</summary>
    public string History { get; init; } = "";

    /// <summary>Why something of the above could not be read; null where all was.</summary>
    public string? Complaint { get; init; }

    /// <summary>By which it is known whether an answer still holds: the airframe's file, and what the logbook has of it.</summary>
    public string Content { get; init; } = "";

    /// <summary>By which it is known whether logbook or airframe have changed since.</summary>
    public string Mark { get; init; } = "";
}

/// <summary>What the last thing done to the logbook came to, and how it is taken back.</summary>
/// <param name="Sentences">For people (untrusted text).</param>
/// <param name="Failed">True where it was not done.</param>
/// <param name="Undo">What would be taken back, in words; null where nothing can be.</param>
internal sealed record LogbookDeed(IReadOnlyList<string> Sentences, bool Failed = false, string? Undo = null);
