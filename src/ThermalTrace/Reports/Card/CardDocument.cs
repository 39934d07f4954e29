namespace ThermalTrace.Reports.Card;

// Mirrors the document thermaltrace.card/1 member for member, as ResultsDocument does. Over the grid every list has one number a
// cell: turbulence runs fastest, then lift, then wind.

/// <summary>The field card: which ballast in which wind, lift and turbulence.</summary>
public sealed record CardDocument
{
    /// <summary>Always thermaltrace.card/1.</summary>
    public string Schema { get; init; } = "thermaltrace.card/1";

    /// <summary>Name and version of the program.</summary>
    public required string Program { get; init; }

    /// <summary>Day on which the card was made, yyyy-MM-dd; null where nobody said.</summary>
    public required string? Made { get; init; }

    /// <summary>Seed of every draw.</summary>
    public required int Seed { get; init; }

    /// <summary>Draws behind every number.</summary>
    public required int Draws { get; init; }

    /// <summary>The model.</summary>
    public required AirframeEntry Airframe { get; init; }

    /// <summary>What the card rests on.</summary>
    public required CardModel Model { get; init; }

    /// <summary>What may be fitted, lightest first.</summary>
    public required IReadOnlyList<CardOption> Options { get; init; }

    /// <summary>Words for turbulence.</summary>
    public required IReadOnlyList<CardTurbulence> Turbulence { get; init; }

    /// <summary>The lifts that are printed.</summary>
    public required IReadOnlyList<CardLift> Lifts { get; init; }

    /// <summary>The winds that are printed, m/s.</summary>
    public required IReadOnlyList<double> PrintedWindsMps { get; init; }

    /// <summary>The numbers.</summary>
    public required CardGrid Grid { get; init; }

    /// <summary>What to mind.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>What the card does not know.</summary>
    public required IReadOnlyList<string> Limits { get; init; }
}

/// <summary>What the card rests on.</summary>
/// <param name="Kind">prediction (geometry alone) or tuned.</param>
/// <param name="Sessions">Sessions.</param>
/// <param name="Flights">Their flights with a known ballast, spoiled ones left out.</param>
/// <param name="Latest">Day of the latest of them, yyyy-MM-dd; null where no log had a date.</param>
public sealed record CardModel(string Kind, int Sessions, int Flights, string? Latest);

/// <summary>One choice.</summary>
/// <param name="BallastG">g.</param>
/// <param name="FlyingMassG">g.</param>
/// <param name="WingLoadingGDm2">g/dm².</param>
/// <param name="Flights">Flown with it.</param>
/// <param name="FlownWindMps">Least and greatest wind of those flights, m/s; empty where not known.</param>
/// <param name="Support">measured, interpolated, extrapolated or predicted: how its polar is known.</param>
public sealed record CardOption(double BallastG, double FlyingMassG, double WingLoadingGDm2, int Flights, IReadOnlyList<double> FlownWindMps, string Support);

/// <summary>A word and the turbulence that it stands for, m^(2/3)/s.</summary>
public sealed record CardTurbulence(string Word, double Edr);

/// <summary>A word and the lift at the core that it stands for, m/s.</summary>
public sealed record CardLift(string Word, double LiftMps);

/// <summary>The numbers over the conditions.</summary>
/// <param name="WindMps">At flying height.</param>
/// <param name="LiftMps">At the core.</param>
/// <param name="Edr">m^(2/3)/s.</param>
/// <param name="BestBallastG">By cell; null where no choice makes way against the wind.</param>
/// <param name="Verdict">By cell: clear, leaning, no_difference or unknown.</param>
/// <param name="HardlyMatters">By cell: no two expectations differ by more than 0.01 m/s.</param>
/// <param name="ProbabilityAlike">By cell: that no two choices differ by more than 0.01 m/s.</param>
/// <param name="Options">In the order of the choices.</param>
/// <param name="Differences">Every pair of choices.</param>
public sealed record CardGrid(IReadOnlyList<double> WindMps, IReadOnlyList<double> LiftMps, IReadOnlyList<double> Edr, IReadOnlyList<double?> BestBallastG,
    IReadOnlyList<string> Verdict, IReadOnlyList<bool> HardlyMatters, IReadOnlyList<double> ProbabilityAlike, IReadOnlyList<CardOptionGrid> Options,
    IReadOnlyList<CardDifference> Differences);

/// <summary>One choice over the conditions; null where the wind is beyond its polar.</summary>
public sealed record CardOptionGrid(double BallastG, IReadOnlyList<double?> RoundTripClimbMps, IReadOnlyList<double?> RoundTripClimbMpsLow,
    IReadOnlyList<double?> RoundTripClimbMpsHigh, IReadOnlyList<double> ProbabilityBest, IReadOnlyList<double> ProbabilityAsGood,
    IReadOnlyList<double?> ClimbMps, IReadOnlyList<double?> ClimbMpsLow, IReadOnlyList<double?> ClimbMpsHigh);

/// <summary>By how much a choice's net climb is ahead of a lighter one's: the bounds of 90 %. The value is the difference of the two.</summary>
public sealed record CardDifference(double BallastG, double ThanBallastG, IReadOnlyList<double?> AheadMpsLow, IReadOnlyList<double?> AheadMpsHigh);
