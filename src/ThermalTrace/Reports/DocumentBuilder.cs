using System.Globalization;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Logs;
using ThermalTrace.Phases;
using ThermalTrace.Polars;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports;

/// <summary>Puts what the stages found into the contract's document. Nothing is estimated here.</summary>
internal static class DocumentBuilder
{
    /// <summary>Builds document and traces.</summary>
    public static (ResultsDocument Document, SessionTraces Traces) Build(Session session, int seed, IReadOnlyList<FlownFlight> flights, Drag drag, Verdict verdict,
        Diagnosis diagnosis)
    {
        ComparisonOutcome outcome = verdict.Outcome;
        double fastest = outcome.Outcomes.Select(o => o.ReturnAirspeedMps).Where(v => !double.IsNaN(v)).DefaultIfEmpty(0).Max();
        bool measured = drag.Estimate is not null;
        IReadOnlyList<PolarEntry> polars = measured ? PolarEntries.Of(flights, drag, fastest, predictedOnly: false) : [];
        IReadOnlyList<OptionEntry> options = [.. outcome.Outcomes.Select(o => Option(o, flights, drag, polars))];
        ResultsDocument document = new()
        {
            Program = Program,
            Seed = seed,
            Inputs = session.Inputs,
            Airframe = Airframe(session.Airframe),
            Logs = [.. session.Logs.Select(FlightEntries.Log)],
            Flights = [.. flights.Select(f => FlightEntries.Flight(f, session.Logs[f.Flight.Track.Log], session.Airframe, drag, outcome))],
            Polars = polars,
            Model = PolarEntries.Model(drag),
            Comparison = new ComparisonEntry
            {
                Measure = outcome.RoundTrip ? "round_trip_climb" : "still_air_time",
                Conditions = new ConditionsEntry(FlightEntries.Known(outcome.Wind), FlightEntries.Known(outcome.Lift.Value), FlightEntries.Known(outcome.Radius.Value),
                    FlightEntries.Known(verdict.EdrMedian), 0, FlightEntries.Known(outcome.Lift.Low), FlightEntries.Known(outcome.Lift.High),
                    FlightEntries.Known(outcome.Radius.Low), FlightEntries.Known(outcome.Radius.High),
                    FlightEntries.Known(Math.Max(outcome.Wind - PolarEntries.NormalFactor * verdict.WindErrorMps, 0)),
                    FlightEntries.Known(outcome.Wind + PolarEntries.NormalFactor * verdict.WindErrorMps)),
                Options = options,
                BestBallastG = outcome.Best >= 0 ? outcome.Outcomes[outcome.Best].Option.BallastG : null,
                Verdict = outcome.Verdict,
                Why = Sentences.Why(outcome),
                FlyNext = Sentences.FlyNext(outcome, measured),
            },
            Fittings = FittingEntries.All(session.Airframe, outcome.Outcomes.Select(o => o.Option.BallastG), CancellationToken.None),
            Evidence = SessionEvidence.Of(session, flights, drag),
            Diagnostics = DiagnosticsEntries.Of(session, flights, drag, verdict, diagnosis),
            Limits = [.. Doubts.Of(session, flights, diagnosis), .. Limits.Of(session, flights, drag, verdict)],
        };
        return (document, new SessionTraces([.. flights.Select(FlightEntries.Trace)], FlightEntries.Glides(flights, session.Logs, drag)));
    }

    /// <summary>Name and version of the program, as documents carry it.</summary>
    public static string Program => "thermaltrace " + typeof(DocumentBuilder).Assembly.GetName().Version?.ToString(3);

    /// <summary>The airframe as documents list it.</summary>
    public static AirframeEntry Airframe(Airframe airframe) => new(airframe.Name, airframe.WingSpanMm, airframe.WingAreaDm2, airframe.UnballastedMassG,
        airframe.MaxFlyingMassG, airframe.Launch?.ToString().ToLowerInvariant());

    private static OptionEntry Option(OptionOutcome outcome, IReadOnlyList<FlownFlight> flights, Drag drag, IReadOnlyList<PolarEntry> polars)
    {
        FlownFlight[] flown = [.. flights.Where(f => f.Counts && Math.Abs(f.Load.BallastG!.Value - outcome.Option.BallastG) < 0.05)];
        FlownClimb[] climbs = [.. flown.SelectMany(f => f.Climbs)];
        return new OptionEntry
        {
            BallastG = outcome.Option.BallastG,
            FlyingMassG = outcome.Option.MassKg * 1000,
            RoundTripClimbMps = PolarEntries.Interval(outcome.RoundTripMps),
            ClimbMps = PolarEntries.Interval(outcome.ClimbMps),
            ReturnAirspeedMps = FlightEntries.Known(outcome.ReturnAirspeedMps),
            ReturnGlideRatio = outcome.ReturnGlideRatio,
            LaunchHeightM = PolarEntries.Interval(outcome.LaunchHeightM),
            StillAirTimeS = PolarEntries.Interval(outcome.StillAirS),
            Flown = new FlownEntry(flown.Length, climbs.Length == 0 ? null : climbs.Sum(c => c.ClimbMps * c.Seconds) / climbs.Sum(c => c.Seconds)),
            Support = Support(outcome.Option, drag, polars),
            ProbabilityBest = outcome.ProbabilityBest,
        };
    }

    /// <summary>How far an option's polar was measured: itself, between others, beyond them, or not at all.</summary>
    private static string Support(Option option, Drag drag, IReadOnlyList<PolarEntry> polars)
    {
        const double leastPieces = 3; // fewer independent pieces of air are an anecdote
        if (drag.Estimate is null)
        {
            return "predicted";
        }
        double[] measured = [.. polars.Where(p => p.EffectiveGlides >= leastPieces).Select(p => p.BallastG)];
        if (measured.Length == 0)
        {
            return "predicted";
        }
        return measured.Any(b => Math.Abs(b - option.BallastG) < 0.05) ? "measured"
            : measured.Min() < option.BallastG && option.BallastG < measured.Max() ? "interpolated" : "extrapolated";
    }
}
