using System.Globalization;
using ThermalTrace.Ballast;

namespace ThermalTrace.Reports.Balance;

/// <summary>What was found, in a builder's words; values with their bounds.</summary>
internal static class BalanceSentences
{
    /// <summary>What was done, after the model's name.</summary>
    public static string Headline(BalanceDocument document) => document.Method switch
    {
        "readings" => $"weighed on {Words.Plural(document.Readings.Count, "support")}" + (document.Swing is null ? "" : " and swung on two strings"),
        "balance" => "balanced" + (document.Swing is null ? "" : " and swung on two strings"),
        _ => "swung on two strings",
    };

    /// <summary>Mass, centre of gravity, limits, margin and inertia, a line each.</summary>
    public static IEnumerable<string> Findings(BalanceDocument document)
    {
        if (document.BallastG > 0 && document.Weighed is { } weighed)
        {
            yield return $"With {Words.Grams(document.BallastG)} of ballast in, as measured:";
            foreach (string line in State(weighed, document, asMeasured: true, asFiled: false))
            {
                yield return line;
            }
            if (document.Bare is not null)
            {
                yield return "Without it, reckoned back:";
            }
        }
        if (document.Bare is { } bare)
        {
            foreach (string line in State(bare, document, asMeasured: document.BallastG == 0, asFiled: true))
            {
                yield return line;
            }
        }
        if (document.Swing is { } swing)
        {
            yield return $"Pitch inertia{(document.BallastG > 0 ? " with the ballast in" : "")}: {Inertia(swing.PitchInertiaKgM2)} kg m², from {Words.Plural(swing.TimingsS.Count, "timing")} of {Words.Plural(swing.Swings, "swing")}, {Estimate.Plain(swing.PeriodS)} s each.";
            if (document.BallastG > 0 && swing.BarePitchInertiaKgM2.Value is not null)
            {
                yield return $"Pitch inertia without it: {Inertia(swing.BarePitchInertiaKgM2)} kg m².";
            }
        }
    }

    /// <summary>How good the measurements were taken to be.</summary>
    public static IReadOnlyList<string> ErrorsTaken(BalanceAsked asked)
    {
        List<string> said = [];
        if (asked.Readings.Count > 0 || asked.BallastG > 0)
        {
            double coarsest = asked.Readings.Select(r => r.LastDigitG).DefaultIfEmpty(0).Max();
            said.Add(asked.ScaleErrorG is { } given ? Text($"scale {Round(given)} g, as given")
                : coarsest > UsualErrors.ScaleG ? Text($"scale {Round(coarsest)} g, the last digit of the readings{(asked.Readings.Any(r => r.LastDigitG < coarsest) ? $" ({UsualErrors.ScaleG} g at least, each by its own)" : "")}")
                : Text($"scale {UsualErrors.ScaleG} g, as is usual"));
        }
        if (asked.Readings.Count > 0 || asked.BallastAtMm is not null)
        {
            said.Add(Said("places", asked.PlaceErrorMm, UsualErrors.PlaceMm, "mm"));
        }
        if (asked.BalanceAtMm is not null)
        {
            said.Add(Said("balancing", asked.BalanceErrorMm, UsualErrors.BalanceMm, "mm"));
        }
        if (asked.Swing is { } swing)
        {
            said.Add(Said("string", 1000 * swing.StringErrorM, 1000 * UsualErrors.StringM, "mm"));
            said.Add(Said("spacing", 1000 * swing.SpacingErrorM, 1000 * UsualErrors.StringM, "mm"));
            said.Add(swing.Timings.Count >= 3 ? "time by how the timings differ" : Text($"time {UsualErrors.ReactionS} s a timing, as is usual by hand"));
        }
        return said;
    }

    /// <summary>"0.00429 (0.00415 to 0.00443)": three digits of the value for all.</summary>
    public static string Inertia(Interval interval) => interval.Value is { } value ? Estimate.Plain(interval, InertiaDecimals(value)) : "-";

