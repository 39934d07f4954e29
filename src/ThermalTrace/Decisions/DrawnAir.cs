using MathNet.Numerics.Distributions;
using ThermalTrace.Polars;

namespace ThermalTrace.Decisions;

/// <summary>Lift in one draw.</summary>
/// <param name="CoreMps">At the core.</param>
/// <param name="Lift">How it is worked.</param>
internal sealed record DrawnLift(double CoreMps, Lift Lift);

/// <summary>The air that options are compared in, draw by draw.</summary>
internal interface IDrawnAir
{
    /// <summary>The wind's expected speed, m/s; NaN where not known.</summary>
    double WindMps { get; }

    /// <summary>Turbulence, m^(2/3)/s; NaN where not known.</summary>
    double Edr { get; }

    /// <summary>False where there was no lift.</summary>
    bool Lifted { get; }

    /// <summary>The wind, m/s; NaN where not known.</summary>
    double DrawWindMps(System.Random random);

    /// <summary>The lift, where there is any.</summary>
    DrawnLift DrawLift(System.Random random, ReadOnlySpan<double> coefficients);
}

/// <summary>The air of a session: the wind found, and the lift that its climbs tell of.</summary>
internal sealed class SessionAir : IDrawnAir
{
    private readonly double _windErrorMps;
    private readonly WorkedClimbs? _worked;
    private readonly Func<Lift, Lift>? _lifts;

    /// <summary>Of the flights' mean wind with its standard error, and of the climbs flown with the mass and departure index of each.</summary>
    /// <param name="windMps">Mean over the flights of the wind's speed; NaN where not known.</param>
    /// <param name="windErrorMps">Its standard error.</param>
    /// <param name="edr">Turbulence; NaN where not known.</param>
    /// <param name="climbs">The climbs.</param>
    /// <param name="bareMassKg">Mass without ballast, kg.</param>
    /// <param name="maker">Curves.</param>
    /// <param name="lifts">Every lift that is drawn, as it is to be used.</param>
    public SessionAir(double windMps, double windErrorMps, double edr, IReadOnlyList<(FlownClimb Climb, double MassKg, int Ballast)> climbs, double bareMassKg, CurveMaker maker,
        Func<Lift, Lift>? lifts = null)
    {
        (WindMps, _windErrorMps, Edr, _lifts) = (windMps, windErrorMps, edr, lifts);
        _worked = climbs.Count > 0 ? WorkedClimbs.Of(climbs, bareMassKg, maker) : null;
    }

    public double WindMps { get; }

    public double Edr { get; }

    public bool Lifted => _worked is not null;

    public double DrawWindMps(System.Random random) => double.IsNaN(WindMps) ? double.NaN : Math.Max(0, WindMps + _windErrorMps * Normal.Sample(random, 0, 1));

    public DrawnLift DrawLift(System.Random random, ReadOnlySpan<double> coefficients)
    {
        Lift lift = _worked!.DrawLift(random, Edr);
        lift = _lifts?.Invoke(lift) ?? lift;
        return new DrawnLift(_worked.CoreMps(coefficients, lift), lift);
    }
}
