using CsCheck;
using MathNet.Numerics.LinearAlgebra;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;

namespace ThermalTrace.Tests.Learning;

public sealed class DragPoolTests
{
    private static readonly Airframe Airframe = AdviceModels.Tansy;
    private static readonly Prediction Prediction = Prediction.For(Airframe);
    private static readonly Lazy<DragPool.Part[]> LazyParts = new(() => [.. Enumerable.Range(0, 12).Select(s => DragPool.Of(Day(s).Evidence(), Prediction)!)]);

    private static DragPool.Part[] Parts => LazyParts.Value;

    [Fact]
    public void Sessions_InAnyOrder_GiveTheSameDrag() =>
        Gen.Shuffle(Enumerable.Range(0, Parts.Length).ToArray()).Sample(order =>
        {
            TunedDrag one = Tuned(Parts), other = Tuned([.. order.Select(k => Parts[k])]);
            Assert.Equal(one.BallastsG, other.BallastsG);
            Assert.Equal(one.Pieces, other.Pieces);
            Same(one.Mean, other.Mean, one.Covariance);
            Same(one.Covariance, other.Covariance);
        }, iter: 20, threads: 1);

    [Fact]
    public void Sessions_InTurn_GiveTheSameAsTogether()
    {
        // What was known after each session is the next one's prior; written out with dense algebra beside the pool's own sums.
        DragPool.Sum none = DragPool.Add(Prediction, [.. Parts.Select(p => p with { Information = p.Information * 0, Score = p.Score * 0 })], []);
        Matrix<double> covariance = none.Precision.Inverse();
        Vector<double> mean = covariance * none.Right;
        foreach (DragPool.Part part in Parts)
        {
            int[] place = [.. Enumerable.Range(0, TunedDrag.Airframe), .. part.BallastsG.Select(b => TunedDrag.Airframe + none.BallastsG.ToList().IndexOf(b))];
            Matrix<double> information = Matrix<double>.Build.Dense(none.Drag, none.Drag);
            Vector<double> score = Vector<double>.Build.Dense(none.Drag);
            for (int a = 0; a < place.Length; a++)
            {
                score[place[a]] = part.Score[a];
                for (int b = 0; b < place.Length; b++)
                {
                    information[place[a], place[b]] = part.Information[a, b];
                }
            }
            Matrix<double> precision = covariance.Inverse();
            covariance = (precision + information).Inverse();
            mean = covariance * (precision * mean + score);
        }

        DragPool.Sum together = DragPool.Add(Prediction, Parts, []);
        Same(together.Precision.Inverse(), covariance, 1e-6);
        Same(together.Precision.Inverse() * together.Right, mean, covariance, 1e-6);
    }

    [Fact]
    public void Information_OfTwoSessionsAddedFirst_IsThatOfBoth()
    {
        DragPool.Part one = Parts[0], other = Parts[2];
        Assert.Equal(one.BallastsG, other.BallastsG);
        TunedDrag both = DragPool.Now(DragPool.Add(Prediction, [one, other], []), 2);
        TunedDrag first = DragPool.Now(DragPool.Add(Prediction, [one with { Information = one.Information + other.Information, Score = one.Score + other.Score }], []), 1);
        Same(both.Mean, first.Mean, both.Covariance);
        Same(both.Covariance, first.Covariance);
    }

    [Fact]
    public void OneTerm_TwiceMeasured_IsTheWeighedMeanByHand()
    {
        double prior = Prediction.Curve.Cd0, sd = Prediction.Spread.Cd0;
        TunedDrag tuned = Tuned([Measured(prior + sd, sd / 2), Measured(prior - 0.5 * sd, sd)]);
        // Weights 1, 4 and 1 over sd²: mean (0·1 + 1·4 − 0.5·1)/6 sd above the prior's, variance sd²/6.
        Assert.Equal(prior + 3.5 / 6 * sd, tuned.Mean[DragTerms.Cd0], 1e-12);
        Assert.Equal(sd * sd / 6, tuned.Covariance[DragTerms.Cd0, DragTerms.Cd0], 1e-15);
        Assert.Equal(Prediction.Curve.InverseSpanEfficiency, tuned.Mean[DragTerms.Induced], 1e-9);

        static DragPool.Part Measured(double value, double sd)
        {
            Matrix<double> information = Matrix<double>.Build.Dense(TunedDrag.Airframe, TunedDrag.Airframe);
            information[DragTerms.Cd0, DragTerms.Cd0] = 1 / (sd * sd);
            return new DragPool.Part([], information, Vector<double>.Build.Dense(TunedDrag.Airframe, j => j == DragTerms.Cd0 ? value / (sd * sd) : 0));
        }
    }

