using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Learning;

/// <summary>
/// The airframe's drag as a Gaussian: its physical terms and discrepancy nodes, then a departure for each ballast ever flown.
/// docs/models/season.md eq. 1 to 3.
/// </summary>
/// <param name="Mean">Over the terms.</param>
/// <param name="Covariance">Over the terms.</param>
/// <param name="BallastsG">Ballasts with a departure of their own, rising.</param>
/// <param name="Pieces">Independent pieces of evidence for each of them, in sessions.</param>
internal sealed record TunedDrag(Vector<double> Mean, Matrix<double> Covariance, IReadOnlyList<double> BallastsG, IReadOnlyList<int> Pieces)
{
    /// <summary>Terms of the airframe itself; those of air and sensors are each session's own.</summary>
    public const int Airframe = DragTerms.Gusts;

    /// <summary>Two masses are one ballast when they differ by less, g.</summary>
    public const double SameBallastG = 0.05;

    /// <summary>Draws for a list of options, in the layout of their drag terms; in still air.</summary>
    /// <param name="options">Their index is that of the ballast's departure among <paramref name="terms"/>.</param>
    /// <param name="terms">Terms for as many ballasts.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="count">How many.</param>
    public double[][] Draw(IReadOnlyList<Option> options, DragTerms terms, int seed, int count)
    {
        System.Random random = new(seed);
        Matrix<double> factor = ((Covariance + Covariance.Transpose()) * 0.5).Cholesky().Factor;
        double unknownSd = Math.Sqrt(terms.PriorCovariance[DragTerms.Common, DragTerms.Common]);
        double[][] draws = new double[count][];
        for (int d = 0; d < count; d++)
        {
            Vector<double> x = Mean + factor * Vector<double>.Build.Dense(Mean.Count, _ => Normal.Sample(random, 0, 1));
            double[] draw = draws[d] = new double[terms.Count];
            for (int j = 0; j < Airframe; j++)
            {
                draw[j] = x[j];
            }
            foreach (Option option in options.Where(o => o.Ballast >= 0))
            {
                int known = IndexOf(option.BallastG);
                draw[DragTerms.Common + option.Ballast] = known >= 0 ? x[Airframe + known] : unknownSd * Normal.Sample(random, 0, 1);
            }
        }
        return draws;
    }

    /// <summary>The mean in the layout of a list of options' drag terms; in still air.</summary>
    public double[] Central(IReadOnlyList<Option> options, DragTerms terms)
    {
        double[] mean = new double[terms.Count];
        for (int j = 0; j < Airframe; j++)
        {
            mean[j] = Mean[j];
        }
        foreach (Option option in options.Where(o => o.Ballast >= 0 && IndexOf(o.BallastG) >= 0))
        {
            mean[DragTerms.Common + option.Ballast] = Mean[Airframe + IndexOf(option.BallastG)];
        }
        return mean;
    }

    /// <summary>Place of a ballast among <see cref="BallastsG"/>, or −1.</summary>
    public int IndexOf(double ballastG)
    {
        for (int k = 0; k < BallastsG.Count; k++)
        {
            if (Math.Abs(BallastsG[k] - ballastG) < SameBallastG)
            {
                return k;
            }
        }
        return -1;
    }
}
