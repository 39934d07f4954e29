using System.Globalization;
using ThermalTrace.Ballast;
using ThermalTrace.Decisions;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Balance;

/// <summary>What to mind, and what cannot be known.</summary>
internal static class BalanceCautions
{
    private const double FarthestMm = 2_000; // that airframe.json takes

    public static IReadOnlyList<string> Of(BalanceDocument document, Airframe airframe)
    {
        List<string> said = [];
        if (document.MassCheck is { Explained: false } check)
        {
            double more = check.DifferenceG.Value!.Value;
            said.Add(Text($"The scales show {Estimate.Plain(document.Weighed!.MassG)} g and airframe.json makes it {Words.Grams(check.ExpectedG)}{(document.BallastG > 0 ? " with the ballast" : " without ballast")}: {Estimate.Number(Math.Abs(more), 1)} g {(more > 0 ? "more" : "less")} than it should be, which the scales do not explain. ")
                + (document.BallastG > 0 ? "Was everything aboard as it flies, and is the ballast's mass right?" : "Was everything aboard as it flies, and the ballast out? (If it was in, give --ballast and --ballast-at.)"));
        }
        foreach (BalanceStateEntry state in States(document))
        {
            string with = document.BallastG > 0 ? ReferenceEquals(state, document.Bare) ? "Without ballast it" : "With the ballast in it" : "It";
            if (state.CgLimits == "outside")
            {
                said.Add($"{with} balances outside cg_limits_mm, {BalanceSentences.TooFar(state)}: move mass before it flies.");
            }
            else if (state.CgLimits == "cannot_be_told")
            {
                said.Add($"{with} may balance outside cg_limits_mm. Measure the places more finely, or move mass until it is inside for sure.");
            }
            if (state.StaticMarginPercent is { High: < 0 })
            {
                said.Add($"{with} balances behind the neutral point: unstable in pitch.");
            }
        }
        if (document.Bare is { CgMm.Value: < -FarthestMm or > FarthestMm })
        {
            said.Add("The centre of gravity lies more than 2 m from the leading edge, which airframe.json does not take. Is a unit wrong? A bare number is metres.");
        }
        if (document.Weighed is not null)
        {
            said.Add("The model has to lie level, as it flies: nose up or tail up, a centre of gravity 5 cm above the supports reads wrong by about 1 mm for each degree.");
        }
        if (document.Swing is { } swing)
        {
            said.Add("The swing is right only so: on its side, wing tips up and down, nose and tail level; the strings upright, of one length, tied to the fuselage one ahead of the centre of gravity and one as far behind it; "
                + "in still air; turned about the upright, not swayed, by less than 10 degrees: from there the inertia reads half a per cent high.");
            Band usual = PitchResponse.BareKgM2(airframe with { PitchInertiaKgM2 = null });
            if (swing.BarePitchInertiaKgM2 is { Value: { } found } && (found < usual.Low || found > usual.High))
            {
                said.Add($"Models of this span and mass usually have {BalanceSentences.Inertia(PolarEntries.Interval(usual))} kg m², much {(found < usual.Low ? "more" : "less")} than was found. Were the swings counted there and back again, and is the spacing that between the strings?");
            }
        }
        said.Add("Measure with everything in as it flies, the battery too, and again after every change, before the first throw.");
        return said;
    }

    public static IReadOnlyList<string> Limits(BalanceDocument document, Airframe airframe)
    {
        List<string> said = [];
        if (document.BallastG > 0 && document.BallastAtMm is null)
        {
            said.Add((document.Weighed is null ? "The pitch inertia" : document.Swing is null ? "The centre of gravity" : "Centre of gravity and pitch inertia")
                + " without ballast cannot be told, and so nothing for airframe.json: --ballast-at, the place of the ballast's middle, is missing"
                + (airframe.BallastTube is { } tube ? Text($" (the tube's middle lies at {tube.CentreMm:0.###} mm).") : "."));
        }
        else if (document.Swing is { BarePitchInertiaKgM2.Value: null })
        {
            said.Add(document.Bare is null && airframe.CgMm is null
                ? "The pitch inertia without ballast cannot be told: that takes the centre of gravity, by readings, by balance or as cg_mm of airframe.json."
                : "The pitch inertia without ballast cannot be told: the ballast's share and the error are as great as what was found.");
        }
        else if (document.Swing is not null && document.BallastG > 0)
        {
            said.Add("The ballast was taken as a point; what a long stick adds by its own length is left in the model's pitch inertia.");
        }
        if (document.Weighed is not null && airframe.CgLimitsMm is null)
        {
            said.Add("The centre of gravity was not checked against limits: airframe.json has no cg_limits_mm.");
        }
        if (document.Swing is not null && document.Method != "readings")
        {
            said.Add("The mass that swung was not weighed here: it was taken from airframe.json" + (document.BallastG > 0 ? " and --ballast." : "."));
        }
        if (document.Swing is { TimingsS.Count: < 3 })
        {
            said.Add("Fewer than three timings do not show how well they were taken; --swing can be given again and again.");
        }
        return said;
    }

    private static IEnumerable<BalanceStateEntry> States(BalanceDocument document)
    {
        if (document.Weighed is { } weighed && document.BallastG > 0)
        {
            yield return weighed;
        }
        if (document.Bare is { } bare)
        {
            yield return bare;
        }
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