    [Fact]
    public void WhatIsTheSessionsOwn_IntegratedOut_IsTheWholeSystemSolvedAtOnce()
    {
        SessionEvidence[] days = [Day(0).Evidence() with { Widening = 1.4 }, Day(1).Evidence()];
        double[] ballasts = [.. days.SelectMany(d => d.BallastsG).Distinct().Order()];
        const int own = DragTerms.Common - DragTerms.Gusts, each = own + DragTerms.Nodes;
        int drag = TunedDrag.Airframe + ballasts.Length, size = drag + days.Length * each;
        DragTerms prior = new(Prediction, ballasts.Length, 0, 0, 1);
        Matrix<double> covariance = Matrix<double>.Build.Dense(size, size);
        Vector<double> mean = Vector<double>.Build.Dense(size);
        for (int a = 0; a < drag; a++)
        {
            mean[a] = prior.PriorMean[Term(a)];
            for (int b = 0; b < drag; b++)
            {
                covariance[a, b] = prior.PriorCovariance[Term(a), Term(b)];
            }
        }
        Matrix<double> precision = Matrix<double>.Build.Dense(size, size);
        Vector<double> right = Vector<double>.Build.Dense(size);
        for (int s = 0; s < days.Length; s++)
        {
            SessionEvidence day = days[s];
            int at = drag + s * each, n = day.Terms.Count;
            for (int j = 0; j < own; j++)
            {
                mean[at + j] = day.PriorMean[DragTerms.Gusts + j];
                covariance[at + j, at + j] = Math.Pow(day.PriorSd[DragTerms.Gusts + j], 2);
            }
            covariance.SetSubMatrix(at + own, at + own, DragPool.DayShares(day));
            Matrix<double> place = Matrix<double>.Build.Dense(n, size);
            for (int j = 0; j < n; j++)
            {
                place[j, j < DragTerms.Gusts ? j : j < DragTerms.Common ? at + j - DragTerms.Gusts : TunedDrag.Airframe + Array.IndexOf(ballasts, day.BallastsG[j - DragTerms.Common])] = 1;
            }
            for (int node = 0; node < DragTerms.Nodes; node++)
            {
                place[DragTerms.Physical + node, at + own + node] = 1;
            }
            precision += place.Transpose() * Matrix<double>.Build.DenseOfRowMajor(n, n, day.Information) * place / day.Widening;
            right += place.Transpose() * Vector<double>.Build.DenseOfEnumerable(day.Score) / day.Widening;
        }
        Matrix<double> priorPrecision = covariance.Inverse();
        Matrix<double> posterior = (priorPrecision + precision).Inverse();
        Vector<double> solved = posterior * (priorPrecision * mean + right);

        DragPool.Sum sum = DragPool.Add(Prediction, [.. days.Select(d => DragPool.Of(d, Prediction)!)], []);
        Matrix<double> pooled = sum.Precision.Inverse();
        Assert.Equal(ballasts, sum.BallastsG);
        Same(posterior.SubMatrix(0, drag, 0, drag), pooled, 1e-6);
        Same(solved.SubVector(0, drag), pooled * sum.Right, pooled, 1e-5);

        static int Term(int a) => a < TunedDrag.Airframe ? a : DragTerms.Common + a - TunedDrag.Airframe;
    }

