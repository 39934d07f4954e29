using ThermalTrace.Phases;

namespace ThermalTrace.Air;

/// <summary>
/// What one flight tells of the wind and of its own speed through it. Arrays run over the flight's grid points (the first
/// is <see cref="Flight.First"/>) and hold NaN where the receiver had no fix for long.
/// </summary>
internal sealed record FlightAir
{
    /// <summary>The flight.</summary>
    public required Flight Flight { get; init; }

    /// <summary>East and north component of the air's motion where the model is, m/s.</summary>
    public required double[] WindEastMps { get; init; }

    /// <summary>North component, m/s.</summary>
    public required double[] WindNorthMps { get; init; }

    /// <summary>
    /// Speed relative to the slow wind, m/s: what kinetic energy goes with. A gust of some seconds that carries the model
    /// along is in it, though the model's speed through the air has not changed.
    /// </summary>
    public required double[] InertialSpeedMps { get; init; }

    /// <summary>
    /// True airspeed as far as pilot and trim make it, m/s: what drag goes with. It is the smoother's expectation given
    /// everything logged, so its error is independent of it; taking <see cref="InertialSpeedMps"/> instead would put the gusts
    /// into the regressor and flatten the polar.
    /// </summary>
    public required double[] AirspeedMps { get; init; }

    /// <summary>Error variance of the airspeed that does not last over the flight, m²/s².</summary>
    public required double[] AirspeedVarianceM2ps2 { get; init; }

    /// <summary>Direction of flight through the air, radians clockwise from north.</summary>
    public required double[] HeadingRad { get; init; }

    /// <summary>Load factor of the turn being flown.</summary>
    public required double[] LoadFactor { get; init; }

    /// <summary>True where the model circles.</summary>
    public required bool[] Circling { get; init; }

    /// <summary>Mean wind over the airborne time.</summary>
    public required MeanWind Wind { get; init; }

    /// <summary>Factor by which the pitot reads high (1 is right) with its standard error; null without a pitot.</summary>
    public required (double Factor, double StandardError)? PitotFactor { get; init; }
}

/// <summary>Mean wind of a flight, the way the air moves, with its covariance; m/s and m²/s².</summary>
internal sealed record MeanWind(double EastMps, double NorthMps, double VarianceEast, double VarianceNorth, double CovarianceEastNorth)
{
    private const double Misfit = 1.5; // by which errors exceed the smoother's own account of them in simulations: docs/calibration.md

    /// <summary>Root mean square over east and north, m/s, the pilot's and the wind's departures from the smoother's model allowed for.</summary>
    public double StandardErrorMps => Misfit * Math.Sqrt(0.5 * (VarianceEast + VarianceNorth));

    /// <summary>m/s.</summary>
    public double SpeedMps => Math.Sqrt(EastMps * EastMps + NorthMps * NorthMps);

    /// <summary>Where it blows from, degrees clockwise from north.</summary>
    public double FromDeg => (Math.Atan2(-EastMps, -NorthMps) * 180 / Math.PI + 360) % 360;
}

/// <summary>How pilot and wind vary: the wind estimator's hyperparameters.</summary>
/// <param name="CirclingDriftMps">How far the speed a pilot holds wanders in 10 s of circling, m/s.</param>
/// <param name="GlidingDriftMps">The same when gliding, where speeds are changed on purpose.</param>
/// <param name="WindMps">Standard deviation of the wind's slow departures from its mean in a flight, each component, m/s.</param>
/// <param name="WindS">Their correlation time, s.</param>
/// <param name="GustScale">Gusts that carry the model along, over what the turbulence found lets expect: circles tell them from the pilot's own changes of speed, for they keep their direction.</param>
internal sealed record WindHabits(double CirclingDriftMps, double GlidingDriftMps, double WindMps, double WindS, double GustScale)
{
    /// <summary>Where the search begins; common practice, no source.</summary>
    public static readonly WindHabits Usual = new(0.2, 0.7, 0.4, 60, 1);
}
