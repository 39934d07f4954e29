using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Tests.Ballast;

/// <summary>Every choice of pieces in every order, one by one: what the search is held against. Shares the arithmetic of moments with it and nothing else.</summary>
internal static class EveryWay
{
    /// <summary>A choice in an order, at its place.</summary>
    /// <param name="Falling">True where densities fall to both ends from one place.</param>
    public sealed record Way(IReadOnlyList<PlacedMass> Pieces, double MassG, double CgOffMm, double InertiaKgM2, bool Falling, FitKey Key);

    private static readonly BallastTube Endless = new(double.PositiveInfinity, double.PositiveInfinity, 0);

    /// <summary>All of them that the limits allow.</summary>
    public static IEnumerable<Way> Of(Airframe airframe, double askedG, double shiftMm, double heaviestG)
    {
        BallastTube tube = airframe.BallastTube ?? Endless;
        BallastPiece[] pieces = [.. airframe.BallastStock.Where(p => p.DiameterMm <= tube.BoreMm).SelectMany(p => Enumerable.Repeat(p, p.Count))];
        HashSet<string> seen = [];
        for (int set = 0; set < 1 << pieces.Length; set++)
        {
            BallastPiece[] chosen = [.. pieces.Where((_, i) => (set >> i & 1) != 0)];
            if (chosen.Sum(p => p.LengthMm) > tube.LengthMm + 1e-9 || chosen.Sum(p => p.MassG) > heaviestG + 1e-9 || !seen.Add(string.Join("|", chosen.Select(p => $"{p.MassG} {p.LengthMm} {p.DiameterMm}").Order())))
            {
                continue;
            }
            foreach (BallastPiece[] order in Orders(chosen))
            {
                if (Place(airframe, order, askedG, shiftMm) is { } way)
                {
                    yield return way;
                }
            }
        }
    }

    private static Way? Place(Airframe airframe, BallastPiece[] order, double askedG, double shiftMm)
    {
        BallastTube tube = airframe.BallastTube ?? Endless;
        bool known = airframe is { CgMm: not null, BallastTube: not null };
        double bare = airframe.UnballastedMassG, cg = airframe.CgMm ?? tube.CentreMm, mass = order.Sum(p => p.MassG), length = order.Sum(p => p.LengthMm);
        // Where it is not known where the centre of gravity is, the ballast goes to the middle of the tube.
        (double wish, (double ForwardMm, double AftMm)? within) = known ? (cg + shiftMm, airframe.CgLimitsMm) : (cg, null);
        double aim = within is { } w ? Math.Clamp(wish, w.ForwardMm, w.AftMm) : wish;
        double at = airframe.BallastTube is null ? cg - length : tube.CentreMm - tube.LengthMm / 2, room = airframe.BallastTube is null ? length : tube.LengthMm - length;
        List<PlacedMass> packed = [];
        foreach (BallastPiece piece in order)
        {
            packed.Add(new PlacedMass(piece.MassG, piece.DiameterMm, piece.LengthMm, at + piece.LengthMm / 2));
            at += piece.LengthMm;
        }
        double move = order.Length == 0 ? 0 : Math.Clamp(((bare + mass) * aim - bare * cg - packed.Sum(p => p.MassG * p.CentreMm)) / mass, 0, Math.Max(room, 0));
        PlacedMass[] placed = [.. packed.Select(p => p with { CentreMm = p.CentreMm + move })];
        double then = MassBalance.CgMm(bare, cg, placed);
        if (within is { } limits && (then < limits.ForwardMm - 1e-9 || then > limits.AftMm + 1e-9))
        {
            return null;
        }
        double off = known ? then - wish : 0, inertia = MassBalance.AddedKgM2(bare, cg, placed);
        return new Way(placed, mass, off, inertia, FallsFromOnePlace([.. order.Select(p => p.MassG / p.LengthMm)]),
            FitKey.Of(mass - askedG, FitTolerances.RightMassG(bare), off, inertia * 1e9, order.Length));
    }

    private static bool FallsFromOnePlace(double[] densities)
    {
        int i = 1;
        while (i < densities.Length && densities[i] >= densities[i - 1] * (1 - 1e-9))
        {
            i++;
        }
        while (i < densities.Length && densities[i] <= densities[i - 1] * (1 + 1e-9))
        {
            i++;
        }
        return i >= densities.Length;
    }

    private static IEnumerable<BallastPiece[]> Orders(BallastPiece[] pieces)
    {
        if (pieces.Length < 2)
        {
            yield return pieces;
            yield break;
        }
        for (int first = 0; first < pieces.Length; first++)
        {
            foreach (BallastPiece[] rest in Orders([.. pieces.Where((_, i) => i != first)]))
            {
                yield return [pieces[first], .. rest];
            }
        }
    }
}
