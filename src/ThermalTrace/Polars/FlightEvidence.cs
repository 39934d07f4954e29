using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Factorization;

namespace ThermalTrace.Polars;

/// <summary>
/// One flight's glides as a Gaussian likelihood over the drag terms (and whatever columns were added to them), its wind
/// error integrated out. Flights add up, so that a fit to the others is a sum. docs/models/checks.md eq. 1.
/// </summary>
/// <param name="Information">Over the terms.</param>
/// <param name="Score">Information times estimate.</param>
/// <param name="Square">Whitened sum of squares of the measurement.</param>
/// <param name="Logs">Sum of the logarithms of variances: innovations and what was integrated out.</param>
internal sealed record FlightEvidence(Matrix<double> Information, Vector<double> Score, double Square, double Logs)
{
    /// <summary>Nothing known.</summary>
    public static FlightEvidence None(int size) => new(Matrix<double>.Build.Dense(size, size), Vector<double>.Build.Dense(size), 0, 0);

    /// <summary>Whitens a flight's rows and integrates its wind error out.</summary>
    /// <param name="rows">The flight; <see cref="EnergyRows.Global"/> says which term each column is.</param>
    /// <param name="noise">Hyperparameters of the air.</param>
    /// <param name="size">Number of terms.</param>
    /// <param name="observe">Sees every whitened row, if given.</param>
    public static FlightEvidence Of(EnergyRows rows, AirNoise noise, int size, Action<int, double[]>? observe = null)
    {
        FlightEvidence none = None(size);
        (double square, double logs) = Add(rows, noise, none.Information, none.Score, observe);
        return none with { Square = square, Logs = logs };
    }

    /// <summary>The same, added to what other flights told; returns what is to be added to <see cref="Square"/> and <see cref="Logs"/>.</summary>
    public static (double Square, double Logs) Add(EnergyRows rows, AirNoise noise, Matrix<double> information, Vector<double> score, Action<int, double[]>? observe = null)
    {
        int width = rows.Width;
        double[] normal = new double[width * width];
        double logs = Whitener.Accumulate(rows, noise, normal, observe);
        int e = width - 2, n = width - 1;
        (double pee, double pen, double pnn) = rows.WindInformation;
        double aee = normal[e * width + e] + pee, aen = normal[e * width + n] + pen, ann = normal[n * width + n] + pnn;
        double determinant = Math.Max(aee * ann - aen * aen, 1e-300);
        logs += Math.Log(determinant / (pee * pnn - pen * pen));
        double Eliminated(int a, int b)
        {
            double ea = normal[e * width + a], na = normal[n * width + a], eb = normal[e * width + b], nb = normal[n * width + b];
            return normal[a * width + b] - (ea * (ann * eb - aen * nb) + na * (aee * nb - aen * eb)) / determinant;
        }
        for (int a = 0; a < rows.Global.Length; a++)
        {
            score[rows.Global[a]] += Eliminated(0, 1 + a);
            for (int b = 0; b < rows.Global.Length; b++)
            {
                information[rows.Global[a], rows.Global[b]] += Eliminated(1 + a, 1 + b);
            }
        }
        return (Eliminated(0, 0), logs);
    }

    /// <summary>Flights together.</summary>
    public static FlightEvidence Sum(IEnumerable<FlightEvidence> flights, int size) => flights.Aggregate(None(size), (a, b) => a.Plus(b, 1));

    /// <summary>This and another, the other counted so often (−1 takes it away).</summary>
    public FlightEvidence Plus(FlightEvidence other, double times) => new(Information + times * other.Information, Score + times * other.Score,
        Square + times * other.Square, Logs + times * other.Logs);

    /// <summary>One term integrated out against a prior about zero; its row becomes zero.</summary>
    /// <param name="index">The term.</param>
    /// <param name="precision">Of its prior.</param>
    public FlightEvidence Without(int index, double precision)
    {
        double pivot = Information[index, index] + precision;
        Vector<double> column = Information.Column(index);
        Matrix<double> information = Information - column.OuterProduct(column) / pivot;
        Vector<double> score = Score - column * (Score[index] / pivot);
        information.ClearRow(index);
        information.ClearColumn(index);
        score[index] = 0;
        return new FlightEvidence(information, score, Square - Score[index] * Score[index] / pivot, Logs + Math.Log(pivot / precision));
    }

    /// <summary>Log density of the flight's measurements, up to a constant of their number, where the terms are known as a Gaussian.</summary>
    /// <param name="known">What the terms are known from.</param>
    public double LogDensity(KnownTerms known)
    {
        Vector<double> mean = known.Mean;
        Vector<double> shifted = Score - Information * mean;
        double square = Square - 2 * mean.DotProduct(Score) + mean.DotProduct(Information * mean);
        Cholesky<double> together = (known.Precision + Information).Cholesky();
        return -0.5 * (square - shifted.DotProduct(together.Solve(shifted)) + together.DeterminantLn - known.Factor.DeterminantLn + Logs);
    }
}

/// <summary>Drag terms as a Gaussian: prior and some flights.</summary>
/// <param name="Mean">Mean.</param>
/// <param name="Precision">Inverse covariance.</param>
/// <param name="Factor">Its Cholesky factor.</param>
internal sealed record KnownTerms(Vector<double> Mean, Matrix<double> Precision, Cholesky<double> Factor)
{
    /// <summary>Prior and flights together; added columns, beyond the terms, get a prior of their own.</summary>
    /// <param name="terms">The terms with their prior.</param>
    /// <param name="flights">What the flights say.</param>
    /// <param name="addedPrecision">Of the prior of every column beyond the terms.</param>
    public static KnownTerms From(DragTerms terms, FlightEvidence flights, double addedPrecision = 1)
    {
        int size = flights.Score.Count;
        Matrix<double> prior = Matrix<double>.Build.DenseDiagonal(size, size, addedPrecision);
        prior.SetSubMatrix(0, 0, terms.PriorPrecision);
        Vector<double> mean = Vector<double>.Build.Dense(size);
        mean.SetSubVector(0, terms.Count, terms.PriorMean);
        Matrix<double> precision = prior + flights.Information;
        precision = (precision + precision.Transpose()) * 0.5;
        Cholesky<double> factor = precision.Cholesky();
        return new KnownTerms(mean + factor.Solve(flights.Score - flights.Information * mean), precision, factor);
    }

    /// <summary>Variance of a sum of terms.</summary>
    public double Variance(Vector<double> weights) => weights.DotProduct(Factor.Solve(weights));
}
