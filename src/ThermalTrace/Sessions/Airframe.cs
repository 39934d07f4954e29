namespace ThermalTrace.Sessions;

/// <summary>How the model gets its height.</summary>
public enum LaunchKind
{
    /// <summary>Side-arm throw by the wing tip.</summary>
    Discus,
    /// <summary>Javelin throw.</summary>
    Hand,
    /// <summary>Own motor.</summary>
    Electric,
    /// <summary>Winch line.</summary>
    Winch,
    /// <summary>Stretched rubber line.</summary>
    Bungee,
    /// <summary>Behind another model or a runner.</summary>
    Tow,
}

/// <summary>The tube that takes ballast; all mm, centre aft of the wing root's leading edge.</summary>
public sealed record BallastTube(double BoreMm, double LengthMm, double CentreMm);

/// <summary>Pieces of one kind that the pilot owns.</summary>
public sealed record BallastPiece(string Name, string Material, double MassG, double DiameterMm, double LengthMm, int Count);

/// <summary>A section's drag polar: drag coefficient over Reynolds number and lift coefficient; equal lengths.</summary>
public sealed record AirfoilPolar(IReadOnlyList<double> Reynolds, IReadOnlyList<double> Cl, IReadOnlyList<double> Cd);

/// <summary>The model, as <c>airframe.json</c> describes it. Units as in the contract; null where not given.</summary>
public sealed record Airframe
{
    /// <summary>Free text (untrusted).</summary>
    public required string Name { get; init; }

    /// <summary>Of the projected planform, mm.</summary>
    public required double WingSpanMm { get; init; }

    /// <summary>Of the projected planform, dm².</summary>
    public required double WingAreaDm2 { get; init; }

    /// <summary>Ready to fly without ballast, g.</summary>
    public required double UnballastedMassG { get; init; }

    /// <summary>Never to be exceeded, g.</summary>
    public double? MaxFlyingMassG { get; init; }

    /// <summary>How it is launched.</summary>
    public LaunchKind? Launch { get; init; }

    /// <summary>Masses the pilot can fit, g; empty where not given.</summary>
    public IReadOnlyList<double> BallastOptionsG { get; init; } = [];

    /// <summary>Aft of the wing root's leading edge, mm.</summary>
    public double? CgMm { get; init; }

    /// <summary>Forward and aft limit, mm.</summary>
    public (double ForwardMm, double AftMm)? CgLimitsMm { get; init; }

    /// <summary>mm.</summary>
    public double? MeanChordMm { get; init; }

    /// <summary>Aft of the wing root's leading edge, mm.</summary>
    public double? NeutralPointMm { get; init; }

    /// <summary>kg m².</summary>
    public double? PitchInertiaKgM2 { get; init; }

    /// <summary>Where ballast goes.</summary>
    public BallastTube? BallastTube { get; init; }

    /// <summary>Pieces owned.</summary>
    public IReadOnlyList<BallastPiece> BallastStock { get; init; } = [];

    /// <summary>Measured or computed section data, already read.</summary>
    public AirfoilPolar? AirfoilPolar { get; init; }

    /// <summary>The file beside airframe.json that <see cref="AirfoilPolar"/> came from; it is no log.</summary>
    public string? AirfoilPolarFile { get; init; }

    /// <summary>m.</summary>
    public double WingSpanM => WingSpanMm / 1000;

    /// <summary>m².</summary>
    public double WingAreaM2 => WingAreaDm2 / 100;

    /// <summary>Span squared over area.</summary>
    public double AspectRatio => WingSpanM * WingSpanM / WingAreaM2;
}
