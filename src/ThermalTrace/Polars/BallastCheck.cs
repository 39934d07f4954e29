using ThermalTrace.Air;
using ThermalTrace.Tracks;

namespace ThermalTrace.Polars;

/// <summary>Flights that would have carried another ballast than was noted, and how much likelier that makes them.</summary>
/// <param name="Flights">Indices among the flights that were looked at.</param>
/// <param name="Candidate">Index of the ballast that they fly like.</param>
/// <param name="LogFactor">Natural logarithm of the Bayes factor against what was noted.</param>
internal sealed record BallastSuspicion(IReadOnlyList<int> Flights, int Candidate, double LogFactor);

/// <summary>
/// Whether some flights fly like another mass than was noted: the density of their glides under each candidate mass, the drag
/// curve known from the other flights, wind error and the flight's mean air motion integrated out. docs/models/checks.md.
/// </summary>
internal static class BallastCheck
{
    private const double MotionMps = 0.10;               // of a flight's air as a whole, beyond what the fit's own air allows for
    private const double LowestCl = 0.10, HighestCl = 1.10; // inside the limits of the rows, for every candidate mass: all see the same points

    /// <summary>Every suspicion, the likeliest first: each group under each other candidate.</summary>
    /// <param name="flights">The flights of the fit.</param>
    /// <param name="groups">Groups of flights whose ballast is one note; indices into <paramref name="flights"/>.</param>
    /// <param name="massesKg">Flying mass with each candidate ballast.</param>
    /// <param name="estimate">The fit.</param>
    /// <param name="planform">Geometry.</param>
    public static IReadOnlyList<BallastSuspicion> Look(IReadOnlyList<GlideFlight> flights, IReadOnlyList<IReadOnlyList<int>> groups, IReadOnlyList<double> massesKg,
        PolarEstimate estimate, Planform planform)
    {
        DragTerms terms = estimate.Terms;
        int size = terms.Count + 1, motion = terms.Count;
        FlightEvidence? Evidence(GlideFlight flight) => GlideRows.Build(flight, terms, planform, estimate.Mean) is { } rows
            ? FlightEvidence.Of(AddedColumns.With(rows, (motion, AddedColumns.RisingAir(rows))), estimate.Noise, size).Without(motion, 1 / (MotionMps * MotionMps))
            : null;
        GlideFlight[] alike = [.. flights.Select(f => f with { Air = Within(f.Air, [.. massesKg, f.MassKg], planform) })];
        FlightEvidence?[] noted = [.. alike.Select(Evidence)];
        FlightEvidence?[][] candidates = [.. alike.Select((f, k) => massesKg.Select((mass, b) => b == f.Ballast ? noted[k] : Evidence(f with { MassKg = mass, Ballast = b })).ToArray())];
        FlightEvidence all = FlightEvidence.Sum(noted.OfType<FlightEvidence>(), size);
        List<BallastSuspicion> found = [];
        foreach (IReadOnlyList<int> group in groups)
        {
            int[] usable = [.. group.Where(k => noted[k] is not null && candidates[k].All(c => c is not null))];
            if (usable.Length == 0)
            {
                continue;
            }
            FlightEvidence own = FlightEvidence.Sum(usable.Select(k => noted[k]!), size);
            KnownTerms others = KnownTerms.From(terms, all.Plus(own, -1));
            double plain = own.LogDensity(others);
            for (int b = 0; b < massesKg.Count; b++)
            {
                if (usable.All(k => flights[k].Ballast != b))
                {
                    found.Add(new BallastSuspicion(group, b, FlightEvidence.Sum(usable.Select(k => candidates[k][b]!), size).LogDensity(others) - plain));
                }
            }
        }
        return [.. found.OrderByDescending(s => s.LogFactor)];
    }

    /// <summary>The flight without the points that some candidate mass could not have flown: likelihoods compare only over the same points.</summary>
    private static FlightAir Within(FlightAir air, double[] massesKg, Planform planform)
    {
        double[] airspeed = (double[])air.AirspeedMps.Clone();
        double light = massesKg.Min(), heavy = massesKg.Max();
        Track track = air.Flight.Track;
        for (int k = 0; k < airspeed.Length; k++)
        {
            double density = track.Density.AtKgM3(track.SmoothAltitudeM[Math.Min(air.Flight.First + k, track.Count - 1)]);
            double n = air.LoadFactor[k];
            if (!(planform.Cl(airspeed[k], n, light, density) > LowestCl && planform.Cl(airspeed[k], n, heavy, density) < HighestCl))
            {
                airspeed[k] = double.NaN;
            }
        }
        return air with { AirspeedMps = airspeed };
    }
}
