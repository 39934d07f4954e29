using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Advice;

/// <summary>The ballasts that may be flown in a test: listed or flown before, within the airframe's limits of mass and balance.</summary>
internal static class PlanOptions
{
    /// <summary>The options, rising, their index that of their departure; and what is to be said of those left out.</summary>
    /// <exception cref="UnusableInputException">Fewer than two: nothing is to be decided.</exception>
    public static (IReadOnlyList<Option> Options, IReadOnlyList<string> Cautions) Of(SeasonModel model)
    {
        Airframe airframe = model.Airframe;
        BallastChoices choices = BallastChoices.Of(model);
        List<string> cautions =
        [
            .. choices.All.Where(c => c.Listed && c.Refusal != Refusal.None).Select(c => FormattableString.Invariant($"{c.Option.BallastG:0.#} g of ballast is left out: ")
                + (c.Refusal == Refusal.Balance ? "no place in the tube keeps the centre of gravity within cg_limits_mm."
                    : FormattableString.Invariant($"with it the model weighs {c.Option.MassKg * 1000:0.#} g, more than max_flying_mass_g allows."))),
        ];
        Option[] options = [.. choices.All.Where(c => c.Listed && c.Refusal == Refusal.None).Select((c, k) => c.Option with { Ballast = k })];
        if (airframe.MaxFlyingMassG is null && options.Length > 0)
        {
            cautions.Add(FormattableString.Invariant($"airframe.json gives no max_flying_mass_g: nothing heavier than {options[^1].MassKg * 1000:0.#} g, the heaviest of its options and of what was flown, is planned."));
        }
        return options.Length >= 2 ? (options, cautions)
            : throw new UnusableInputException("airframe.json: there are not two ballasts that can be flown, so there is nothing to decide; expected two or more masses in ballast_options_g, within max_flying_mass_g and cg_limits_mm"
                + (cautions.Count > 0 ? ". " + string.Join(" ", cautions) : ""));
    }
}