    /// <summary>Decimals that leave three digits of a value.</summary>
    public static int InertiaDecimals(double value) => value > 0 ? Math.Clamp(2 - (int)Math.Floor(Math.Log10(value)), 0, 12) : 6;

    /// <summary>"4.2 (3.8 to 4.6) mm too far aft".</summary>
    public static string TooFar(BalanceStateEntry state) => state.AftRoomMm.Value < 0
        ? Millimetres(Minus(state.AftRoomMm)) + " too far aft"
        : Millimetres(Minus(state.ForwardRoomMm)) + " too far forward";

    /// <param name="asMeasured">What stood on the scales, which the mass is checked by.</param>
    /// <param name="asFiled">What airframe.json describes, which the centre of gravity is compared with.</param>
    private static IEnumerable<string> State(BalanceStateEntry state, BalanceDocument document, bool asMeasured, bool asFiled)
    {
        if (state.MassG.Value is not null)
        {
            yield return $"Mass: {Estimate.Plain(state.MassG)} g"
                + (asMeasured && document.MassCheck is { } check ? $"; airframe.json{(document.BallastG > 0 ? " and the ballast make" : " has")} {Words.Grams(check.ExpectedG)}." : ".");
        }
        yield return $"Centre of gravity: {Millimetres(state.CgMm)}{(state.CgMm.High < 0 ? ", that is ahead of the leading edge" : "")}"
            + (state.CgChordPercent.Value is not null ? $", or {Estimate.Plain(state.CgChordPercent)} % of the mean chord." : ".");
        if (state.CgLimits is { } verdict)
        {
            yield return $"Limits {Round(document.CgLimitsMm[0])} to {Round(document.CgLimitsMm[1])} mm: " + verdict switch
            {
                "inside" => $"inside for sure, {Nearer(state)}.",
                "outside" => $"outside, {TooFar(state)}.",
                _ => $"whether inside cannot be told at this accuracy, {Nearer(state)}.",
            };
        }
        if (asFiled && document.Change is { } moved)
        {
            yield return $"Against cg_mm {Round(moved.FromCgMm)} of airframe.json: "
                + (moved.CgChangeMm is { Low: <= 0, High: >= 0 } ? "the same as far as this can tell."
                    : $"{Millimetres(moved.CgChangeMm.Value < 0 ? Minus(moved.CgChangeMm) : moved.CgChangeMm)} farther {(moved.CgChangeMm.Value < 0 ? "forward" : "aft")}.");
        }
        if (asFiled && state.StaticMarginPercent is { Value: not null, Low: { } low, High: { } high })
        {
            yield return $"Static margin: {Estimate.Plain(state.StaticMarginPercent)} % of the mean chord"
                + (document.Change is { FromStaticMarginPercent: { } before } change
                    ? $", {Estimate.Number(before, Estimate.Decimals(low, high))} % with that cg_mm: a change of {Signed(change.StaticMarginChangePercent)}."
                    : ".");
        }
    }

    private static string Nearer(BalanceStateEntry state) => state.AftRoomMm.Value < state.ForwardRoomMm.Value
        ? $"{Millimetres(state.AftRoomMm)} ahead of the aft one"
        : $"{Millimetres(state.ForwardRoomMm)} behind the forward one";

    private static Interval Minus(Interval interval) => new(-interval.Value, -interval.High, -interval.Low);

    private static string Millimetres(Interval interval) => Estimate.Plain(interval) + " mm";

    private static string Signed(Interval interval) => (interval.Value > 0 ? "+" : "") + Estimate.Plain(interval);

    private static string Said(string what, double? given, double usual, string unit) => given is { } g ? Text($"{what} {Round(g)} {unit}, as given") : Text($"{what} {Round(usual)} {unit}, as is usual");

    /// <summary>As a person typed it, whatever the unit it came in.</summary>
    internal static string Round(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