    [Fact]
    public void Sink_WithMoreSessions_IsNeverKnownWorse()
    {
        foreach ((double v, double mass) in TunedSink.Flown)
        {
            double before = double.PositiveInfinity;
            for (int n = 0; n <= Parts.Length; n++)
            {
                double sd = TunedSink.At(Tuned(Parts[..n]), Prediction, v, mass).SdMps;
                Assert.True(sd <= before * (1 + 1e-9), FormattableString.Invariant($"{v} m/s, {mass} kg: {before:0.0000} m/s with {n - 1} sessions, {sd:0.0000} with {n}"));
                before = sd;
            }
            Assert.True(before < 0.7 * TunedSink.At(Tuned([]), Prediction, v, mass).SdMps);
        }
    }

    [Fact]
    public void Drag_WithoutASession_IsThePriorFromGeometry()
    {
        TunedDrag drag = SeasonModel.Tune(Airframe, [], 1).Drag;
        DragTerms prior = new(Prediction, 1, 0, 0, 1);
        Assert.Empty(drag.BallastsG);
        Same(prior.PriorMean.SubVector(0, TunedDrag.Airframe), drag.Mean, drag.Covariance);
        Same(prior.PriorCovariance.SubMatrix(0, TunedDrag.Airframe, 0, TunedDrag.Airframe), drag.Covariance, 1e-6);
    }

    [Fact]
    public void Drag_OfManyQuietDays_IsTheTruth()
    {
        Func<double, double, double> truth = MadeUpDay.Drag(Airframe, 0.05);
        SeasonModel model = SeasonModel.Tune(Airframe, [.. Enumerable.Range(0, 12).Select(s => (Day(s) with { Scatter = 0, DragAreaM2 = truth }).Session("s" + s))], 1);
        foreach ((double v, double mass) in TunedSink.Flown.Where(f => f.MassKg == 0.248 && f.AirspeedMps < 10.5))
        {
            double sink = truth(v, mass) * MadeUpDay.SeaLevelDensityKgM3 * v * v * v / (2 * mass * MadeUpDay.StandardGravityMps2);
            Assert.Equal(1, TunedSink.At(model.Drag, Prediction, v, mass, 0).Mps / sink, 0.01);
        }
    }

    [Fact]
    public void Season_InAnyOrderOfAdding_IsTheSameToTheLastBit()
    {
        SeasonSession[] sessions = [.. Enumerable.Range(0, 8).Select(s => Day(s).Session("s" + s))];
        Assert.Equal(SeasonMemory.Write(SeasonModel.Tune(Airframe, sessions, 1)), SeasonMemory.Write(SeasonModel.Tune(Airframe, [.. sessions.Reverse()], 1)));
    }

    private static MadeUpDay Day(int seed) => new()
    {
        Airframe = Airframe,
        DragAreaM2 = MadeUpDay.Drag(Airframe, 0.05),
        BallastsG = seed % 2 == 0 ? [0, 60] : [30, 60],
        WindMps = 1 + seed % 5,
        Scatter = 1,
        Seed = seed,
        Date = MadeUpDay.Day(seed),
    };

    private static TunedDrag Tuned(DragPool.Part[] parts) => DragPool.Now(DragPool.Add(Prediction, parts, []), parts.Length);

    /// <summary>On the scale of what is known of each.</summary>
    private static void Same(Vector<double> expected, Vector<double> actual, Matrix<double> covariance, double tolerance = 1e-7)
    {
        Assert.Equal(expected.Count, actual.Count);
        for (int j = 0; j < expected.Count; j++)
        {
            Assert.True(Math.Abs(expected[j] - actual[j]) <= tolerance * Math.Sqrt(covariance[j, j]), $"term {j}: {expected[j]} and {actual[j]}");
        }
    }

    private static void Same(Matrix<double> expected, Matrix<double> actual, double tolerance = 1e-7)
    {
        Assert.Equal(expected.RowCount, actual.RowCount);
        for (int a = 0; a < expected.RowCount; a++)
        {
            for (int b = 0; b < expected.ColumnCount; b++)
            {
                Assert.True(Math.Abs(expected[a, b] - actual[a, b]) <= tolerance * Math.Sqrt(expected[a, a] * expected[b, b]), $"terms {a}, {b}: {expected[a, b]} and {actual[a, b]}");
            }
        }
    }
}
