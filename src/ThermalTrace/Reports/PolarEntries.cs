using ThermalTrace.Air;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Units;

namespace ThermalTrace.Reports;

/// <summary>Writes polars and drag parameters into the document.</summary>
internal static class PolarEntries
{
    private const int FlownPoints = 33;
    private const double BeyondStepMps = 0.5;
    private const int MostDraws = 600;
    public const double NormalFactor = 1.6449; // 95 % point of the normal

    /// <summary>Polars of the options that were flown with airspeed; with <paramref name="predictedOnly"/> of all options, from geometry alone.</summary>
    public static IReadOnlyList<PolarEntry> Of(IReadOnlyList<FlownFlight> flights, Drag drag, double fastestUsedMps, bool predictedOnly)
    {
        List<PolarEntry> entries = [];
        int stride = Math.Max(1, drag.Draws.Length / MostDraws);
        double[][] draws = [.. drag.Draws.Where((_, d) => d % stride == 0)];
        for (int k = 0; k < drag.Options.Count; k++)
        {
            Option option = drag.Options[k];
            List<GlideFlight> flown = [.. drag.Flights.Where(f => f.Flight.Ballast == k).Select(f => f.Flight)];
            double[] range = predictedOnly ? [] : FlownRange(flown);
            if (range.Length == 0 && !predictedOnly)
            {
                continue;
            }
            entries.Add(Entry(option, k, flown, range, drag, draws, fastestUsedMps));
        }
        return entries;
    }

    private static PolarEntry Entry(Option option, int ballast, List<GlideFlight> flown, double[] range, Drag drag, double[][] draws, double fastestUsedMps)
    {
        CurveMaker maker = drag.Maker;
        double[] full = maker.Speeds(option.MassKg);
        double[][][] fullFactors = maker.Factors(full, option.MassKg, ballast);
        SinkCurve central = new(full, CurveMaker.Sinks(fullFactors, full, drag.Central));
        SinkCurve[] curves = [.. draws.Select(d => new SinkCurve(full, CurveMaker.Sinks(fullFactors, full, d)))];

        List<PenetrationEntry> penetration = [];
        for (int wind = 0; wind <= 12; wind++)
        {
            if (wind < full[^1] && central.BestGlide(wind) is { } best && best.AirspeedMps < full[^1] - 1e-9)
            {
                Band ratio = Band.Of(curves.Select(c => c.BestGlide(wind)?.Ratio ?? 0));
                penetration.Add(new PenetrationEntry(wind, best.AirspeedMps, Interval(new Band(best.Ratio, Math.Min(ratio.Low, best.Ratio), Math.Max(ratio.High, best.Ratio)))));
            }
        }
        List<(double V, bool Flown)> speeds = [];
        double start = range.Length > 0 ? range[0] : full[0], end = range.Length > 0 ? range[1] : full[^1];
        for (int i = 0; i < FlownPoints; i++)
        {
            speeds.Add((start + (end - start) * i / (FlownPoints - 1), range.Length > 0));
        }
        double last = Math.Min(Math.Max(fastestUsedMps, penetration.Select(p => p.AirspeedMps).DefaultIfEmpty(0).Max()), full[^1]);
        for (double v = end + BeyondStepMps; v < last; v += BeyondStepMps)
        {
            speeds.Add((v, false));
        }
        if (last > end + 1e-6)
        {
            speeds.Add((last, false));
        }
        double[] at = [.. speeds.Select(s => s.V)];
        double[][][] factors = maker.Factors(at, option.MassKg, ballast);
        double[] sinks = CurveMaker.Sinks(factors, at, drag.Central), predicted = CurveMaker.Sinks(factors, at, maker.Terms.PredictedMean());
        double[][] spread = [.. draws.Select(d => CurveMaker.Sinks(factors, at, d))];
        List<CurvePoint> curve = [];
        for (int i = 0; i < at.Length; i++)
        {
            Band band = Band.Of(spread.Select(s => s[i]));
            curve.Add(new CurvePoint(at[i], sinks[i], Math.Min(band.Low, sinks[i]), Math.Max(band.High, sinks[i]), predicted[i], speeds[i].Flown));
        }
        (double minV, double minS) = central.LeastSink();
        (double glideV, double glide) = central.BestGlide(0)!.Value;
        return new PolarEntry
        {
            BallastG = option.BallastG,
            FlyingMassG = option.MassKg * 1000,
            Camber = null,
            Glides = flown.Sum(f => Glides(f)),
            EffectiveGlides = drag.Estimate?.EffectiveGlides[ballast] ?? 0,
            FlownAirspeedMps = range,
            Curve = curve,
            MinSink = new MinSinkEntry(About(minS, curves.Select(c => c.LeastSink().SinkMps)), About(minV, curves.Select(c => c.LeastSink().AirspeedMps))),
            BestGlide = new BestGlideEntry(About(glide, curves.Select(c => c.BestGlide(0)!.Value.Ratio)), About(glideV, curves.Select(c => c.BestGlide(0)!.Value.AirspeedMps))),
            Penetration = penetration,
        };
    }

