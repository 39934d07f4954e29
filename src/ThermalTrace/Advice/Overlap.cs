using ThermalTrace.Decisions;
using ThermalTrace.Learning;

namespace ThermalTrace.Advice;

/// <summary>What an option rests on in the air asked for.</summary>
/// <param name="Support">measured, interpolated, extrapolated or predicted.</param>
/// <param name="Flights">With this ballast, in any air.</param>
/// <param name="ClimbMps">Their mean climb, m/s; null without climbs.</param>
/// <param name="FlownInOtherAir">True where it was flown well enough, but never in air like this.</param>
/// <param name="FlownWindMps">Winds that it was flown in; null where not known.</param>
/// <param name="FlownEdr">Turbulence that it was flown in; null where not known.</param>
internal sealed record Rests(string Support, int Flights, double? ClimbMps, bool FlownInOtherAir, AskedRange? FlownWindMps, AskedRange? FlownEdr);

/// <summary>
/// Pilots fit ballast when it blows. What a ballast did in wind says little of a calm: there the advice rests on physics, and must say so.
/// docs/models/advice.md.
/// </summary>
internal static class Overlap
{
    private const int LeastFlights = 3;           // fewer are an anecdote
    private const double NearMps = 1.5, NearShare = 0.25; // winds that are alike; common practice, no source
    private const double EdrFactor = 2;           // turbulence that is alike; its own intervals are as wide

    /// <summary>Of every option.</summary>
    public static IReadOnlyList<Rests> Of(SeasonModel model, BallastChoices choices, AskedAir air)
    {
        Band wind = Band.Of(air.Draws.Select(d => d.WindMps)), edr = Band.Of(air.Draws.Select(d => d.Edr));
        double near = Math.Max(NearMps, NearShare * wind.Value);
        bool Alike(FlightFact f) => f.WindMps is { } w && w >= wind.Low - near && w <= wind.High + near
            && (f.Edr is not { } e || (e >= edr.Low / EdrFactor && e <= edr.High * EdrFactor));
        static AskedRange? Around(IEnumerable<double?> values)
        {
            double[] known = [.. values.OfType<double>()];
            return known.Length == 0 ? null : new AskedRange(known.Min(), known.Max());
        }
        List<(FlightFact Flight, ClimbFact[] Climbs)> flown = [];
        foreach (SessionEvidence evidence in model.Sessions.Select(s => s.Evidence))
        {
            ILookup<int, ClimbFact> climbs = evidence.Climbs.ToLookup(c => c.Flight);
            flown.AddRange(evidence.Flights.Select((f, i) => (f, climbs[i].ToArray())).Where(f => f.f is { Counts: true, BallastG: not null }));
        }
        List<(Rests Rests, bool Measured)> each = [];
        foreach (BallastChoice choice in choices.All)
        {
            double ballast = choice.Option.BallastG;
            (FlightFact Flight, ClimbFact[] Climbs)[] own = [.. flown.Where(f => Math.Abs(f.Flight.BallastG!.Value - ballast) < TunedDrag.SameBallastG)];
            int term = model.Drag.IndexOf(ballast);
            bool told = term >= 0 && model.Drag.Pieces[term] > 0 && own.Count(f => f.Flight.GlideWayM > 0) >= LeastFlights;
            bool here = told && own.Count(f => Alike(f.Flight)) >= LeastFlights;
            ClimbFact[] rates = [.. own.SelectMany(f => f.Climbs)];
            each.Add((new Rests("", own.Length, rates.Length == 0 ? null : rates.Sum(c => c.ClimbMps * c.Seconds) / rates.Sum(c => c.Seconds), told && !here,
                Around(own.Select(f => f.Flight.WindMps)), Around(own.Select(f => f.Flight.Edr))), here));
        }
        double[] measured = [.. choices.All.Where((_, k) => each[k].Measured).Select(c => c.Option.BallastG)];
        return [.. each.Select((e, k) => e.Rests with { Support = Support(choices.All[k].Option.BallastG, e.Measured, e.Rests.FlownInOtherAir, measured) })];
    }

    /// <summary>The weaker of two.</summary>
    public static string Weaker(string one, string other)
    {
        string[] order = ["measured", "interpolated", "extrapolated", "predicted"];
        return Array.IndexOf(order, one) >= Array.IndexOf(order, other) ? one : other;
    }

    private static string Support(double ballastG, bool here, bool elsewhere, double[] measured) =>
        here ? "measured"
        : elsewhere || measured.Length == 0 ? "predicted"
        : measured.Min() < ballastG && ballastG < measured.Max() ? "interpolated"
        : "extrapolated";
}
