using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Advice;

/// <summary>The ballasts that may be flown in a test: what the pilot can fit, within the airframe's limits of mass and balance.</summary>
internal static class PlanOptions
{
    private const double WeighingG = 0.5; // as for the comparison

    /// <summary>The options, rising, and what is to be said of them.</summary>
    /// <exception cref="UnusableInputException">Fewer than two: nothing is to be decided.</exception>
    public static (IReadOnlyList<Option> Options, IReadOnlyList<string> Cautions) Of(Airframe airframe, SeasonModel model)
    {
        List<string> cautions = [];
        List<double> ballasts = [];
        double heaviestFlown = model.Sessions.SelectMany(s => s.Evidence.Flights).Where(f => f.Counts).Select(f => f.MassKg * 1000).DefaultIfEmpty(0).Max();
        double limit = airframe.MaxFlyingMassG ?? Math.Max(heaviestFlown, airframe.UnballastedMassG + airframe.BallastOptionsG.DefaultIfEmpty(0).Max());
        IEnumerable<double> wanted = airframe.BallastOptionsG.Count > 0 ? airframe.BallastOptionsG : model.Drag.BallastsG.Append(0);
        foreach (double ballast in wanted.Order())
        {
            if (ballasts.Count > 0 && ballast - ballasts[^1] < TunedDrag.SameBallastG)
            {
                continue;
            }
            if (!(airframe.UnballastedMassG + ballast <= limit + WeighingG))
            {
                cautions.Add(FormattableString.Invariant($"{ballast:0.#} g of ballast is left out: with it the model weighs {airframe.UnballastedMassG + ballast:0.#} g, and max_flying_mass_g is {limit:0.#}."));
            }
            else if (Cg(airframe, ballast) is { } cg && airframe.CgLimitsMm is { } range && !(cg >= range.ForwardMm && cg <= range.AftMm))
            {
                cautions.Add(FormattableString.Invariant($"{ballast:0.#} g of ballast is left out: it puts the centre of gravity at {cg:0.0} mm, outside {range.ForwardMm:0.#} to {range.AftMm:0.#} mm."));
            }
            else
            {
                ballasts.Add(ballast);
            }
        }
        if (airframe.MaxFlyingMassG is null)
        {
            cautions.Add(FormattableString.Invariant($"airframe.json gives no max_flying_mass_g: nothing heavier than {limit:0.#} g, the heaviest of its options and of what was flown, is planned."));
        }
        if (ballasts.Count < 2)
        {
            throw new UnusableInputException("airframe.json: there is one ballast that can be flown, so there is nothing to decide; expected two or more masses in ballast_options_g within max_flying_mass_g and cg_limits_mm"
                + (cautions.Count > 0 ? ". " + string.Join(" ", cautions) : ""));
        }
        return ([.. ballasts.Select((b, k) => new Option(b, (airframe.UnballastedMassG + b) / 1000, k, true))], cautions);
    }

    /// <summary>Centre of gravity with ballast in the middle of the tube, mm; null where the airframe does not say enough.</summary>
    private static double? Cg(Airframe airframe, double ballastG) => airframe is { CgMm: { } bare, BallastTube: { } tube }
        ? (airframe.UnballastedMassG * bare + ballastG * tube.CentreMm) / (airframe.UnballastedMassG + ballastG)
        : null;
}
