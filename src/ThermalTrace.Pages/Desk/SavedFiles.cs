namespace ThermalTrace.Pages.Desk;

/// <summary>What an edit did to one file.</summary>
/// <param name="File">Its name in the folder.</param>
/// <param name="Before">Its bytes; null where it was not there.</param>
/// <param name="After">Its bytes; null where it is gone.</param>
/// <param name="IsLog">True for a log, which is too large to keep twice: the bytes are only a mark by which it is known again.</param>
internal sealed record SavedChange(string File, byte[]? Before, byte[]? After, bool IsLog = false);

/// <summary>The edits made on the pages, so that each can be taken back and made again. Holds no lock of its own: the desk has one.</summary>
internal sealed class SavedFiles
{
    // Far more than anybody takes back; it keeps the memory in bounds.
    private const int Most = 200;

    private readonly List<(string Action, IReadOnlyList<SavedChange> Changes)> _done = [], _undone = [];

    /// <summary>What would be taken back, in words; null where there is nothing.</summary>
    public string? UndoName => _done.Count > 0 ? _done[^1].Action : null;

    /// <summary>What would be made again, in words; null where there is nothing.</summary>
    public string? RedoName => _undone.Count > 0 ? _undone[^1].Action : null;

    /// <summary>Keeps an edit that was made.</summary>
    public void Add(string action, IReadOnlyList<SavedChange> changes)
    {
        _done.Add((action, changes));
        _undone.Clear();
        if (_done.Count > Most)
        {
            _done.RemoveAt(0);
        }
    }

    /// <summary>The files as they were before the last edit, and what they have to be now for that.</summary>
    public IReadOnlyList<SavedChange>? LastDone => _done.Count > 0 ? [.. _done[^1].Changes.Select(c => c with { Before = c.After, After = c.Before })] : null;

    /// <summary>The files as the last edit taken back had made them.</summary>
    public IReadOnlyList<SavedChange>? LastUndone => _undone.Count > 0 ? _undone[^1].Changes : null;

    /// <summary>The last edit was taken back.</summary>
    public void Undone()
    {
        _undone.Add(_done[^1]);
        _done.RemoveAt(_done.Count - 1);
    }

    /// <summary>The last edit was made again.</summary>
    public void Redone()
    {
        _done.Add(_undone[^1]);
        _undone.RemoveAt(_undone.Count - 1);
    }
}
