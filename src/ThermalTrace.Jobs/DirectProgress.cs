namespace ThermalTrace.Jobs;

/// <summary>Progress that is reported at once and on the same thread; the framework's own posts it elsewhere, out of order.</summary>
internal sealed class DirectProgress<T>(Action<T> report) : IProgress<T>
{
    public void Report(T value) => report(value);
}
