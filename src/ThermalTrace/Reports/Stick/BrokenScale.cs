namespace ThermalTrace.Reports.Stick;

/// <summary>
/// Full size along a line that may be longer than the paper: what is too long between two places of interest is cut out of the middle there, and everything else stays 1:1.
/// </summary>
internal sealed class BrokenScale
{
    private readonly double[] _places;
    private readonly double[] _starts;

    /// <summary>Lays the line out.</summary>
    /// <param name="places">mm along it; nothing between them needs to be seen.</param>
    /// <param name="mostMm">Room on the paper, mm.</param>
    public BrokenScale(IEnumerable<double> places, double mostMm)
    {
        _places = [.. places.Distinct().Order()];
        double[] lengths = [.. _places.Zip(_places.Skip(1), (a, b) => b - a)];
        double longest = Longest(lengths, mostMm);
        _starts = new double[_places.Length];
        List<double> breaks = [];
        for (int i = 0; i < lengths.Length; i++)
        {
            double drawn = Math.Min(lengths[i], longest);
            _starts[i + 1] = _starts[i] + drawn;
            if (drawn < lengths[i])
            {
                breaks.Add(_starts[i] + drawn / 2);
            }
        }
        BreaksMm = breaks;
    }

    /// <summary>Length on paper, mm.</summary>
    public double WidthMm => _starts[^1];

    /// <summary>Where something is left out, mm on paper.</summary>
    public IReadOnlyList<double> BreaksMm { get; }

    /// <summary>A place of interest on paper, mm from the first.</summary>
    public double At(double placeMm) => _starts[Array.IndexOf(_places, placeMm)];

    /// <summary>To what the longest stretches are cut so that all of them together have room.</summary>
    private static double Longest(double[] lengths, double mostMm)
    {
        if (lengths.Sum() <= mostMm)
        {
            return double.PositiveInfinity;
        }
        double room = mostMm;
        double[] sorted = [.. lengths.Order()];
        for (int i = 0; i < sorted.Length; i++)
        {
            double share = room / (sorted.Length - i);
            if (sorted[i] > share)
            {
                return share;
            }
            room -= sorted[i];
        }
        return double.PositiveInfinity;
    }
}
