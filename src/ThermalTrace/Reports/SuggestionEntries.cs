using ThermalTrace.Advice;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Reports.Fitting;

namespace ThermalTrace.Reports;

/// <summary>An option in other air than the session's, with why it is never suggested.</summary>
internal sealed record LiveOptionEntry : OptionEntry
{
    public required Refusal Refusal { get; init; }
}

/// <summary>Advice as its document lists it.</summary>
internal static class SuggestionEntries
{
    /// <summary>The document.</summary>
    public static SuggestionDocument Document(SeasonModel model, Advised advised, int seed)
    {
        ComparisonOutcome comparison = advised.Comparison;
        double? suggested = comparison.Best < 0 ? null : advised.Options[comparison.Best].Choice.Option.BallastG;
        return new SuggestionDocument
        {
            Program = DocumentBuilder.Program,
            Seed = seed,
            Airframe = DocumentBuilder.Airframe(model.Airframe),
            Conditions = Conditions(advised),
            Measure = comparison.RoundTrip ? "round_trip_climb" : "still_air_time",
            Options = [.. advised.Options.Select(Option)],
            SuggestedBallastG = suggested,
            SuggestedRangeG = advised.RangeG is { } range ? [range.LowG, range.HighG] : [],
            Fitting = suggested is { } ballast && FittingEntries.Best(model.Airframe, [ballast], CancellationToken.None) is [var fitting] ? fitting : null,
            Verdict = comparison.Verdict,
            Support = advised.Support,
            Why = SuggestionSentences.Why(advised),
            SwitchPoints = [.. advised.WindSwitches.Select(s => Switch("wind", s, advised)), .. advised.LiftSwitches.Select(s => Switch("lift", s, advised))],
            Model = Model(model),
            Cautions = SuggestionCautions.Of(model, advised),
            Limits = SuggestionCautions.Limits(model, advised),
        };
    }

    /// <summary>Choices that were compared in some air, in the form of a debrief's own comparison.</summary>
    public static ComparisonEntry Comparison(ComparedChoices compared, BallastChoices choices, AskedConditions asked)
    {
        (_, AskedAir air, ComparisonOutcome outcome, IReadOnlyList<Rests> rests) = compared;
        return new ComparisonEntry
        {
            Measure = outcome.RoundTrip ? "round_trip_climb" : "still_air_time",
            Conditions = new ConditionsEntry(asked.WindMps.Middle, asked.LiftMps?.Middle, air.Lifted ? air.Draws.Average(d => d.Lift.RadiusM) : null, asked.Edr?.Middle, 0,
                null, null, null, null, null, null),
            Options = [.. outcome.Outcomes.Select((o, k) => new LiveOptionEntry
            {
                Refusal = choices.All[k].Refusal,
                BallastG = o.Option.BallastG,
                FlyingMassG = o.Option.MassKg * 1000,
                RoundTripClimbMps = PolarEntries.Interval(o.RoundTripMps),
                ClimbMps = PolarEntries.Interval(o.ClimbMps),
                ReturnAirspeedMps = FlightEntries.Known(o.ReturnAirspeedMps),
                ReturnGlideRatio = o.ReturnGlideRatio,
                LaunchHeightM = PolarEntries.Interval(o.LaunchHeightM),
                StillAirTimeS = PolarEntries.Interval(o.StillAirS),
                Flown = new FlownEntry(rests[k].Flights, rests[k].ClimbMps),
                Support = rests[k].Support,
                ProbabilityBest = o.ProbabilityBest,
            })],
            BestBallastG = outcome.Best < 0 ? null : outcome.Outcomes[outcome.Best].Option.BallastG,
            Verdict = outcome.Verdict,
            Why = Sentences.Why(outcome),
            FlyNext = "",
        };
    }

    private static SuggestionModelEntry Model(SeasonModel model)
    {
        int flights = model.Sessions.Sum(s => s.Evidence.Flights.Count(f => f.Counts)), climbs = model.Sessions.Sum(s => s.Evidence.Climbs.Count);
        return new SuggestionModelEntry(model.Learned.Kind, model.Sessions.Count, flights, climbs, model.Learned.CrossValidatedErrorMps, model.Learned.PhysicsOnlyErrorMps)
        {
            Learned = model.Learned.Why,
            Compared = model.Learned.Compared,
            Changes = Changes(model.Changes),
        };
    }

    /// <summary>When the airframe changed.</summary>
    public static IReadOnlyList<ModelChangeEntry> Changes(IReadOnlyList<SeasonChange> changes) =>
        [.. changes.Select(c => new ModelChangeEntry(c.SessionId, c.Since, PolarEntries.Interval(c.Share)))];

