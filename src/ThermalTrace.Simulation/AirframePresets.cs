namespace ThermalTrace.Simulation;

/// <summary>A model of our own invention: geometry, masses, drag and how it is launched.</summary>
internal sealed record AirframePreset
{
    public required string Key { get; init; }
    public required string Name { get; init; }
    public required double SpanM { get; init; }
    public required double AreaM2 { get; init; }
    public required double MassKg { get; init; }
    public required double MaxMassKg { get; init; }
    public required IReadOnlyList<double> BallastsG { get; init; }
    public required SimulatedLaunch Launch { get; init; }
    public required DragCurve Drag { get; init; }

    /// <summary>Typical length of a flight, s.</summary>
    public required double FlightTimeS { get; init; }

    /// <summary>Height where the pilot stops looking for lift and lands, m.</summary>
    public required double LandingHeightM { get; init; }

    /// <summary>Height where the pilot leaves lift because the model grows small, m.</summary>
    public required double CeilingM { get; init; }

    public double MeanChordM => AreaM2 / SpanM;
}

/// <summary>The models that can be simulated; no real product is meant.</summary>
public static class AirframePresets
{
    private static readonly AirframePreset[] All =
    [
        new()
        {
            Key = "discus-1000", Name = "Sorrel 100", SpanM = 1.0, AreaM2 = 0.115, MassKg = 0.118, MaxMassKg = 0.19,
            BallastsG = [0, 20, 40], Launch = SimulatedLaunch.Discus, FlightTimeS = 330, LandingHeightM = 9, CeilingM = 110,
            Drag = new() { AspectRatio = 1.0 / 0.115, ProfileDrag = 0.0122, BodyDrag = 0.0075, MaxLift = 1.1, BucketRise = 0.06 },
        },
        new()
        {
            Key = "discus-1500", Name = "Tansy 150", SpanM = 1.5, AreaM2 = 0.213, MassKg = 0.248, MaxMassKg = 0.42,
            BallastsG = [0, 35, 70], Launch = SimulatedLaunch.Discus, FlightTimeS = 480, LandingHeightM = 11, CeilingM = 180,
            Drag = new() { AspectRatio = 2.25 / 0.213, ProfileDrag = 0.0108, BodyDrag = 0.0068, BucketRise = 0.06 },
        },
        new()
        {
            Key = "hand-1200", Name = "Bracken 120", SpanM = 1.2, AreaM2 = 0.186, MassKg = 0.205, MaxMassKg = 0.32,
            BallastsG = [0, 30], Launch = SimulatedLaunch.Hand, FlightTimeS = 240, LandingHeightM = 4, CeilingM = 110,
            Drag = new() { AspectRatio = 1.44 / 0.186, ProfileDrag = 0.0128, BodyDrag = 0.0085, MaxLift = 1.15, BucketRise = 0.07 },
        },
        new()
        {
            Key = "electric-2000", Name = "Yarrow 200", SpanM = 2.0, AreaM2 = 0.362, MassKg = 0.79, MaxMassKg = 1.35,
            BallastsG = [0, 120, 240], Launch = SimulatedLaunch.Electric, FlightTimeS = 700, LandingHeightM = 14, CeilingM = 260,
            Drag = new() { AspectRatio = 4.0 / 0.362, ProfileDrag = 0.0118, BodyDrag = 0.008, ReynoldsExponent = 0.4, BucketRise = 0.06 },
        },
        new()
        {
            Key = "electric-3600", Name = "Teasel 360", SpanM = 3.6, AreaM2 = 0.685, MassKg = 1.46, MaxMassKg = 2.7,
            BallastsG = [0, 320, 640], Launch = SimulatedLaunch.Electric, FlightTimeS = 900, LandingHeightM = 18, CeilingM = 350,
            Drag = new() { AspectRatio = 12.96 / 0.685, ProfileDrag = 0.0105, BodyDrag = 0.0046, ReynoldsExponent = 0.38, BucketHalfWidth = 0.34, BucketRise = 0.05 },
        },
        new()
        {
            Key = "winch-3000", Name = "Comfrey 300", SpanM = 3.0, AreaM2 = 0.585, MassKg = 1.72, MaxMassKg = 3.4,
            BallastsG = [0, 450, 900], Launch = SimulatedLaunch.Winch, FlightTimeS = 600, LandingHeightM = 16, CeilingM = 300,
            Drag = new() { AspectRatio = 9.0 / 0.585, ProfileDrag = 0.0102, BodyDrag = 0.0048, ReynoldsExponent = 0.4, BucketMiddle = 0.4, BucketRise = 0.05 },
        },
        new()
        {
            Key = "bungee-2500", Name = "Burdock 250", SpanM = 2.5, AreaM2 = 0.498, MassKg = 1.18, MaxMassKg = 2.0,
            BallastsG = [0, 200, 400], Launch = SimulatedLaunch.Bungee, FlightTimeS = 540, LandingHeightM = 14, CeilingM = 260,
            Drag = new() { AspectRatio = 6.25 / 0.498, ProfileDrag = 0.0122, BodyDrag = 0.0072, MaxLift = 1.18, BucketRise = 0.06 },
        },
        new()
        {
            Key = "tow-4000", Name = "Osier 400", SpanM = 4.0, AreaM2 = 0.86, MassKg = 3.6, MaxMassKg = 6.0,
            BallastsG = [0, 700, 1400], Launch = SimulatedLaunch.Tow, FlightTimeS = 900, LandingHeightM = 22, CeilingM = 400,
            Drag = new() { AspectRatio = 16.0 / 0.86, ProfileDrag = 0.0098, BodyDrag = 0.0055, ReynoldsExponent = 0.36, BucketHalfWidth = 0.36, BucketRise = 0.05 },
        },
    ];

    /// <summary>Names to choose from, in a fixed order.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. All.Select(p => p.Key)];

    /// <exception cref="ArgumentException">No preset has this name.</exception>
    internal static AirframePreset Find(string key) => All.FirstOrDefault(p => p.Key == key)
        ?? throw new ArgumentException($"there is no airframe \"{key}\"; there are {string.Join(", ", Names)}", nameof(key));
}
