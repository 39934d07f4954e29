namespace ThermalTrace.Pages.Desk;

/// <summary>The stretch of a flight that is looked at, s of flight.</summary>
/// <param name="FromS">Begin.</param>
/// <param name="ToS">End.</param>
/// <param name="WholeS">Length of the flight.</param>
internal readonly record struct TimeWindow(double FromS, double ToS, double WholeS)
{
    // Closer than this a trace is a few straight lines.
    private const double LeastS = 4;

    /// <summary>All of a flight.</summary>
    public static TimeWindow Whole(double lengthS) => new(0, lengthS, lengthS);

    public double LengthS => ToS - FromS;

    public bool IsWhole => LengthS >= WholeS - 1e-6;

    public bool IsClosest => LengthS <= LeastS + 1e-6;

    /// <summary>Shorter or longer by a factor, the moment at <paramref name="aboutS"/> staying where it is.</summary>
    public TimeWindow Zoomed(double factor, double aboutS)
    {
        double length = Math.Clamp(LengthS * factor, Math.Min(LeastS, WholeS), WholeS), share = LengthS > 0 ? (aboutS - FromS) / LengthS : 0.5;
        return At(aboutS - Math.Clamp(share, 0, 1) * length, length);
    }

    /// <summary>Shorter or longer about its middle.</summary>
    public TimeWindow Zoomed(double factor) => Zoomed(factor, FromS + LengthS / 2);

    /// <summary>Moved along by a share of itself.</summary>
    public TimeWindow Moved(double share) => At(FromS + share * LengthS, LengthS);

    /// <summary>From one moment to another, whichever is first.</summary>
    public TimeWindow Between(double aS, double bS)
    {
        double length = Math.Clamp(Math.Abs(bS - aS), Math.Min(LeastS, WholeS), WholeS);
        return At(Math.Min(aS, bS), length);
    }

    /// <summary>The same stretch of a flight that has become longer or shorter.</summary>
    public TimeWindow Of(double lengthS) => IsWhole ? Whole(lengthS) : (this with { WholeS = lengthS }).At(FromS, Math.Min(LengthS, lengthS));

    private TimeWindow At(double fromS, double length)
    {
        double from = Math.Clamp(fromS, 0, Math.Max(0, WholeS - length));
        return new TimeWindow(from, from + length, WholeS);
    }
}
