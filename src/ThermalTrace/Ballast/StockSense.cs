using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>Masses that could be asked for and that nothing comes near enough to, g.</summary>
internal readonly record struct MassGap(double FromG, double ToG);

/// <summary>How well a stock meets any mass up to a limit.</summary>
/// <param name="Sums">Different masses, to a step of the scale; nothing at all is not counted.</param>
/// <param name="Gaps">Masses farther than would be felt from any sum, widest first.</param>
/// <param name="MeanOffG">Distance of a mass asked for from the nearest sum, mean over all up to the limit.</param>
/// <param name="WorstOffG">The most of it.</param>
internal sealed record StockReach(int Sums, IReadOnlyList<MassGap> Gaps, double MeanOffG, double WorstOffG)
{
    private const double NoGapG = 1e-6; // rounding of a sum

    /// <summary>Of sums that rise from 0.</summary>
    /// <param name="sums">What can be made.</param>
    /// <param name="upToG">The limit, above 0.</param>
    /// <param name="rightG">Within this of what was asked a mass is right.</param>
    public static StockReach Of(IReadOnlyList<StockSum> sums, double upToG, double rightG)
    {
        double[] masses = [.. sums.Select(s => s.MassG)];
        List<MassGap> gaps = [];
        double area = 0, worst = 0;
        void Gap(double fromG, double toG)
        {
            if (toG - fromG > NoGapG)
            {
                gaps.Add(new MassGap(fromG, toG));
            }
        }
        for (int i = 1; i < masses.Length; i++)
        {
            double apart = masses[i] - masses[i - 1];
            area += apart * apart / 4;
            worst = Math.Max(worst, apart / 2);
            Gap(masses[i - 1] + rightG, masses[i] - rightG);
        }
        double beyond = Math.Max(upToG - masses[^1], 0);
        Gap(masses[^1] + rightG, upToG);
        return new StockReach(masses.Select(m => Math.Round(m / FitTolerances.ScaleG)).Where(m => m > 0).Distinct().Count(),
            [.. gaps.OrderByDescending(g => Math.Round(g.ToG - g.FromG, 6)).ThenBy(g => g.FromG)], (area + beyond * beyond / 2) / upToG, Math.Max(worst, beyond));
    }
}

/// <summary>What the pieces owned make, what they cannot, and which new ones would help most. docs/models/stock.md.</summary>
/// <param name="UpToG">The limit that was looked at, g; 0 where nothing may be fitted.</param>
/// <param name="Now">With the pieces owned; null where nothing may be fitted.</param>
/// <param name="NewPieces">Three at most; empty where nothing is missing that could be felt, or nothing would help. Of no known size without a tube.</param>
/// <param name="Then">With them; null without any.</param>
/// <param name="FullTubeG">What the tube holds when it is full of tungsten alloy, where that is less than the limit; null else.</param>
/// <param name="FitKnown">False without a tube: lengths could not be checked.</param>
internal sealed record StockSense(double UpToG, StockReach? Now, IReadOnlyList<BallastPiece> NewPieces, StockReach? Then, double? FullTubeG, bool FitKnown)
{
    private const double BoreClearanceMm = 0.2; // a piece slides in and does not rattle; common practice, no source

    private const double GMm3 = 1e-3; // of 1 g/cm³

    /// <summary>Looks at a stock.</summary>
    /// <param name="airframe">The model, its stock, its tube and its limits.</param>
    /// <param name="cancel">Ends the search.</param>
    public static StockSense Of(Airframe airframe, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        BallastTube? tube = airframe.BallastTube;
        double limit = LimitG(airframe), right = FitTolerances.RightMassG(airframe.UnballastedMassG);
        if (!(limit > 0))
        {
            return new StockSense(0, null, [], null, null, tube is not null);
        }
        IReadOnlyList<StockSum> sums = StockSums.Of(airframe, limit);
        StockReach now = StockReach.Of(sums, limit, right);
        double diameter = tube is null ? double.NaN : tube.BoreMm - BoreClearanceMm, area = Math.PI / 4 * diameter * diameter;
        double PerMmG(Material material) => material.DensityGCm3 * GMm3 * area;
        double? full = tube is not null && diameter > 0 && PerMmG(Materials.TungstenAlloy) * tube.LengthMm < limit - right ? PerMmG(Materials.TungstenAlloy) * tube.LengthMm : null;
        if (now.Gaps.Count == 0 || diameter <= 0)
        {
            return new StockSense(limit, now, [], null, full, tube is not null);
        }
        // Brass is easy to come by, to turn and to touch; where a tube full of it weighs less than the limit, what takes half of the length.
        Material material = tube is null || PerMmG(Materials.Brass) * tube.LengthMm >= limit ? Materials.Brass : Materials.TungstenAlloy;
        double lengthPerG = tube is null ? 0 : 1 / PerMmG(material);
        double[] masses = new NewPieces(sums, limit, tube?.LengthMm ?? double.PositiveInfinity, lengthPerG).Best(cancel);
        BallastPiece[] pieces = [.. masses.Select(m => new BallastPiece("new", material.Name, m, diameter, tube is null ? double.NaN : m * lengthPerG, 1))];
        StockReach then = StockReach.Of(StockSums.Of(airframe.BallastStock.Concat(pieces), tube, limit), limit, right);
        bool helps = pieces.Length > 0 && then.MeanOffG < now.MeanOffG - 1e-6;
        return new StockSense(limit, now, helps ? pieces : [], helps ? then : null, full, tube is not null);
    }

    /// <summary>The heaviest ballast to think of, g: what the limit of flying mass leaves, else the heaviest option, else all that fits.</summary>
    public static double LimitG(Airframe airframe)
    {
        ArgumentNullException.ThrowIfNull(airframe);
        if (airframe.MaxFlyingMassG is { } most)
        {
            return Math.Max(most - airframe.UnballastedMassG, 0);
        }
        double heaviest = airframe.BallastOptionsG.DefaultIfEmpty(0).Max();
        return heaviest > 0 ? heaviest : StockSums.Of(airframe, double.PositiveInfinity)[^1].MassG;
    }
}
