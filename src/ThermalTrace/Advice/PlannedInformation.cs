using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;

namespace ThermalTrace.Advice;

/// <summary>
/// What the drag terms are known by now, and by how much flights would narrow that: sessions not flown yet are added up as those of the
/// season are, what belongs to a day integrated out of each. docs/models/plan.md eq. 2.
/// </summary>
internal sealed class PlannedInformation
{
    private readonly SeasonModel _model;
    private readonly DragTerms _terms;
    private readonly double[] _ballastsG;
    private readonly IReadOnlyList<string> _names;
    private readonly double _widening;

    /// <summary>For the season's model and the options of a plan.</summary>
    /// <param name="model">The season's.</param>
    /// <param name="options">The plan's, their index that of their departure.</param>
    /// <param name="terms">Terms of a session on the day planned for, with their prior.</param>
    /// <param name="widening">Of a session's variances.</param>
    public PlannedInformation(SeasonModel model, IReadOnlyList<Option> options, DragTerms terms, double widening)
    {
        (_model, _terms, _widening) = (model, terms, widening);
        _ballastsG = [.. options.Select(o => o.BallastG)];
        _names = terms.Names(_ballastsG);
        const int a = TunedDrag.Airframe;
        int size = a + options.Count;
        int[] place = [.. Enumerable.Range(0, a), .. _ballastsG.Select(b => model.Drag.IndexOf(b) is >= 0 and int k ? a + k : -1)];
        double unknown = terms.PriorCovariance[DragTerms.Common, DragTerms.Common];
        Mean = Vector<double>.Build.Dense(size, i => place[i] < 0 ? 0 : model.Drag.Mean[place[i]]);
        Matrix<double> covariance = Matrix<double>.Build.Dense(size, size, (i, j) => place[i] >= 0 && place[j] >= 0 ? model.Drag.Covariance[place[i], place[j]] : i == j ? unknown : 0);
        MathNet.Numerics.LinearAlgebra.Factorization.Evd<double> evd = ((covariance + covariance.Transpose()) * 0.5).Evd(Symmetricity.Symmetric);
        Root = evd.EigenVectors * Matrix<double>.Build.DenseOfDiagonalVector(evd.EigenValues.Map(z => Math.Sqrt(Math.Max(z.Real, 0))));
    }

    /// <summary>Mean of the airframe's terms and the options' departures.</summary>
    public Vector<double> Mean { get; }

    /// <summary>Their covariance is this times its transpose; its columns are directions of one standard deviation each.</summary>
    public Matrix<double> Root { get; }

    /// <summary>Coefficients of the drag terms for a vector of <see cref="Mean"/>'s kind, in still air.</summary>
    public double[] Coefficients(Vector<double> x)
    {
        double[] coefficients = new double[_terms.Count];
        for (int i = 0; i < x.Count; i++)
        {
            coefficients[i < TunedDrag.Airframe ? i : DragTerms.Common + i - TunedDrag.Airframe] = x[i];
        }
        return coefficients;
    }

    /// <summary>Covariance of the scaled terms after sessions; the unit matrix without any.</summary>
    /// <param name="sessions">Of each, the sum of its flights' information over the terms.</param>
    public Matrix<double> After(IEnumerable<Matrix<double>> sessions)
    {
        Matrix<double> precision = Matrix<double>.Build.DenseIdentity(Mean.Count);
        foreach (Matrix<double> session in sessions)
        {
            SessionEvidence evidence = new()
            {
                Format = SessionEvidence.CurrentFormat,
                Terms = _names,
                Information = session.ToRowMajorArray(),
                Score = new double[_terms.Count],
                Rows = 0,
                Basis = DragBasis.Of(_model.Prediction),
                PriorMean = _terms.PriorMean.ToArray(),
                PriorSd = _terms.PriorCovariance.Diagonal().Map(Math.Sqrt).ToArray(),
                Widening = _widening,
                BallastsG = _ballastsG,
            };
            precision += Root.TransposeThisAndMultiply(DragPool.Of(evidence, _model.Prediction)!.Information) * Root;
        }
        precision = (precision + precision.Transpose()) * 0.5;
        return precision.Cholesky().Solve(Matrix<double>.Build.DenseIdentity(Mean.Count));
    }
}
