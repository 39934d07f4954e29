using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Reports.Plan;

/// <summary>Turns a plan into its document.</summary>
internal static class PlanEntries
{
    private const double Ninety = 1.6449; // half a 90 % interval in standard deviations
    private const double FeltLossMps = 0.002; // choosing now gives away less: a fifth of what anybody feels; common practice, no source
    private const double SavedShare = 0.1;    // of that: flights that save less do not pay; common practice, no source

    public static PlanDocument Of(SeasonModel model, TestPlan plan, PlanAsked asked)
    {
        bool worth = plan.Outlooks.Any(Pays);
        return new PlanDocument
        {
            Airframe = DocumentBuilder.Airframe(model.Airframe),
            Model = new PlanModelEntry(model.Sessions.Count, model.Sessions.Sum(s => s.Evidence.Flights.Count(f => f.Counts)), plan.Worth.Factor,
                plan.Worth.Factor * Math.Exp(-Ninety * plan.Worth.LogSpread), plan.Worth.Factor * Math.Exp(Ninety * plan.Worth.LogSpread), plan.LaunchHeightM),
            WorthFlying = worth,
            Why = PlanSentences.Why(plan, worth),
            Decisions = [.. plan.Outlooks.Select(o => Decision(o, plan.Options))],
            Flights = [.. plan.Flights.Select((f, i) => Flight(f, i + 1, plan.Options[f.Option], model))],
            Minutes = Math.Round(plan.TotalS / 60),
            BallastChanges = plan.Changes,
            Growth = [.. plan.Growth.Select(s => new PlanStepEntry(null, s.Flights, s.Lead.Mps, s.Lead.DragMps, s.LossMps))],
            Compared = [.. plan.Compared.Select(s => new PlanStepEntry(s.Name, s.Flights, s.Lead.Mps, s.Lead.DragMps, s.LossMps))],
            Assumptions = PlanSentences.Assumptions(plan, model),
            Cautions = [.. plan.Cautions, PlanSentences.HeavierCaution],
            Seed = asked.Seed,
        };
    }

    /// <summary>Whether flights pay for a decision: it is open, choosing now gives something away, and they save a fair part of that.</summary>
    internal static bool Pays(DecisionOutlook outlook) => outlook.Verdict is not ("clear" or "no_difference")
        && outlook.LossNowMps >= FeltLossMps && outlook.LossNowMps - outlook.LossAfterMps >= SavedShare * outlook.LossNowMps;

    private static PlanDecisionEntry Decision(DecisionOutlook outlook, IReadOnlyList<Option> options)
    {
        PlanDecision d = outlook.Decision;
        double? lead = d.Rival < 0 ? null : d.MeansMps[d.Best] - d.MeansMps[d.Rival];
        return new PlanDecisionEntry
        {
            WindMpsLow = d.Scene.WindMps.Low,
            WindMpsHigh = d.Scene.WindMps.High,
            LiftMpsLow = d.Scene.LiftMps.Low,
            LiftMpsHigh = d.Scene.LiftMps.High,
            EdrLow = d.Scene.Edr.Low,
            EdrHigh = d.Scene.Edr.High,
            BestBallastG = options[d.Options[d.Best]].BallastG,
            RivalBallastG = d.Rival < 0 ? null : options[d.Options[d.Rival]].BallastG,
            LeadMps = new Interval(lead, lead - Ninety * outlook.Now.Mps, lead + Ninety * outlook.Now.Mps),
            SpreadMps = outlook.Now.Mps,
            SpreadAfterMps = outlook.After.Mps,
            SpreadAfterMpsLow = outlook.AfterCalm.Mps,
            SpreadAfterMpsHigh = outlook.AfterRough.Mps,
            SpreadByDragMps = outlook.Now.DragMps,
            SpreadByDragAfterMps = outlook.After.DragMps,
            SpreadByDragAfterMpsLow = outlook.AfterCalm.DragMps,
            SpreadByDragAfterMpsHigh = outlook.AfterRough.DragMps,
            SpreadNotByGlidesMps = outlook.Now.RestMps,
            LossMps = outlook.LossNowMps,
            LossAfterMps = outlook.LossAfterMps,
            Verdict = outlook.Verdict,
            ChanceClear = outlook.ChanceClear,
            ChanceNoDifference = outlook.ChanceAlike,
        };
    }

    private static PlanFlightEntry Flight(PlannedFlight flight, int number, Option option, SeasonModel model)
    {
        SinkCurve curve = Curve(model, option);
        double least = curve.LeastSink().AirspeedMps, glide = curve.BestGlide(0)?.AirspeedMps ?? least;
        return new PlanFlightEntry
        {
            Number = number,
            Session = flight.Session,
            BallastG = option.BallastG,
            FlyingMassG = Math.Round(option.MassKg * 1000, 1),
            Pairs = [.. flight.Card.Pairs.Select(p => new PlanPairEntry(p.AirspeedMps, p.SecondsEach, PlanSentences.Trim(p.AirspeedMps, least, glide), Math.Round(p.HeightM)))],
            FlightTimeS = Math.Round(flight.AirS),
        };
    }

    private static SinkCurve Curve(SeasonModel model, Option option)
    {
        CurveMaker maker = new(new DragTerms(model.Prediction, 1, 0, 0, 1), model.Prediction.Planform, 0);
        double[] speeds = maker.Speeds(option.MassKg), coefficients = new double[maker.Terms.Count];
        for (int j = 0; j < TunedDrag.Airframe; j++)
        {
            coefficients[j] = model.Drag.Mean[j];
        }
        return new SinkCurve(speeds, CurveMaker.Sinks(maker.Factors(speeds, option.MassKg, -1), speeds, coefficients));
    }
}
