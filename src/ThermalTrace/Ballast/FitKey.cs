namespace ThermalTrace.Ballast;

/// <summary>
/// How good a way to fit ballast is, in the order in which it matters; smaller is better. Each part is in steps that somebody with a scale and a finger under the wing could
/// tell, so that the next part decides where two ways are alike. docs/models/pieces.md.
/// </summary>
/// <param name="Off">By how much mass and centre of gravity together miss what would be right, in tenths of <see cref="FitTolerances"/>; 0 where both are right.</param>
/// <param name="Mass">Distance from the mass asked for, in steps of a scale.</param>
/// <param name="Cg">Distance from the centre of gravity wished for, in steps of balancing.</param>
/// <param name="Inertia">Added pitch inertia, in steps of rounding.</param>
/// <param name="Count">Number of pieces.</param>
internal readonly record struct FitKey(int Off, int Mass, int Cg, long Inertia, int Count)
{
    private const double InertiaStepGMm2 = 1e-3; // far below what matters: alike is alike whatever the order of adding up

    private const double StepEdge = 1e-6; // of a step: rounding of sums

    /// <summary>Worse than anything.</summary>
    public static readonly FitKey Worst = new(int.MaxValue, int.MaxValue, int.MaxValue, long.MaxValue, int.MaxValue);

    /// <summary>From distances: mass g, centre of gravity mm, inertia g mm².</summary>
    public static FitKey Of(double massOffG, double rightMassG, double cgOffMm, double inertiaGMm2, int count) => new(
        OffSteps(massOffG, rightMassG, cgOffMm), Steps(massOffG, FitTolerances.ScaleG), Steps(cgOffMm, FitTolerances.BalanceMm),
        (long)Math.Round(inertiaGMm2 / InertiaStepGMm2), count);

    /// <summary>Whole steps, a half and more up. Sizes that people type make halves to the last digit often; these go one way however they were added up.</summary>
    private static int Steps(double off, double step) => (int)Math.Floor(Math.Abs(off) / step + 0.5 + StepEdge);

    /// <summary>The first part alone.</summary>
    public static int OffSteps(double massOffG, double rightMassG, double cgOffMm)
    {
        double off = Math.Max(Math.Abs(massOffG) / rightMassG - 1, 0) + Math.Max(Math.Abs(cgOffMm) / FitTolerances.RightCgMm - 1, 0);
        return (int)Math.Min(Math.Ceiling(10 * off - StepEdge), int.MaxValue / 2);
    }

    /// <summary>True where the other is better in no respect.</summary>
    public bool IsNoWorse(FitKey other) => Off <= other.Off && Mass <= other.Mass && Cg <= other.Cg && Inertia <= other.Inertia && Count <= other.Count;

    /// <summary>Compares in one of the orders of importance.</summary>
    public int CompareTo(FitKey other, FitAim aim)
    {
        int order = Off.CompareTo(other.Off);
        if (order == 0)
        {
            order = aim switch
            {
                FitAim.FewestPieces => Count.CompareTo(other.Count),
                FitAim.LeastInertia => Inertia.CompareTo(other.Inertia),
                _ => 0,
            };
        }
        order = order != 0 ? order : Mass.CompareTo(other.Mass);
        order = order != 0 ? order : Cg.CompareTo(other.Cg);
        order = order != 0 ? order : Inertia.CompareTo(other.Inertia);
        return order != 0 ? order : Count.CompareTo(other.Count);
    }
}

/// <summary>What decides among ways that are right.</summary>
internal enum FitAim
{
    /// <summary>The mass asked for, then the centre of gravity, then least inertia, then fewest pieces.</summary>
    AsAsked,
    /// <summary>Fewest pieces first.</summary>
    FewestPieces,
    /// <summary>Least inertia first.</summary>
    LeastInertia,
}
