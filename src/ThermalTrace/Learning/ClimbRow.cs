using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Learning;

/// <summary>
/// A climb of the season as later estimation sees it: how fast the air rose where the model circled, and what is known of the
/// circle. docs/models/season.md eq. 6.
/// </summary>
/// <param name="Session">Index of its session.</param>
/// <param name="Flight">Index of its flight over the whole season.</param>
/// <param name="AirMps">Vertical speed of the air met: gain and sink of the circle together, m/s.</param>
/// <param name="SinkMps">Sink of the circle, m/s.</param>
/// <param name="Inside">Circle's radius over the radius usual at that height.</param>
/// <param name="MassRatio">Flying mass over that of the bare model.</param>
/// <param name="WingLoadingKgM2">Flying mass over wing area.</param>
/// <param name="Edr">m^(2/3)/s.</param>
/// <param name="WindMps">m/s; NaN where not known.</param>
/// <param name="CgMm">NaN where not noted.</param>
/// <param name="Seconds">How long it lasted.</param>
internal sealed record ClimbRow(int Session, int Flight, double AirMps, double SinkMps, double Inside, double MassRatio, double WingLoadingKgM2, double Edr, double WindMps,
    double CgMm, double Seconds)
{
    private const double LeastAirMps = 0.1; // weaker, and the sink of the circle is all there is to see

    /// <summary>The climbs that can be used, of sessions in order.</summary>
    /// <param name="sessions">The sessions.</param>
    /// <param name="prediction">Geometry.</param>
    /// <param name="drag">The tuned drag.</param>
    /// <param name="bareMassKg">Mass without ballast.</param>
    public static IReadOnlyList<ClimbRow> Of(IReadOnlyList<SeasonSession> sessions, Prediction prediction, TunedDrag drag, double bareMassKg)
    {
        double[] ballasts = [.. sessions.SelectMany(s => s.Evidence.Flights).Where(f => f.BallastG is not null).Select(f => f.BallastG!.Value).Distinct().Order()];
        Option[] options = [.. ballasts.Select((b, k) => new Option(b, bareMassKg + b / 1000, k, true))];
        DragTerms terms = new(prediction, options.Length, 0, 0, 1);
        double[] coefficients = drag.Central(options, terms);
        CurveMaker maker = new(terms, prediction.Planform, 0);
        List<ClimbRow> rows = [];
        int flights = 0;
        for (int s = 0; s < sessions.Count; s++)
        {
            SessionEvidence evidence = sessions[s].Evidence;
            foreach (ClimbFact c in evidence.Climbs)
            {
                FlightFact f = evidence.Flights[c.Flight];
                if (!f.Counts || c is not { EstablishedS: > 0, GainMps: { } gain, AirspeedMps: { } v, LoadFactor: { } n } || !(n > 1) || f.Edr is not { } edr)
                {
                    continue;
                }
                double thin = Math.Sqrt(PhysicalConstants.SeaLevelDensityKgM3 / c.DensityKgM3);
                double[] speeds = [v / thin];
                double sink = thin * CurveMaker.Sinks(maker.Factors(speeds, f.MassKg, f.BallastG is { } b ? Array.IndexOf(ballasts, b) : -1, n), speeds, coefficients)[0];
                double radius = v * v / (PhysicalConstants.StandardGravityMps2 * Math.Sqrt(n * n - 1));
                if (gain + sink > LeastAirMps)
                {
                    rows.Add(new ClimbRow(s, flights + c.Flight, gain + sink, sink, radius / ClimbHabit.UsualRadiusM(c.HeightM), f.MassKg / bareMassKg, f.MassKg / prediction.Planform.AreaM2, edr,
                        f.WindMps ?? double.NaN, f.CgMm ?? double.NaN, c.Seconds));
                }
            }
            flights += evidence.Flights.Count;
        }
        return rows;
    }

    /// <summary>Logarithm of what physics says the circle keeps of the core.</summary>
    public double LogKept(ClimbHabit habit)
    {
        double inside = Inside / habit.RadiusFactor;
        return Math.Log(habit.At(0, Edr, 0).Centring(MassRatio)) - inside * inside;
    }
}
