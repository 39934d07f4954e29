using System.Globalization;
using ThermalTrace.Ballast;
using ThermalTrace.Reports.Fitting;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Stick;

/// <summary>The stick's numbers in a pilot's words; terminal and page say the same thing the same way.</summary>
internal static class StickSentences
{
    // Up to here tape alone fills the room around a stick, and up to there heat-shrink, mm. Common practice, no source.
    private const double TapeMm = 0.3, ShrinkMm = 1;

    // Nobody feels a quick oscillation that is slower by less, as a share. Common practice, no source.
    private const double FeltShare = 0.02;

    /// <summary>What keeps a stick from rattling, by the room all around it.</summary>
    public static string Packing(double gapMm) => gapMm switch
    {
        <= 0 => "It does not go in.",
        < StickMaker.LeastGapMm => Text($"{gapMm:0.00} mm of room all around is tight: it has to slide the whole length by its own weight, after painting and on a cold day too. If it does not, take a thinner rod; never press it in."),
        <= TapeMm => Text($"{gapMm:0.00} mm of room all around: tape round both ends, until it slides with a slight drag."),
        <= ShrinkMm => Text($"{gapMm:0.00} mm of room all around: heat-shrink over the whole of it, or turns of tape at both ends and in the middle, until it slides with a slight drag."),
        _ => Text($"{gapMm:0.0} mm of room all around: sleeves of that thickness (foam, card, a plastic tube) at both ends and in the middle, glued to the stick."),
    };

    /// <summary>What this stick cannot do or must not.</summary>
    public static IReadOnlyList<string> OfOption(Airframe airframe, BallastTube tube, StickAsked asked, StickOptionEntry option)
    {
        List<string> cautions = [];
        double usable = StickMaker.UsableMm(tube);
        if (option.RadialGapMm <= 0)
        {
            cautions.Add(Text($"Does not fit: {option.DiameterMm:0.##} mm does not go into a bore of {tube.BoreMm:0.##} mm."));
        }
        else if (!option.Fits)
        {
            cautions.Add(Text($"Does not fit: it would be {option.LengthMm:0.0} ({option.LengthMmLow:0.0} to {option.LengthMmHigh:0.0}) mm long and the tube takes {usable:0.0} mm. At most {option.MostMassG:0.0} ({option.MostMassGLow:0.0} to {option.MostMassGHigh:0.0}) g go in at {option.DiameterMm:0.##} mm."));
        }
        else if (option.LengthMmHigh > usable)
        {
            cautions.Add(Text($"May not fit: of the lightest that is sold as {option.Material} it would be {option.LengthMmHigh:0.0} mm long, and the tube takes {usable:0.0} mm."));
        }
        if (option.Fits && option.RadialGapMm < StickMaker.LeastGapMm)
        {
            cautions.Add(Text($"Tight in the bore: {option.RadialGapMm:0.00} mm all around, and less than {StickMaker.LeastGapMm:0.0} mm may jam."));
        }
        if (option.CgMm is { } cg && option.CgShiftMm is { } shift)
        {
            if (!StickEntries.AsWished(asked, option))
            {
                cautions.Add(Text($"The tube ends too soon: the centre of gravity {Shift(shift)} in place of {(asked.CgForwardMm == 0 ? "staying where it is" : Shift(-asked.CgForwardMm).Replace("moves ", "", StringComparison.Ordinal))}."));
            }
            if (!StickEntries.WithinLimits(airframe, cg) && airframe.CgLimitsMm is { } limits)
            {
                cautions.Add(cg < limits.ForwardMm
                    ? Text($"Not to be flown: the centre of gravity comes to {cg:0.0} mm, ahead of the forward limit at {limits.ForwardMm:0.0} mm.")
                    : Text($"Not to be flown: the centre of gravity comes to {cg:0.0} mm, behind the aft limit at {limits.AftMm:0.0} mm."));
            }
        }
        return cautions;
    }

