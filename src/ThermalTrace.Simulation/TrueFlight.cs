namespace ThermalTrace.Simulation;

/// <summary>One flight as it truly was, step by step, for whoever wants to know how well an estimate could have done.</summary>
/// <param name="LogStem">Its log's file name without ending.</param>
/// <param name="Number">In that log, counted from 1.</param>
/// <param name="BallastG">g.</param>
/// <param name="MassKg">Flying mass, kg.</param>
/// <param name="StepS">Time between moments, s.</param>
/// <param name="Moments">From the wait before the launch to the walk back after the landing.</param>
public sealed record TrueFlight(string LogStem, int Number, double BallastG, double MassKg, double StepS, IReadOnlyList<TrueMoment> Moments)
{
    internal static TrueFlight Of(LoggedFlight logged) => new(logged.Stem, logged.Number, logged.Flight.Model.BallastG, logged.Flight.Model.MassKg, Glider.StepS,
    [
        .. logged.Flight.Moments.Select(m => new TrueMoment(m.TimeS - logged.LogOriginS, m.Phase.ToString().ToLowerInvariant(), m.HeightM, m.AirspeedMps,
            m.GroundEastMps - m.Air.EastMps, m.GroundNorthMps - m.Air.NorthMps, m.Air.EastMps, m.Air.NorthMps, m.Air.UpMps, m.Air.Edr, m.DensityKgM3)),
    ]);
}

/// <summary>What was true of one step.</summary>
/// <param name="TimeS">s from the log's first row.</param>
/// <param name="Kind">ground, launch, glide, climb or landing.</param>
/// <param name="HeightM">Above the field, m.</param>
/// <param name="AirspeedMps">True airspeed, m/s.</param>
/// <param name="ThroughAirEastMps">East component of the velocity through the air, m/s.</param>
/// <param name="ThroughAirNorthMps">North component, m/s.</param>
/// <param name="AirEastMps">The way the air moves where the model is, gusts included, east component, m/s.</param>
/// <param name="AirNorthMps">North component, m/s.</param>
/// <param name="AirUpMps">Up, m/s.</param>
/// <param name="Edr">Eddy dissipation rate to the power 1/3 there, m^(2/3)/s.</param>
/// <param name="DensityKgM3">Of the air there, kg/m³.</param>
public sealed record TrueMoment(double TimeS, string Kind, double HeightM, double AirspeedMps, double ThroughAirEastMps, double ThroughAirNorthMps,
    double AirEastMps, double AirNorthMps, double AirUpMps, double Edr, double DensityKgM3);
