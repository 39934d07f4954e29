using ThermalTrace.Decisions;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports;

/// <summary>Writes what was found of the fit's soundness into the document.</summary>
internal static class DiagnosticsEntries
{
    private const int MostChecks = 40;

    /// <summary>The entry.</summary>
    public static DiagnosticsEntry Of(Session session, IReadOnlyList<FlownFlight> flights, Drag drag, Verdict verdict, Diagnosis diagnosis)
    {
        bool trip = verdict.Outcome.RoundTrip;
        string File(int flight) => session.Logs[flights[flight].Flight.Track.Log].File;
        return new DiagnosticsEntry
        {
            MisfitProbability = diagnosis.Residuals is { } r ? FlightEntries.Known(r.Probability) : null,
            BySpeed = [.. (diagnosis.Residuals?.BySpeed ?? []).Select(s => new SpeedResidualEntry(s.LowMps, s.HighMps, s.Seconds, s.MeanWhitened, s.SpreadWhitened,
                About(s.SinkMps, s.StandardErrorMps)))],
            ByFlight = [.. drag.Flights.Select((f, k) => Flight(f.Index, File(f.Index), flights, diagnosis.Residuals?.ByFlight[k], diagnosis.Influence?.Flights[k], trip))],
            ByBallast = drag.Estimate is { } estimate ? [.. drag.Options.Select(o => new BallastDiagnosticsEntry(o.BallastG, estimate.EffectiveGlides[o.Ballast]))] : [],
            BallastChecks = [.. diagnosis.Ballasts.Take(MostChecks).Select(b => new BallastCheckEntry(File(b.Flights[0]), b.WholeLog ? null : flights[b.Flights[0]].Flight.Number,
                b.NotedG, b.FliesLikeG, b.LogFactor, b.Glides, b.Circling, b == diagnosis.Doubt))],
            CurveChecks = [.. diagnosis.Curves.Select(c => new CurveCheckEntry([.. c.Flights.Select(f => new FlightNameEntry(File(f), flights[f].Flight.Number))], c.LogFactor,
                c == diagnosis.Change, [.. c.Drag.Select(d => new DragChangeEntry(d.AirspeedMps, About(d.Change, d.StandardError)))]))],
            Barometers = [.. diagnosis.Drifts.Select(d => new BarometerEntry(session.Logs[d.Log].File, About(3600 * d.Drift.RateMps, 3600 * d.Drift.StandardErrorMps),
                -d.Drift.RateMps, d.Drift.Corrected))],
            Pitot = diagnosis.Pitot is { } p ? new PitotEntry(About(p.Factor, p.StandardError), p.Flights) : null,
            ReferenceAirspeedMps = diagnosis.Influence?.ReferenceMps,
            NextGlides = [.. (diagnosis.Influence?.Next ?? []).Select(n => new NextGlidesEntry(n.Option.BallastG, n.AirspeedMps, NextGlides.Glides, NextGlides.SecondsEach,
                trip ? n.LeadNow : null, trip ? n.LeadThen : null, trip ? null : n.LeadNow, trip ? null : n.LeadThen))],
        };
    }

    private static FlightDiagnosticsEntry Flight(int index, string file, IReadOnlyList<FlownFlight> flights, FlightResidual? residual, FlightInfluence? influence, bool trip)
    {
        double? measure = influence is null ? null : FlightEntries.Known(influence.Measure), lead = influence is null ? null : FlightEntries.Known(influence.Lead);
        return new FlightDiagnosticsEntry(file, flights[index].Flight.Number, residual?.Seconds, residual?.SpreadWhitened,
            residual is null ? Interval.Unknown : About(residual.AirMps, residual.StandardErrorMps), influence?.SinkMps,
            trip ? measure : null, trip ? null : measure, trip ? lead : null, trip ? null : lead);
    }

    private static Interval About(double value, double standardError) =>
        new(value, value - PolarEntries.NormalFactor * standardError, value + PolarEntries.NormalFactor * standardError);
}
