namespace ThermalTrace.Pages.Desk;

/// <summary>Work that takes more than a moment: one at a time, seen by every page, and cancelled from any.</summary>
internal sealed class LongWork : IDisposable
{
    // A person reads no faster, and every change is sent to every page.
    private static readonly TimeSpan BetweenReports = TimeSpan.FromMilliseconds(120);

    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly Action _changed;
    private CancellationTokenSource? _cancel;

    /// <param name="changed">Is called when something of it has changed, on any thread.</param>
    public LongWork(Action changed) => _changed = changed;

    /// <summary>What is being done, in words; null where nothing is.</summary>
    public string? Stage { get; private set; }

    /// <summary>0 to 1.</summary>
    public double Fraction { get; private set; }

    public bool IsRunning => Stage is not null;

    /// <summary>Does the work on another thread, after what is being done already.</summary>
    /// <param name="stage">In words.</param>
    /// <param name="work">Takes a report and a token.</param>
    /// <exception cref="OperationCanceledException">Cancelled by a person.</exception>
    public async Task<T> DoAsync<T>(string stage, Func<Action<string, double>, CancellationToken, T> work)
    {
        await _turn.WaitAsync();
        using CancellationTokenSource cancel = new();
        _cancel = cancel;
        try
        {
            (Stage, Fraction) = (stage, 0);
            _changed();
            DateTime told = DateTime.UtcNow;
            return await Task.Run(() => work((words, fraction) =>
            {
                (Stage, Fraction) = (words, double.IsFinite(fraction) ? Math.Clamp(fraction, 0, 1) : 0);
                if (DateTime.UtcNow - told >= BetweenReports)
                {
                    told = DateTime.UtcNow;
                    _changed();
                }
            }, cancel.Token), CancellationToken.None);
        }
        finally
        {
            _cancel = null;
            Stage = null;
            _turn.Release();
            _changed();
        }
    }

    /// <summary>Ends what is being done, as soon as it listens.</summary>
    public void Cancel()
    {
        try
        {
            _cancel?.Cancel();
        }
        catch (ObjectDisposedException)
        {
            // It ended in this moment.
        }
    }

    public void Dispose() => _turn.Dispose();
}
