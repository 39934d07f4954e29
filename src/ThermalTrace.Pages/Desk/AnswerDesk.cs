namespace ThermalTrace.Pages.Desk;

/// <summary>What the sliders ask: prepared once for each debrief, for all browsers.</summary>
internal sealed class AnswerDesk
{
    private readonly Lock _lock = new();
    private FinishedDebrief? _of;
    private Task<LiveAdvice>? _advice;

    /// <summary>Live advice from a debrief.</summary>
    /// <param name="debrief">The debrief.</param>
    /// <exception cref="Units.UnusableInputException">Nothing may be fitted.</exception>
    public Task<LiveAdvice> For(FinishedDebrief debrief)
    {
        lock (_lock)
        {
            if (_advice is null || !ReferenceEquals(_of, debrief))
            {
                _of = debrief;
                _advice = Task.Run(() => LiveAdvice.From(debrief.Airframe, debrief.Result.Document));
            }
            return _advice;
        }
    }
}