    private static int Glides(GlideFlight flight)
    {
        int glides = 0;
        GlideRows.VisitGlides(flight.Air, (_, _, fresh) => glides += fresh ? 1 : 0);
        return glides;
    }

    /// <summary>The middle 90 % of airspeeds flown gliding, at sea-level density, gusts included; empty with none.</summary>
    private static double[] FlownRange(List<GlideFlight> flights)
    {
        List<double> speeds = [];
        foreach (GlideFlight flight in flights)
        {
            double gust = Math.Sqrt(flight.GustVarianceM2ps2 * (1 - WindEstimator.GustShare * WindEstimator.GustShare));
            GlideRows.VisitGlides(flight.Air, (i, k, _) =>
            {
                double factor = Math.Sqrt(flight.Air.Flight.Track.Density.AtKgM3(flight.Air.Flight.Track.SmoothAltitudeM[i]) / PhysicalConstants.SeaLevelDensityKgM3);
                // Of gusts the smoothed speed holds a share, but they were flown whole: three equally likely ones stand for the rest.
                foreach (double z in (ReadOnlySpan<double>)[-1.2247, 0, 1.2247])
                {
                    speeds.Add((flight.Air.AirspeedMps[k] + z * gust) * factor);
                }
            });
        }
        if (speeds.Count < 60)
        {
            return [];
        }
        speeds.Sort();
        return [speeds[(int)(0.05 * (speeds.Count - 1))], speeds[(int)(0.95 * (speeds.Count - 1))]];
    }

    /// <summary>The airframe's parameters in words, predicted and tuned.</summary>
    public static ModelEntry Model(Drag drag)
    {
        DragCurve curve = drag.Prediction.Curve, spread = drag.Prediction.Spread;
        List<ParameterEntry> parameters = [];
        void Add(string name, double mean, double sd, int term, double offset)
        {
            Interval tuned = drag.Estimate is null && drag.Draws.Length == 0
                ? Reports.Interval.Unknown
                : Interval(Band.Of(drag.Draws.Select(d => d[term] + offset)));
            parameters.Add(new ParameterEntry(name, new Interval(mean, mean - NormalFactor * sd, mean + NormalFactor * sd), tuned));
        }
        Add("parasite drag coefficient", curve.Cd0, spread.Cd0, DragTerms.Cd0, 0);
        Add("Reynolds number exponent of parasite drag", curve.ReynoldsExponent, spread.ReynoldsExponent, DragTerms.Exponent, curve.ReynoldsExponent);
        Add("rise of profile drag with lift", curve.ProfileRise, spread.ProfileRise, DragTerms.Rise, 0);
        Add("lift coefficient of least profile drag", curve.LeastDragCl, spread.LeastDragCl, DragTerms.LeastCl, curve.LeastDragCl);
        Add("induced drag over the ideal wing's", curve.InverseSpanEfficiency, spread.InverseSpanEfficiency, DragTerms.Induced, 0);
        Add("drag rise towards the stall", curve.StallRise, spread.StallRise, DragTerms.Stall, 0);
        return new ModelEntry(parameters);
    }

    /// <summary>The document's interval for a band; all null where it is not known.</summary>
    public static Interval Interval(Band band) => band.IsKnown ? new Interval(band.Value, band.Low, band.High) : Reports.Interval.Unknown;

    private static Interval About(double value, IEnumerable<double> draws)
    {
        Band band = Band.Of(draws);
        return new Interval(value, Math.Min(band.Low, value), Math.Max(band.High, value));
    }
}
