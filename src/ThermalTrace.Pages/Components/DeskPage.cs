using Microsoft.AspNetCore.Components;
using ThermalTrace.Pages.Desk;

namespace ThermalTrace.Pages.Components;

/// <summary>What every page and part of one has: the desk, and a new look whenever something on it changes.</summary>
public abstract class DeskPage : ComponentBase, IDisposable
{
    [Inject]
    internal FolderDesk Desk { get; set; } = null!;

    /// <summary>What went wrong with the last thing asked for here, in words; null where nothing did.</summary>
    protected string? Complaint { get; set; }

    /// <inheritdoc/>
    protected override void OnInitialized() => Desk.Changed += OnDeskChanged;

    /// <summary>The desk has changed; called on the page's own thread, before it is drawn.</summary>
    protected virtual void Refresh()
    {
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Desk.Changed -= OnDeskChanged;
        Dispose(true);
        GC.SuppressFinalize(this);
    }

    /// <summary>Lets go of what a page holds beyond the desk.</summary>
    protected virtual void Dispose(bool disposing)
    {
    }

    private void OnDeskChanged() => _ = InvokeAsync(() =>
    {
        Refresh();
        StateHasChanged();
    });
}