    /// <summary>The options' cautions gathered by kind, so that each is read once.</summary>
    public static IEnumerable<string> OfOptions(StickDocument document)
    {
        StickOptionEntry[] narrow = [.. document.Options.Where(o => o.RadialGapMm <= 0)], rest = [.. document.Options.Where(o => o.RadialGapMm > 0)];
        string Named(IEnumerable<StickOptionEntry> options, Func<StickOptionEntry, string> with) => string.Join("; ", options.Select(o => Text($"{Words.Tame(o.Material)} {o.Form}{with(o)}")));
        double usable = document.Tube.LengthMm - StickMaker.EndPlayMm;
        if (narrow.Length > 0)
        {
            yield return narrow[0].Cautions[0];
        }
        if (rest.Where(o => !o.Fits).ToArray() is { Length: > 0 } tooLong)
        {
            yield return Text($"Too long for the {usable:0.0} mm that the tube takes, so at most: {Named(tooLong, o => Text($", {o.MostMassG:0.0} ({o.MostMassGLow:0.0} to {o.MostMassGHigh:0.0}) g"))}.");
        }
        if (rest.Where(o => o.Fits && o.LengthMmHigh > usable).ToArray() is { Length: > 0 } perhaps)
        {
            yield return $"Too long if the metal is lighter than usual; weigh and measure it before you cut: {Named(perhaps, _ => "")}.";
        }
        if (rest.Where(o => o.Fits && o.RadialGapMm < StickMaker.LeastGapMm).ToArray() is { Length: > 0 } tight)
        {
            yield return tight[0].Cautions.First(c => c.StartsWith("Tight", StringComparison.Ordinal));
        }
        if (rest.Where(o => o.Fits && MayBeFlown(document, o) && o.CgShiftMm is { } s && Math.Abs(s + document.CgForwardMm) > FitTolerances.RightCgMm).ToArray() is { Length: > 0 } off)
        {
            yield return $"The tube ends too soon for the centre of gravity that was wished for: {Named(off, o => " " + Shift(o.CgShiftMm!.Value).Replace("stays where it is", "leaves it where it is", StringComparison.Ordinal).Replace("moves", "moves it", StringComparison.Ordinal))}.";
        }
        if (document.CgLimitsMm is [double forward, double aft])
        {
            foreach ((bool ahead, string where) in new[] { (true, Text($"ahead of the forward limit at {forward:0.0} mm")), (false, Text($"behind the aft limit at {aft:0.0} mm")) })
            {
                if (document.Options.Where(o => !MayBeFlown(document, o) && o.CgMm < forward == ahead).ToArray() is { Length: > 0 } beyond)
                {
                    yield return $"Not to be flown, for the centre of gravity would come {where}: {Named(beyond, o => Text($", {o.CgMm:0.0} mm"))}.";
                }
            }
        }
    }

    /// <summary>What airframe.json leaves open.</summary>
    public static IEnumerable<string> Unknown(Airframe airframe)
    {
        if (airframe.CgMm is null)
        {
            yield return "airframe.json gives no cg_mm: what the stick does to the centre of gravity and to pitch is not known, and the sticks lie in the tube's middle. Balance the model and add it.";
        }
        else if (airframe.CgLimitsMm is null)
        {
            yield return "airframe.json gives no cg_limits_mm: the centre of gravity was not checked.";
        }
        else if (PieceCheck.BareBeyondLimits(airframe) is { } bare)
        {
            yield return bare;
        }
        if (airframe.MaxFlyingMassG is null)
        {
            yield return "airframe.json gives no max_flying_mass_g: the flying mass was not checked.";
        }
    }

    /// <summary>"Brass slug, 8 mm".</summary>
    public static string Name(StickOptionEntry option) => Words.Capital(Text($"{Words.Tame(option.Material)} {option.Form}, {option.DiameterMm:0.##} mm"));

    /// <summary>The first that fits and may be flown; null where there is none.</summary>
    public static StickOptionEntry? Best(StickDocument document) => document.Options.FirstOrDefault(o => o.Fits && MayBeFlown(document, o));

    /// <summary>False where the centre of gravity would come to lie beyond its limits.</summary>
    public static bool MayBeFlown(StickDocument document, StickOptionEntry option) =>
        document.CgLimitsMm is not [double forward, double aft] || option.CgMm is not { } cg || MassBalance.WithinLimits(cg, (forward, aft));

    /// <summary>The best in one sentence.</summary>
    public static string Headline(StickDocument document)
    {
        StickOptionEntry? best = Best(document);
        if (best is null && document.Options.Any(o => o.Fits))
        {
            return "What fits the tube would put the centre of gravity beyond its limits: not to be flown. Another place for the tube, another ballast or other gear in the nose would help.";
        }
        if (best is null)
        {
            StickOptionEntry? most = document.Options.MaxBy(o => o.MostMassG);
            return most is null ? "No material was named." : Text($"No stick of {Words.Grams(document.BallastAskedG)} fits the tube; ") + (most.MostMassG > 0
                ? Text($"the most is {most.MostMassG:0.0} ({most.MostMassGLow:0.0} to {most.MostMassGHigh:0.0}) g of {Words.Tame(most.Material)}, {most.DiameterMm:0.##} mm thick.")
                : "what was named does not go into the bore.");
        }
        string what = Text($"{Words.Tame(best.Material)}, {best.DiameterMm:0.##} mm thick and {Estimate.Plain(Length(best))} mm long");
        return best.PitchInertiaAddedKgM2 is null ? $"Shortest: {what}." : $"Least pitch inertia: {what}.";
    }

