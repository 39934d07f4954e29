using ThermalTrace.Advice;

namespace ThermalTrace.Jobs;

/// <summary>A day as it was asked about, each thing read and within its bounds, and not yet looked at together.</summary>
internal sealed record AskedDay
{
    public AskedRange? WindMps { get; init; }
    public double? WindHeightM { get; init; }
    public string? Field { get; init; }
    public AskedRange? LiftMps { get; init; }
    public AskedRange? ClimbMps { get; init; }
    public double? ClimbWithG { get; init; }
    public AskedRange? Edr { get; init; }
    public Ground? Ground { get; init; }
    public double? FieldHeightM { get; init; }
    public double? TemperatureK { get; init; }
    public double? TimeS { get; init; }
    public double? ArriveM { get; init; }
    public double? FromHeightM { get; init; }

    /// <summary>Reads it from a form.</summary>
    public static AskedDay Of(TypedForm form) => new()
    {
        WindMps = form.Condition(AskedText.Wind),
        WindHeightM = form.Single(AskedText.WindHeight),
        Field = form.Text("--field"),
        LiftMps = form.Condition(AskedText.Lift),
        ClimbMps = form.Condition(AskedText.Climb),
        ClimbWithG = form.Single(AskedText.With),
        Edr = form.Condition(AskedText.Turbulence),
        Ground = form.Ground(),
        FieldHeightM = form.Single(AskedText.FieldHeight),
        TemperatureK = form.Single(AskedText.Temperature),
        TimeS = form.Single(AskedText.Time),
        ArriveM = form.Single(AskedText.Arrive),
        FromHeightM = form.Single(AskedText.FromHeight),
    };

    /// <summary>The question.</summary>
    /// <exception cref="WrongUsageException">Something is missing or does not go together.</exception>
    public AskedConditions Conditions()
    {
        string? wrong = WindMps is null ? "--wind is missing; expected the wind at flying height, such as --wind 4m/s, --wind 3..6m/s or --wind light"
            : LiftMps is null && ClimbMps is null ? "--lift is missing; expected the rise of the air in a thermal, such as --lift 1.5m/s, --lift weak or --lift none, or in its place the climb seen and its ballast, --climb 0.8m/s --with 30"
            : LiftMps is not null && ClimbMps is not null ? "--lift and --climb say the same thing twice; give one of them"
            : ClimbMps is not null && ClimbWithG is null ? "--climb is missing its ballast; add --with, such as --with 30 (--with 0 for none)"
            : ClimbMps is null && ClimbWithG is not null ? "--with goes with --climb, the climb seen with that ballast"
            : Field is not null && WindHeightM is null ? "--field goes with --wind-height: it tells how the wind read near the ground there compares with the wind above"
            : null;
        return wrong is not null ? throw new WrongUsageException(wrong) : new AskedConditions
        {
            WindMps = WindMps!.Value,
            WindHeightM = WindHeightM,
            Field = Field,
            LiftMps = LiftMps,
            ClimbMps = ClimbMps,
            ClimbWithG = ClimbWithG ?? 0,
            Edr = Edr,
            Ground = Ground ?? Advice.Ground.Grass,
            FieldHeightM = FieldHeightM ?? 0,
            TemperatureK = TemperatureK,
            TimeS = TimeS,
            ArriveM = ArriveM ?? AskedConditions.UsualArriveM,
            FromHeightM = FromHeightM,
        };
    }
}
