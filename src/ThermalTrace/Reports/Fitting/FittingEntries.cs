using System.Globalization;
using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Reports.Fitting;

/// <summary>Ways to fit ballast, as the documents tell them.</summary>
internal static class FittingEntries
{
    private const double LooseMm = 0.01; // a stack that far from the tube's end is not stopped by it
    private const double FeltCgMm = 0.05, FeltInertiaShare = 0.02; // smaller differences are not worth a word

    /// <summary>The best ways to fit so much, best first.</summary>
    /// <param name="airframe">The model, which <see cref="PieceCheck.Require"/> has let pass.</param>
    /// <param name="fitter">Prepared for it.</param>
    /// <param name="askedG">g.</param>
    /// <param name="shiftMm">The wish, positive aft.</param>
    /// <param name="most">At most so many.</param>
    /// <param name="cancel">Ends the search.</param>
    /// <exception cref="Units.UnusableInputException">No way keeps the limits of the centre of gravity.</exception>
    public static IReadOnlyList<FittingEntry> Ways(Airframe airframe, PieceFitter fitter, double askedG, double shiftMm, int most, CancellationToken cancel)
    {
        PieceAnswer answer = fitter.Fit(askedG, most, cancel);
        if (answer.Ways.Count == 0)
        {
            throw PieceCheck.NoWay(airframe, answer.Proved);
        }
        // To leave the model empty is no other way to fit something.
        return [.. answer.Ways.Where((w, i) => i == 0 || w.Pieces.Count > 0).Select((w, i) => Of(airframe, askedG, askedG > 0 || w.Pieces.Count > 0 ? shiftMm : 0, w, i == 0 ? null : answer.Ways[0], i == 0 ? CutShort(answer) : []))];
    }

    private static string[] CutShort(PieceAnswer answer) => answer.Proved ? [] : ["The stock is so large that the search was cut short: there may be a better way than this."];

    /// <summary>The best way to fit each mass without moving the centre of gravity; empty where the airframe has no stock that can be fitted.</summary>
    public static IReadOnlyList<FittingEntry> Best(Airframe airframe, IEnumerable<double> askedG, CancellationToken cancel)
    {
        double heaviest = PieceCheck.HeaviestG(airframe);
        if (!airframe.BallastStock.Any(p => PieceKinds.Fits(p, airframe.BallastTube)) || !(heaviest > 0))
        {
            return [];
        }
        PieceFitter fitter = new(airframe, 0, heaviest);
        return [.. askedG.Where(g => g > 0).Select(g => (AskedG: g, Answer: fitter.Fit(g, 1, cancel))).Where(a => a.Answer.Ways.Count > 0)
            .Select(a => Of(airframe, a.AskedG, 0, a.Answer.Ways[0], null,
                [.. CutShort(a.Answer), .. PieceCheck.Loose(airframe, a.Answer.Ways[0].Pieces.Select(p => (p.Piece.Name, p.Piece.DiameterMm)))]))];
    }

    /// <summary>The same for a document; null where there is none.</summary>
    public static FittingsEntry? All(Airframe airframe, IEnumerable<double> askedG, CancellationToken cancel) =>
        Best(airframe, askedG, cancel) is { Count: > 0 } options ? new FittingsEntry(Tube(airframe), airframe.CgMm, Limits(airframe), options) : null;

    /// <summary>The tube as documents list it.</summary>
    public static TubeEntry? Tube(Airframe airframe) => airframe.BallastTube is { } tube ? new TubeEntry(tube.BoreMm, tube.LengthMm, tube.CentreMm) : null;

    /// <summary>The limits of the centre of gravity as documents list them.</summary>
    public static IReadOnlyList<double> Limits(Airframe airframe) => airframe.CgLimitsMm is { } limits ? [limits.ForwardMm, limits.AftMm] : [];