    /// <summary>Which others nobody would tell from the best in the air; empty where there are none or nothing is known of them.</summary>
    public static string AsGood(StickDocument document)
    {
        StickOptionEntry[] fit = [.. document.Options.Where(o => o.Fits && o.PitchPeriodRatio.Value is not null && MayBeFlown(document, o))];
        if (fit.Length < 2)
        {
            return "";
        }
        StickOptionEntry[] close = [.. fit.Skip(1).Where(o => o.PitchPeriodRatio.High / fit[0].PitchPeriodRatio.High - 1 < FeltShare && Math.Abs(o.CgShiftMm!.Value - fit[0].CgShiftMm!.Value) <= FitTolerances.RightCgMm)];
        return close.Length == fit.Length - 1 ? "In the air nobody would tell the others that fit from it: take what is cheap, at hand and safe to work."
            : close.Length > 0 ? $"In the air nobody would tell from it: {string.Join("; ", close.Select(o => Text($"{Words.Tame(o.Material)} {o.Form}, {o.DiameterMm:0.##} mm")))}."
            : "";
    }

    /// <summary>How to make a stick, where it goes and what it costs; a sentence or two each.</summary>
    public static IReadOnlyList<(string Head, string Text)> Details(StickDocument document, StickOptionEntry option)
    {
        List<(string, string)> details =
        [
            ("Make", Text($"saw {Math.Ceiling(option.SawLengthMm * 2) / 2:0.0} mm of {option.DiameterMm:0.##} mm rod, then file and weigh until it is {Words.Grams(document.BallastAskedG)}, packing included. Within {document.MassToleranceG:0.0} g nobody feels it; that is {option.LengthToleranceMm:0.0} mm.")),
            ("Rattle", option.Packing),
        ];
        if (option is { CentreMm: { } centre, SpacerFrontMm: { } front, SpacerRearMm: { } rear })
        {
            details.Add(("Place", Text($"its middle {centre:0.0} mm aft of the root's leading edge: {front:0.0} mm of spacer in front of it, {rear:0.0} mm behind, lock and play included.")));
        }
        if (option is { CgMm: { } cg, CgShiftMm: { } shift })
        {
            string chord = option.CgChordPercent is { } percent ? Text($" ({percent:0.0} % of the mean chord)") : "", margin = option.StaticMarginPercent is { } m ? Text($", static margin {m:0.0} %") : "";
            details.Add(("Balance", Text($"the centre of gravity {Shift(shift)}: {cg:0.0} mm aft{chord}{margin}.")));
        }
        if (option is { PitchInertiaAddedKgM2: { } added, GyrationMm: { } gyration, FarthestMm: { } farthest })
        {
            details.Add(("Cost", Text($"it adds {Estimate.Plain(new Interval(added * 1e6, option.PitchInertiaAddedKgM2Low * 1e6, option.PitchInertiaAddedKgM2High * 1e6))} kg mm² to the pitch inertia, {Percent(option.PitchInertiaShare)} of the bare model's{(document.BarePitchInertiaGiven ? "" : ", which is taken as usual for the span")}; the model answers in pitch {Estimate.Plain(FittingWords.SlowerPercent(option.PitchPeriodRatio))} % more slowly.")));
            details.Add(("Spread", Text($"its mass lies {gyration:0.0} mm from the centre of gravity (root mean square), its farther end {farthest:0.0} mm.")));
        }
        return details;
    }

    /// <summary>What the throw asks of wall, hatch and lock; empty for other launches.</summary>
    public static string Throw(StickDocument document)
    {
        if (document.ThrowLoad is not { } load)
        {
            return "";
        }
        string speed = Estimate.Plain(load.SpeedMps) + (load.SpeedGiven ? " m/s" : load.SpeedFromLaunches ? " m/s, reckoned from your launch heights," : " m/s assumed"), radius = Text($"{load.RadiusM.Value:0.00} ({load.RadiusM.Low:0.00} to {load.RadiusM.High:0.00}) m") + (load.RadiusGiven ? "" : ", half the span and an arm");
        return Text($"Let go at {speed} on a circle of {radius}, the stick pulls outward with {Estimate.Plain(load.ForceN)} N, {Estimate.Plain(load.Weights)} times its weight. Tube wall, hatch and lock or hook have to stand that, and more on a hard day.");
    }

    private static string Percent(Interval share) => share is { Value: { } v, Low: { } l, High: { } h } ? Estimate.Plain(new Interval(100 * v, 100 * l, 100 * h)) + " %" : "-";

    /// <summary>Length with what it leaves open.</summary>
    public static Interval Length(StickOptionEntry option) => new(option.LengthMm, option.LengthMmLow, option.LengthMmHigh);

    /// <summary>"moves 0.7 mm forward".</summary>
    public static string Shift(double shiftMm) => Math.Abs(shiftMm) < FitTolerances.BalanceMm / 2 ? "stays where it is"
        : Text($"moves {Math.Abs(shiftMm):0.0} mm {(shiftMm < 0 ? "forward" : "aft")}");

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
