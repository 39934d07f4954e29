using System.Globalization;
using ThermalTrace.Decisions;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports;

/// <summary>What the session could not tell, and why, in plain sentences.</summary>
internal static class Limits
{
    /// <summary>The list, most important first.</summary>
    public static IReadOnlyList<string> Of(Session session, IReadOnlyList<FlownFlight> flights, Drag drag, Verdict verdict)
    {
        List<string> limits = [.. session.Notices];
        string Name(FlownFlight f) => $"{session.Logs[f.Flight.Track.Log].File} flight {f.Flight.Number}";
        string Names(IReadOnlyList<FlownFlight> some) => string.Join(", ", some.Take(6).Select(Name)) + (some.Count > 6 ? $" and {some.Count - 6} more" : "");

        FlownFlight[] deaf = [.. flights.Where(f => f.Air is null)];
        if (deaf.Length == flights.Count)
        {
            limits.Add("No log has satellite positions, so there is no airspeed and no measured polar: the comparison rests on the prediction from geometry, tuned by the sink seen while gliding.");
        }
        else if (deaf.Length > 0)
        {
            limits.Add($"Without satellite positions there is no airspeed: {Names(deaf)} say nothing of the polars.");
        }
        else if (drag.Estimate is null)
        {
            limits.Add("No flight with known ballast has a glide long enough to measure a polar from: the comparison rests on the prediction from geometry.");
        }
        FlownFlight[] unknown = [.. flights.Where(f => f.Load.BallastG is null)];
        if (unknown.Length > 0)
        {
            limits.Add($"Nobody noted the ballast of {Names(unknown)}: left out of every result for a ballast. flights.csv is the place for it.");
        }
        FlownFlight[] spoiled = [.. flights.Where(f => f.Load.Spoiled)];
        if (spoiled.Length > 0)
        {
            limits.Add($"Marked as spoiled and left out of every estimate: {Names(spoiled)}.");
        }
        foreach (FlightNote note in session.Flights.Where(n => !flights.Any(f => FlightNotes.Covers(n, session.Logs[f.Flight.Track.Log], f.Flight.Number, f.Flight.StartS))))
        {
            limits.Add($"flights.csv:{note.Line}: speaks of {note.Log}, in which no flight was found.");
        }
        if (verdict.Outcome.RoundTrip)
        {
            limits.Add("One session shows only the product of lift, thermal radius and centring: the lift at the core and the climb of other ballasts rest on wide assumptions about the other two, and the intervals carry them.");
        }
        if (double.IsNaN(verdict.Outcome.Wind))
        {
            limits.Add("The wind is not known: no log can tell it and none was given (--wind).");
        }
        else if (verdict.WindFromPilot)
        {
            limits.Add(string.Create(CultureInfo.InvariantCulture, $"The wind of {verdict.Outcome.Wind:0.0} m/s is the pilot's own estimate, taken to be right within a quarter."));
        }
        if (drag.Estimate is not null && flights.Where(f => f.Air is not null).All(f => !f.Flight.Track.Density.FromLog))
        {
            limits.Add("No log has air temperature: heights and density are those of the standard atmosphere. On a day 15 °C warmer all heights, and with them all sinks, are about 5 % greater than shown.");
        }
        if (flights.Any(f => f.Air is not null && !f.Flight.Track.Ground!.DelayKnown))
        {
            limits.Add("How far the receiver runs behind the barometer could not be told for every log; the usual 0.6 s was taken.");
        }
        if (session.Logs.All(l => !l.Has(Quantity.VerticalAcceleration) && !l.Has(Quantity.Acceleration)))
        {
            limits.Add("Without an accelerometer the load factor of gusts is not known; how the model was thrown about is told by its energy alone.");
        }
        if (drag.Estimate is not null && drag.Cambers.Count == 0)
        {
            limits.Add("No camber setting is logged or noted: each polar is that of whatever settings were flown.");
        }
        foreach (Option heavy in verdict.TooHeavy)
        {
            limits.Add(string.Create(CultureInfo.InvariantCulture, $"{heavy.BallastG:0.#} g would make {heavy.MassKg * 1000:0} g, above the airframe's limit of {session.Airframe.MaxFlyingMassG:0} g: not compared and never suggested."));
        }
        if (session.Airframe.MaxFlyingMassG is null)
        {
            limits.Add("airframe.json gives no max_flying_mass_g: nothing heavier than the heaviest option or the heaviest mass flown is suggested; ask the maker before going beyond.");
        }
        return limits;
    }
}
