using ThermalTrace.Decisions;

namespace ThermalTrace.Calibration;

/// <summary>One part of what the intervals of the round-trip climb account for, and the comparison without it.</summary>
/// <param name="Name">As the table prints it.</param>
/// <param name="Without">The comparison with this part taken as known.</param>
internal sealed record TripPart(string Name, Func<Refit, ComparisonOutcome> Without)
{
    /// <summary>Every part; each is held at the middle of what is drawn of it.</summary>
    public static IReadOnlyList<TripPart> All { get; } =
    [
        new("thermal's radius", r => Compare(r, r.Debrief.Drag, lift => lift with { RadiusM = Middle(r).RadiusM })),
        new("what searching and gusts lose", r => Compare(r, r.Debrief.Drag, WithCentring(Middle(r)))),
        new("wind", r => Compare(r, r.Debrief.Drag, null, windKnown: true)),
        new("polar", r => Compare(r, Known(r.Debrief.Drag), null)),
        new("all four: left is by what the climbs flown fell short", r =>
        {
            Lift middle = Middle(r);
            return Compare(r, Known(r.Debrief.Drag), lift => WithCentring(middle)(lift) with { RadiusM = middle.RadiusM }, windKnown: true);
        }),
    ];

    private static ComparisonOutcome Compare(Refit refit, Drag drag, Func<Lift, Lift>? lifts, bool windKnown = false) =>
        Verdict.Reach(refit.Debrief.Flights, refit.Session.Airframe, drag, null, refit.Seed, refit.Cancel, lifts, windKnown).Outcome;

    private static Func<Lift, Lift> WithCentring(Lift middle) => lift => lift with { SearchLoss = middle.SearchLoss, GustLoss = middle.GustLoss, LoadingPower = middle.LoadingPower };

    private static Drag Known(Drag drag)
    {
        double[] central = drag.Central;
        return drag with { Draws = [.. drag.Draws.Select(_ => central)] };
    }

    private static Lift Middle(Refit refit)
    {
        List<Lift> seen = [];
        Compare(refit, refit.Debrief.Drag, lift =>
        {
            seen.Add(lift);
            return lift;
        });
        return new Lift(seen.Average(l => l.RadiusM), seen.Average(l => l.SearchLoss), seen.Average(l => l.GustLoss), seen.Average(l => l.LoadingPower), seen.Average(l => l.Shortfall));
    }
}

/// <summary>How close the round-trip climbs came, and how wide their intervals are.</summary>
/// <param name="ErrorMps">Root mean square over the options, m/s.</param>
/// <param name="Coverage">Share of the options' 90 % intervals that hold the truth.</param>
/// <param name="WidthMps">Mean width of the intervals, m/s.</param>
/// <param name="BetweenMps">Mean width of the 90 % intervals of each option's climb less the first's, m/s.</param>
internal sealed record TripFigures(double ErrorMps, double Coverage, double WidthMps, double BetweenMps)
{
    /// <summary>All NaN where no climb was flown or nothing is known of the truth.</summary>
    public static TripFigures Of(Truth truth, ComparisonOutcome outcome)
    {
        List<double> errors = [], covers = [], widths = [], between = [];
        OptionOutcome first = outcome.Outcomes[0];
        foreach (TruthOption option in truth.Session?.Options ?? [])
        {
            OptionOutcome? said = outcome.Outcomes.FirstOrDefault(o => Math.Abs(o.Option.BallastG - option.BallastG) < 0.5);
            if (said is null || !said.RoundTripMps.IsKnown || option.RoundTripClimbMps is not { } actual)
            {
                continue;
            }
            Band band = said.RoundTripMps;
            errors.Add(band.Value - actual);
            covers.Add(band.Low <= actual && actual <= band.High ? 1 : 0);
            widths.Add(band.High - band.Low);
            if (said != first && first.RoundTripMps.IsKnown)
            {
                Band apart = Band.Of(said.RoundTripDrawsMps.Zip(first.RoundTripDrawsMps, (a, b) => a - b));
                between.Add(apart.High - apart.Low);
            }
        }
        return new TripFigures(Score.RootMeanSquare(errors), Score.Mean(covers), Score.Mean(widths), Score.Mean(between));
    }
}
