using ThermalTrace.Sessions;

namespace ThermalTrace.Ballast;

/// <summary>Every step from the empty model to its limit, for a card.</summary>
internal static class PieceTable
{
    private const int MostSteps = 15; // with the listed options among them: what is read at a glance in a lid
    private static readonly double[] NiceSteps = [1, 2, 2.5, 5, 10];

    /// <summary>The masses to work out, rising: none, whole steps, the options listed, the limit.</summary>
    /// <param name="airframe">The model.</param>
    /// <param name="limitG">The most ballast that can be fitted, g. A listed option that it is right for stands for it.</param>
    /// <param name="stepG">The step wished, or null for a round one.</param>
    public static IReadOnlyList<double> MassesG(Airframe airframe, double limitG, double? stepG)
    {
        double step = stepG ?? RoundStepG(limitG), right = FitTolerances.RightMassG(airframe.UnballastedMassG);
        double allowed = Math.Min(limitG + right, PieceCheck.HeaviestG(airframe)) + PieceKinds.MassRoundingG;
        SortedSet<double> masses = [0, .. airframe.BallastOptionsG.Where(o => o <= allowed)];
        if (!masses.Any(m => Math.Abs(m - limitG) <= right))
        {
            masses.Add(limitG);
        }
        double[] listed = [.. masses];
        for (int i = 1; i * step <= limitG * (1 + 1e-9); i++)
        {
            // A listed option or the limit beside a step takes its place.
            double mass = i * step;
            if (!listed.Any(m => Math.Abs(m - mass) < step / 2.5))
            {
                masses.Add(mass);
            }
        }
        return [.. masses];
    }

    /// <summary>The smallest round step with which the table stays short.</summary>
    public static double RoundStepG(double limitG)
    {
        if (!(limitG > 0))
        {
            return 1;
        }
        double decade = Math.Pow(10, Math.Floor(Math.Log10(limitG / MostSteps)));
        return NiceSteps.Select(n => n * decade).First(s => limitG / s <= MostSteps + 1e-9);
    }
}