    private static SuggestionConditionsEntry Conditions(Advised advised)
    {
        AskedConditions asked = advised.Asked;
        AskedAir air = advised.Air;
        (double wind, double calmest, double strongest) = Spread(air.Draws.Select(d => d.WindMps), asked.WindHeightM is null ? asked.WindMps : null);
        (double edr, double smoothest, double roughest) = Spread(air.Draws.Select(d => d.Edr), asked.Edr);
        (double lift, double weakest, double best) = Spread(air.Draws.Select(d => d.CoreMps), asked.LiftMps);
        return new SuggestionConditionsEntry
        {
            WindMps = wind,
            WindMpsLow = calmest,
            WindMpsHigh = strongest,
            WindReadMps = asked.WindHeightM is null ? null : asked.WindMps.Middle,
            WindReadHeightM = asked.WindHeightM,
            FlyingHeightM = SurfaceWind.FlyingHeightM,
            LiftMps = lift,
            LiftMpsLow = weakest,
            LiftMpsHigh = best,
            ClimbSeenMps = asked.ClimbMps?.Middle,
            ClimbSeenWithG = asked.ClimbMps is null ? null : asked.ClimbWithG,
            ThermalRadiusM = air.Lifted ? air.Draws.Average(d => d.Lift.RadiusM) : null,
            Edr = edr,
            EdrLow = smoothest,
            EdrHigh = roughest,
            EdrFrom = asked.Edr is null ? "wind_and_ground" : "asked",
            Ground = asked.Ground.ToString().ToLowerInvariant(),
            AirDensityKgM3 = asked.DensityKgM3,
            TimeS = asked.TimeS,
            ArriveM = asked.ArriveM,
            FromHeightM = asked.FromHeightM,
        };
    }

    /// <summary>What was asked as it was asked; what was worked out, with its interval.</summary>
    private static (double Value, double Low, double High) Spread(IEnumerable<double> draws, AskedRange? asked)
    {
        if (asked is { } range)
        {
            return (range.Middle, range.Low, range.High);
        }
        Band band = Band.Of(draws);
        return (band.Value, band.Low, band.High);
    }

    private static SuggestedOptionEntry Option(OptionAdvice advice)
    {
        OptionOutcome outcome = advice.Outcome;
        return new SuggestedOptionEntry
        {
            BallastG = outcome.Option.BallastG,
            FlyingMassG = outcome.Option.MassKg * 1000,
            RoundTripClimbMps = PolarEntries.Interval(outcome.RoundTripMps),
            ClimbMps = PolarEntries.Interval(outcome.ClimbMps),
            ReturnAirspeedMps = FlightEntries.Known(outcome.ReturnAirspeedMps),
            ReturnGlideRatio = outcome.ReturnGlideRatio,
            LaunchHeightM = PolarEntries.Interval(outcome.LaunchHeightM),
            StillAirTimeS = PolarEntries.Interval(outcome.StillAirS),
            Flown = new FlownEntry(advice.Rests.Flights, advice.Rests.ClimbMps),
            Support = advice.Rests.Support,
            ProbabilityBest = outcome.ProbabilityBest,
            Listed = advice.Choice.Listed,
            Allowed = outcome.Option.Allowed,
            NotAllowed = advice.Choice.Refusal switch { Refusal.Mass => "mass_limit", Refusal.Balance => "balance", _ => null },
            ReturnHeightMPer100M = PolarEntries.Interval(advice.ReturnHeightM),
            PenetrationAirspeedMps = FlightEntries.Known(advice.PenetrationMps),
            LoadFactorRms = PolarEntries.Interval(advice.LoadFactorRms),
            Chance = PolarEntries.Interval(advice.Chance),
            Reach = [.. advice.Reach.Select(r => new ReachEntry(r.DistanceM, ReachForLift.WithinS, PolarEntries.Interval(r.ArrivalHeightM),
                PolarEntries.Interval(r.NetGainM), FlightEntries.Known(r.AirspeedMps)))],
            FlownInOtherAir = advice.Rests.FlownInOtherAir,
        };
    }

    private static SwitchPointEntry Switch(string condition, SwitchPoint point, Advised advised) => new(condition,
        advised.Options[point.From].Choice.Option.BallastG, advised.Options[point.To].Choice.Option.BallastG,
        point.At.Value, FlightEntries.Known(point.At.Low), FlightEntries.Known(point.At.High));
}
