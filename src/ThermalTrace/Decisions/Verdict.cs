using ThermalTrace.Phases;
using ThermalTrace.Sessions;

namespace ThermalTrace.Decisions;

/// <summary>The comparison with what it rests on.</summary>
/// <param name="Outcome">How the options fared.</param>
/// <param name="EdrMedian">Median over flights, m^(2/3)/s; NaN where not known.</param>
/// <param name="WindFromPilot">True where the wind is the pilot's own estimate.</param>
/// <param name="WindErrorMps">Standard error of the wind taken, m/s.</param>
/// <param name="Again">The same comparison for other draws of the drag terms, all else drawn alike.</param>
internal sealed record Verdict(ComparisonOutcome Outcome, double EdrMedian, bool WindFromPilot, double WindErrorMps, Func<double[][], ComparisonOutcome> Again)
{
    private const double PilotsWindError = 0.25; // of the pilot's own estimate; common practice, no source

    /// <summary>Compares the options at the session's conditions; the last two show what not knowing lift or wind is good for.</summary>
    public static Verdict Reach(IReadOnlyList<FlownFlight> flights, Airframe airframe, Drag drag, double? pilotsWindMps, int seed, CancellationToken cancel,
        Func<Lift, Lift>? lifts = null, bool windKnown = false)
    {
        cancel.ThrowIfCancellationRequested();
        double[] winds = [.. flights.Where(f => f.Air is not null && !f.Load.Spoiled).Select(f => f.Air!.Wind.SpeedMps)];
        double[] errors = [.. flights.Where(f => f.Air is not null && !f.Load.Spoiled).Select(f => f.Air!.Wind.StandardErrorMps)];
        bool own = winds.Length == 0 && pilotsWindMps is not null;
        double wind = winds.Length > 0 ? winds.Average() : pilotsWindMps ?? double.NaN;
        double windError = windKnown ? 0
            : winds.Length > 0 ? double.Hypot(Math.Sqrt(errors.Sum(e => e * e)) / winds.Length, Drag.AirspeedSpread(flights))
            : PilotsWindError * (pilotsWindMps ?? 0);
        double[] edrs = [.. flights.Where(f => f.Turbulence.IsKnown).Select(f => f.Turbulence.Edr).Order()];
        double edr = edrs.Length > 0 ? edrs[edrs.Length / 2] : double.NaN;
        List<(FlownClimb, double, int)> climbs = [];
        List<(double, double, double)> launches = [];
        foreach (FlownFlight f in flights.Where(f => !f.Load.Spoiled))
        {
            double mass = (f.Load.FlyingMassG ?? airframe.UnballastedMassG) / 1000;
            int ballast = f.Counts ? Drag.IndexOf(drag.Options, f.Load.BallastG!.Value) : -1;
            climbs.AddRange(f.Climbs.Select(c => (c, mass, ballast)));
            if (f.Counts && f.Flight.Segments[0].Kind == PhaseKind.Launch)
            {
                launches.Add((f.Flight.LaunchHeightM(f.Flight.Segments[0]), mass * 1000 / airframe.UnballastedMassG, f.Air?.Wind.SpeedMps ?? (double.IsNaN(wind) ? 0 : wind)));
            }
        }
        LaunchHeights? heights = LaunchHeights.Fit(launches, airframe.Launch);
        double bareMassKg = airframe.UnballastedMassG / 1000;
        SessionAir air = new(wind, windError, edr, climbs, bareMassKg, drag.Maker, lifts);
        ComparisonOutcome Compare(double[][] draws) =>
            Comparison.Run(new DrawnOptions(drag.Options, bareMassKg, drag.Maker, draws, Comparison.Most), air, heights, seed + 1);
        return new Verdict(Compare(drag.Draws), edr, own, windError, Compare);
    }
}
