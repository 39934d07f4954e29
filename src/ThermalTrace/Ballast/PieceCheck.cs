using System.Globalization;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Ballast;

/// <summary>What an airframe has to say before pieces can be fitted, and the sentence for each thing that stands in the way.</summary>
internal static class PieceCheck
{
    private const double AboveG = 1e-6; // rounding of a sum; a limit is a limit
    private const double LooseMm = 0.5; // common practice, no source
    private const int MostNamed = 4;

    /// <summary>The most ballast that the mass limit allows, g; infinite where none is given.</summary>
    public static double HeaviestG(Airframe airframe) => (airframe.MaxFlyingMassG ?? double.PositiveInfinity) - airframe.UnballastedMassG;

    /// <summary>Refuses what cannot be answered.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="askedG">Ballast, g; null for all steps.</param>
    /// <param name="shiftMm">The wish, positive aft.</param>
    /// <exception cref="UnusableInputException">With the sentence.</exception>
    public static void Require(Airframe airframe, double? askedG, double shiftMm)
    {
        const string File = AirframeFile.Name;
        if (airframe.BallastStock.Count == 0)
        {
            throw new UnusableInputException($"{File}: ballast_stock is empty, so there is nothing to choose from; expected the pieces you own, each with name, material, mass_g, diameter_mm, length_mm and count. "
                + "\"thermaltrace stick\" says what could be made.");
        }
        if (airframe.BallastTube is { } tube && !airframe.BallastStock.Any(p => PieceKinds.Fits(p, tube)))
        {
            throw new UnusableInputException($"{File}: no piece of ballast_stock goes into the tube: {string.Join(", ", LeftOut(airframe))}");
        }
        RequireMass(airframe, askedG);
        RequireWish(airframe, shiftMm);
    }

    /// <summary>Refuses what is heavier than the model may fly.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="askedG">Ballast, g; null for all steps.</param>
    /// <exception cref="UnusableInputException">With the sentence.</exception>
    public static void RequireMass(Airframe airframe, double? askedG)
    {
        if (askedG > HeaviestG(airframe) + AboveG)
        {
            double most = HeaviestG(airframe);
            throw new UnusableInputException(Text($"{AirframeFile.Name}: {askedG:0.##} g of ballast make {airframe.UnballastedMassG + askedG:0.##} g, above max_flying_mass_g {airframe.MaxFlyingMassG:0.##}; ")
                + (most > 0 ? Text($"expected at most {most:0.##} g of ballast") : "it leaves no room for ballast"));
        }
    }

    /// <summary>Refuses a wish for the centre of gravity that cannot be aimed at or must not be met.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="shiftMm">The wish, positive aft.</param>
    /// <exception cref="UnusableInputException">With the sentence.</exception>
    public static void RequireWish(Airframe airframe, double shiftMm)
    {
        const string File = AirframeFile.Name;
        if (shiftMm != 0 && (airframe.CgMm is null || airframe.BallastTube is null))
        {
            string missing = airframe.CgMm is null ? airframe.BallastTube is null ? "cg_mm and ballast_tube are" : "cg_mm is" : "ballast_tube is";
            throw new UnusableInputException($"{File}: {missing} missing, and without {(missing.EndsWith("are", StringComparison.Ordinal) ? "them" : "it")} --cg-forward cannot be aimed at; expected the centre of gravity without ballast (\"thermaltrace balance\" finds it) and the tube");
        }
        if (airframe is { CgMm: { } cg, CgLimitsMm: { } limits, BallastTube: not null } && shiftMm != 0 && (cg + shiftMm < limits.ForwardMm - AboveG || cg + shiftMm > limits.AftMm + AboveG))
        {
            throw new UnusableInputException(Text($"{File}: the centre of gravity wished for, {cg + shiftMm:0.0#} mm, is outside cg_limits_mm [{limits.ForwardMm:0.##}, {limits.AftMm:0.##}]; ")
                + Text($"from cg_mm {cg:0.##} it can go {Math.Max(cg - limits.ForwardMm, 0):0.0#} mm forward and {Math.Max(limits.AftMm - cg, 0):0.0#} mm aft"));
        }
    }

    /// <summary>Where not even one way keeps the limits, or none was found before the search was cut short.</summary>
    public static UnusableInputException NoWay(Airframe airframe, bool proved) => new(Text($"{AirframeFile.Name}: cg_mm {airframe.CgMm:0.##} is outside cg_limits_mm [{airframe.CgLimitsMm?.ForwardMm:0.##}, {airframe.CgLimitsMm?.AftMm:0.##}] ")
        + (proved ? "and no ballast in the tube brings the centre of gravity between them; " : "and no pieces were found that bring the centre of gravity between them, though not all of so large a stock could be tried; ")
        + "expected the limits, the centre of gravity and the tube in mm from the same datum, the wing root's leading edge");

