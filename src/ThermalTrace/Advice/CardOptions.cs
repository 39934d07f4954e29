using System.Globalization;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Advice;

/// <summary>What a field card chooses from: what the airframe lists and what was flown, within the limits of mass and balance.</summary>
/// <param name="Options">Lightest first; the index is that of the departure.</param>
/// <param name="TooHeavyG">Left out: above the limit of mass.</param>
/// <param name="UnbalancedG">Left out: no place in the tube keeps the centre of gravity within its limits.</param>
internal sealed record CardOptions(IReadOnlyList<Option> Options, IReadOnlyList<double> TooHeavyG, IReadOnlyList<double> UnbalancedG)
{
    /// <summary>For a model.</summary>
    /// <exception cref="UnusableInputException">Nothing is left to choose from.</exception>
    public static CardOptions Of(SeasonModel model)
    {
        // What only the pieces make in between is left to the day's question: a card for the pocket stays short.
        BallastChoice[] listed = [.. BallastChoices.Of(model).All.Where(c => c.Listed)];
        IReadOnlyList<double> Refused(Refusal refusal) => [.. listed.Where(c => c.Refusal == refusal).Select(c => c.Option.BallastG)];
        CardOptions options = new([.. listed.Where(c => c.Refusal == Refusal.None).Select((c, k) => c.Option with { Ballast = k })], Refused(Refusal.Mass), Refused(Refusal.Balance));
        if (options.Options.Count > 0)
        {
            return options;
        }
        Option lightest = listed[0].Option;
        throw new UnusableInputException(string.Create(CultureInfo.InvariantCulture, $"{AirframeFile.Name}: with {lightest.BallastG:0.#} g of ballast, the lightest to choose from, the model is {(listed[0].Refusal == Refusal.Mass
            ? $"{lightest.MassKg * 1000:0.#} g, above max_flying_mass_g of {model.Airframe.MaxFlyingMassG:0.#}" : "outside cg_limits_mm")}; expected ballast_options_g that leave something to fly"));
    }
}