    /// <summary>One way.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="askedG">What was asked for.</param>
    /// <param name="shiftMm">The wish, positive aft.</param>
    /// <param name="way">As found.</param>
    /// <param name="against">The best way, to which this one is another; null for the best itself.</param>
    /// <param name="cautions">Of this way.</param>
    public static FittingEntry Of(Airframe airframe, double askedG, double shiftMm, FittedWay way, FittedWay? against, IEnumerable<string> cautions)
    {
        bool tube = airframe.BallastTube is not null;
        PlacedMass[] placed = [.. way.Pieces.Select(p => new PlacedMass(p.Piece.MassG, p.Piece.DiameterMm, p.Piece.LengthMm, p.CentreMm))];
        bool known = tube && airframe.CgMm is not null;
        double? cg = known ? Sum(MassBalance.CgMm(airframe.UnballastedMassG, airframe.CgMm!.Value, placed)) : null;
        double? added = known ? MassBalance.AddedKgM2(airframe.UnballastedMassG, airframe.CgMm!.Value, placed) : null;
        return new FittingEntry
        {
            BallastAskedG = askedG,
            BallastG = Sum(way.MassG),
            FlyingMassG = Sum(airframe.UnballastedMassG + way.MassG),
            Pieces = [.. way.Pieces.Select(p => new PieceEntry(p.Piece.Name, p.Piece.Material, p.Piece.MassG, p.Piece.DiameterMm, p.Piece.LengthMm, tube ? p.CentreMm : null))],
            SpacerFrontMm = tube ? way.FrontMm : null,
            SpacerRearMm = tube ? way.RearMm : null,
            CgMm = cg,
            CgChordPercent = cg is { } at ? MassBalance.ChordPercent(airframe, at) : null,
            CgShiftMm = cg is { } then ? Sum(then - airframe.CgMm!.Value) : null,
            StaticMarginPercent = MassBalance.StaticMarginPercent(airframe, cg),
            PitchInertiaAddedKgM2 = added,
            PitchPeriodRatio = added is { } inertia ? PolarEntries.Interval(PitchResponse.PeriodRatio(airframe, inertia)) : Interval.Unknown,
            AsWished = way.Key.Off == 0,
            TradeOff = against is null ? "" : TradeOff(airframe, way, against),
            Cautions = [.. cautions, .. Missed(airframe, askedG, shiftMm, way)],
        };
    }

    /// <summary>Without the dust of adding up.</summary>
    private static double Sum(double value) => Math.Round(value, 6) + 0.0;

    private static IEnumerable<string> Missed(Airframe airframe, double askedG, double shiftMm, FittedWay way)
    {
        double off = way.MassG - askedG;
        string balance = off < 0 && PieceCheck.BeyondBalance(airframe, askedG) is { } beyond ? " " + beyond : "";
        if (Math.Abs(off) > FitTolerances.RightMassG(airframe.UnballastedMassG))
        {
            yield return way.Pieces.Count == 0
                ? balance.Length > 0 ? balance.Trim() : Text($"Nothing in the stock comes nearer to {askedG:0.##} g than no ballast at all.")
                : Text($"The mass is {Math.Abs(off):0.##} g {(off > 0 ? "over" : "short of")} the {askedG:0.##} g asked for.") + balance;
        }
        if (Math.Abs(way.CgOffMm) > FitTolerances.RightCgMm)
        {
            string side = way.CgOffMm > 0 ? "behind" : "ahead of";
            string wish = shiftMm == 0 ? "where it was" : Text($"the wish, {Math.Abs(shiftMm):0.0#} mm {(shiftMm < 0 ? "forward" : "aft")}");
            yield return Text($"The centre of gravity comes to lie {Math.Abs(way.CgOffMm):0.0} mm {side} {wish}: ")
                + (way.Pieces.Count == 0 ? "without ballast nothing moves it." : (way.CgOffMm > 0 ? way.FrontMm : way.RearMm) > LooseMm ? "cg_limits_mm let it come no nearer." : way.CgOffMm > 0 ? "the front end of the tube stops the stack." : "the rear end of the tube stops the stack.");
        }
    }

    private static string TradeOff(Airframe airframe, FittedWay way, FittedWay best)
    {
        List<string> parts = [];
        double mass = way.MassG - best.MassG;
        if (Math.Abs(mass) >= FitTolerances.ScaleG / 2)
        {
            parts.Add(Text($"{Math.Abs(mass):0.0} g {(mass > 0 ? "heavier" : "lighter")}"));
        }
        int count = way.Pieces.Count - best.Pieces.Count;
        if (count != 0)
        {
            parts.Add($"{Words.Plural(Math.Abs(count), "piece")} {(count > 0 ? "more" : "fewer")}");
        }
        if (airframe is { CgMm: { } bare, BallastTube: not null })
        {
            double cg = Math.Abs(way.CgOffMm) - Math.Abs(best.CgOffMm);
            if (Math.Abs(cg) >= FeltCgMm)
            {
                parts.Add(Text($"centre of gravity {Math.Abs(cg):0.0#} mm {(cg > 0 ? "farther from" : "nearer to")} the wish"));
            }
            double inertia = Added(airframe, bare, way), least = Added(airframe, bare, best);
            if (least > 0 && Math.Abs(inertia / least - 1) >= FeltInertiaShare)
            {
                parts.Add(Text($"{Math.Abs(inertia / least - 1) * 100:0} % {(inertia > least ? "more" : "less")} added pitch inertia"));
            }
        }
        return parts.Count == 0 ? "other pieces, else alike" : string.Join(", ", parts);
    }

    private static double Added(Airframe airframe, double bareCgMm, FittedWay way) => MassBalance.AddedKgM2(airframe.UnballastedMassG, bareCgMm,
        [.. way.Pieces.Select(p => new PlacedMass(p.Piece.MassG, p.Piece.DiameterMm, p.Piece.LengthMm, p.CentreMm))]);

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