    /// <summary>What the answer takes for granted, or could not look at.</summary>
    public static IEnumerable<string> Cautions(Airframe airframe, double? askedG)
    {
        if (airframe.BallastTube is null)
        {
            yield return "ballast_tube is not in airframe.json: whether the pieces fit, where they lie and what they do to the centre of gravity is not known; only the masses are added up.";
        }
        else if (airframe.CgMm is null)
        {
            yield return "cg_mm is not in airframe.json: the pieces are centred in the tube, and what they do to the centre of gravity is not known. \"thermaltrace balance\" finds it.";
        }
        else if (airframe.CgLimitsMm is null)
        {
            yield return "cg_limits_mm is not in airframe.json: whether the centre of gravity stays where the model flies well was not checked.";
        }
        else if (BareBeyondLimits(airframe) is { } bare)
        {
            yield return bare;
        }
        if (airframe.MaxFlyingMassG is null)
        {
            double listed = airframe.BallastOptionsG.DefaultIfEmpty(0).Max();
            yield return "max_flying_mass_g is not in airframe.json: the maker's limit was not checked" + (askedG > listed + AboveG && listed > 0 ? Text($", and this is more than the heaviest of ballast_options_g, {listed:0.##} g.") : ".");
        }
        string[] leftOut = [.. LeftOut(airframe)];
        if (leftOut.Length > 0)
        {
            yield return $"Left out: {string.Join(", ", leftOut)}.";
        }
        foreach (string dense in airframe.BallastStock.Select(Materials.PieceDensityCaution).OfType<string>().Take(MostNamed))
        {
            yield return dense;
        }
    }

    /// <summary>Caution for a model that is out of balance before anything is fitted; null where it is not, or where that is not known.</summary>
    public static string? BareBeyondLimits(Airframe airframe) => airframe is { CgMm: { } cg, CgLimitsMm: { } limits } && !MassBalance.WithinLimits(cg, limits)
        ? Text($"cg_mm {cg:0.##} is outside cg_limits_mm [{limits.ForwardMm:0.##}, {limits.AftMm:0.##}] already without ballast.") : null;

    /// <summary>
    /// Caution where the tube lies so far from the model's centre of gravity that some or all of what the pieces make would take it beyond its limits wherever in the tube
    /// they lie; null where all of it may be fitted, where that is not known, or where the model is out of balance anyway.
    /// </summary>
    /// <param name="airframe">The model.</param>
    /// <param name="mostG">Heavier ballast is not looked at, g.</param>
    public static string? BeyondBalance(Airframe airframe, double mostG)
    {
        if (BareBeyondLimits(airframe) is not null || airframe is not { CgMm: { } cg, BallastTube: { } tube })
        {
            return null;
        }
        double[] masses = [.. StockSums.Of(airframe, mostG).Select(s => s.MassG).Where(m => m > 0)];
        // No stack's middle is nearer to an end of the tube than half of the shortest piece.
        double shortest = airframe.BallastStock.Where(p => PieceKinds.Fits(p, tube)).Select(p => p.LengthMm).DefaultIfEmpty(0).Min();
        double[] able = [.. masses.Where(m => MassBalance.CanBalance(airframe, m, shortest))];
        string side = tube.CentreMm < cg ? "ahead of" : "behind";
        return able.Length == masses.Length ? null
            : able.Length == 0 ? Text($"The tube lies so far {side} the centre of gravity that with any piece in it the model is outside cg_limits_mm; expected the limits, the centre of gravity and the tube in mm from the same datum, the wing root's leading edge.")
            : Text($"The tube lies so far {side} the centre of gravity that with more than {able[^1]:0.##} g in it the model is outside cg_limits_mm.");
    }

    /// <summary>Caution for pieces that lie loose in the bore; none where all fill it.</summary>
    public static IEnumerable<string> Loose(Airframe airframe, IEnumerable<(string Name, double DiameterMm)> fitted)
    {
        if (airframe.BallastTube is not { } tube)
        {
            yield break;
        }
        string[] loose = [.. fitted.Where(p => tube.BoreMm - p.DiameterMm > LooseMm).Select(p => p.Name).Distinct(StringComparer.Ordinal)];
        if (loose.Length > 0)
        {
            yield return Text($"{Named(loose)}: more than {LooseMm:0.#} mm thinner than the bore of {tube.BoreMm:0.##} mm; wrap with tape until nothing rattles.");
        }
    }

    private static IEnumerable<string> LeftOut(Airframe airframe)
    {
        if (airframe.BallastTube is not { } tube)
        {
            yield break;
        }
        BallastPiece[] misfits = [.. airframe.BallastStock.Where(p => !PieceKinds.Fits(p, tube))];
        foreach (BallastPiece piece in misfits.Take(MostNamed))
        {
            yield return piece.DiameterMm > tube.BoreMm + PieceKinds.SizeRoundingMm
                ? Text($"{piece.Name} (diameter {piece.DiameterMm:0.##} mm, bore {tube.BoreMm:0.##} mm)")
                : Text($"{piece.Name} ({piece.LengthMm:0.##} mm long, tube {tube.LengthMm:0.##} mm)");
        }
        if (misfits.Length > MostNamed)
        {
            yield return Text($"and {misfits.Length - MostNamed} more");
        }
    }

    private static string Named(string[] names) => names.Length <= MostNamed ? string.Join(", ", names) : string.Join(", ", names.Take(MostNamed)) + " and others";

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
