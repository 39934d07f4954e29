using Microsoft.ML;
using Microsoft.ML.Trainers;
using Microsoft.ML.Trainers.FastTree;
using ThermalTrace.Decisions;

namespace ThermalTrace.Learning;

/// <summary>
/// Learns from a season's climbs what physics misses, with a linear, an additive and a tree learner, compares them with physics alone by
/// leaving whole sessions out, and keeps the simplest within one standard error of the best. docs/models/season.md eq. 8.
/// </summary>
internal static class ClimbLearner
{
    /// <summary>Fewer say nothing that would hold on another day.</summary>
    public const int LeastSessions = 5, LeastClimbs = 60;

    private const int MostClimbs = 1500; // the latest; a comparison takes a second or two
    private const int MostFolds = 5;
    private const int HabitsLookedAt = 100;

    private static readonly string[] Kinds = ["physics", "linear", "additive", "tree"]; // simplest first

    /// <summary>Compares and trains.</summary>
    /// <param name="all">The season's climbs, session by session.</param>
    /// <param name="seed">Of folds and learners.</param>
    /// <param name="cancel">Stops the work.</param>
    public static LearnedPart Compare(IReadOnlyList<ClimbRow> all, int seed, CancellationToken cancel)
    {
        ClimbRow[] rows = [.. all.Skip(Math.Max(0, all.Count - MostClimbs))];
        int[] sessions = [.. rows.Select(r => r.Session).Distinct()];
        if (sessions.Length < LeastSessions || rows.Length < LeastClimbs)
        {
            return LearnedPart.NotTried with
            {
                Why = FormattableString.Invariant($"The advice rests on physics: to learn anything beyond it takes {LeastClimbs} climbs of {LeastSessions} sessions, and there are {rows.Length} of {sessions.Length}."),
            };
        }
        int folds = Math.Min(MostFolds, sessions.Length);
        Dictionary<int, double[]> squares = sessions.ToDictionary(s => s, _ => new double[Kinds.Length]);
        double usualCg = UsualCg(rows);
        for (int fold = 0; fold < folds; fold++)
        {
            HashSet<int> left = [.. sessions.Where((_, k) => k % folds == fold)];
            ClimbRow[] training = [.. rows.Where(r => !left.Contains(r.Session))], test = [.. rows.Where(r => left.Contains(r.Session))];
            // What is known of the habits, too, comes from the other sessions alone.
            IReadOnlyList<ClimbHabit> habits = LearnedHabits.Learn(training, seed, cancel);
            ClimbFeatures[] taught = Features(training, habits, usualCg), asked = Features(test, habits, usualCg);
            for (int kind = 0; kind < Kinds.Length; kind++)
            {
                cancel.ThrowIfCancellationRequested();
                float[] missed = kind == 0 ? new float[test.Length] : Predict(Train(Kinds[kind], taught, seed), asked, seed);
                AddSquares(test, habits, missed, squares, kind);
            }
        }
        double[] errors = [.. Enumerable.Range(0, Kinds.Length).Select(k => Math.Sqrt(sessions.Sum(s => squares[s][k]) / rows.Length))];
        int best = Array.IndexOf(errors, errors.Min());
        double sure = StandardError(best, sessions, squares, rows.Length);
        LearnerScore[] scores = [.. errors.Select((e, k) => new LearnerScore(Kinds[k], e, e * e - errors[best] * errors[best], sure))];
        int chosen = Array.FindIndex(scores, s => s.WorseBy <= sure);
        string why = chosen == 0
            ? FormattableString.Invariant($"The advice rests on physics: over {sessions.Length} sessions nothing learned beyond it foretold climbs of other days better.")
            : FormattableString.Invariant($"Learned from {rows.Length} climbs of {sessions.Length} sessions: climbs of other days are foretold to {errors[chosen]:0.00} m/s instead of {errors[0]:0.00} by physics alone.");
        return new LearnedPart(Kinds[chosen], errors[chosen], errors[0], scores, why)
        {
            Model = chosen == 0 ? null : Trained(Kinds[chosen], rows, usualCg, seed, cancel),
        };
    }

    /// <summary>Standard error over sessions of a kind's mean square error.</summary>
    private static double StandardError(int kind, int[] sessions, Dictionary<int, double[]> squares, int rows)
    {
        double mean = sessions.Average(s => squares[s][kind]), variance = sessions.Sum(s => Math.Pow(squares[s][kind] - mean, 2)) / (sessions.Length - 1);
        return Math.Sqrt(variance * sessions.Length) / rows;
    }

    private static TrainedModel Trained(string kind, ClimbRow[] rows, double usualCg, int seed, CancellationToken cancel)
    {
        ClimbFeatures[] taught = Features(rows, LearnedHabits.Learn(rows, seed, cancel), usualCg);
        MLContext ml = new(seed);
        using MemoryStream stream = new();
        ml.Model.Save(Train(kind, taught, seed), ml.Data.LoadFromEnumerable(taught).Schema, stream);
        return new TrainedModel(stream.ToArray(), [.. Enumerable.Range(0, ClimbFeatures.Count).Select(f => taught.Min(t => t.Features[f]))],
            [.. Enumerable.Range(0, ClimbFeatures.Count).Select(f => taught.Max(t => t.Features[f]))], rows.Average(r => r.Inside / r.MassRatio), usualCg);
    }

    private static ITransformer Train(string kind, ClimbFeatures[] taught, int seed)
    {
        MLContext ml = new(seed);
        IEstimator<ITransformer> learner = kind switch
        {
            "linear" => ml.Transforms.NormalizeMeanVariance(nameof(ClimbFeatures.Features)).Append(ml.Regression.Trainers.Sdca(new SdcaRegressionTrainer.Options
            {
                L2Regularization = 0.01f,
                MaximumNumberOfIterations = 100,
                NumberOfThreads = 1,
            })),
            "additive" => ml.Regression.Trainers.Gam(new GamRegressionTrainer.Options
            {
                NumberOfIterations = 300,
                MaximumBinCountPerFeature = 32,
                NumberOfThreads = 1,
            }),
            _ => ml.Regression.Trainers.FastTree(new FastTreeRegressionTrainer.Options
            {
                NumberOfTrees = 40,
                NumberOfLeaves = 5,
                MinimumExampleCountPerLeaf = 15,
                LearningRate = 0.1,
                NumberOfThreads = 1,
            }),
        };
        return learner.Fit(ml.Data.LoadFromEnumerable(taught));
    }

    private static float[] Predict(ITransformer model, ClimbFeatures[] asked, int seed)
    {
        MLContext ml = new(seed);
        return [.. ml.Data.CreateEnumerable<ClimbMissed>(model.Transform(ml.Data.LoadFromEnumerable(asked)), false).Select(m => m.Log)];
    }

    /// <summary>Features, and by what physics missed each climb against its session's mean.</summary>
    private static ClimbFeatures[] Features(ClimbRow[] rows, IReadOnlyList<ClimbHabit> habits, double usualCg)
    {
        double[] missed = [.. rows.Select(r => Math.Log(r.AirMps) - Kept(r, habits))];
        double[] air = [.. rows.Select(r => r.AirMps)];
        double[] mean = SessionMeans(rows, missed), lift = SessionMeans(rows, air);
        return [.. rows.Select((r, i) => new ClimbFeatures
        {
            Features = ClimbFeatures.Of(r.Edr, r.WindMps, r.WingLoadingKgM2, r.MassRatio, r.Inside, lift[i], double.IsNaN(r.CgMm) ? usualCg : r.CgMm),
            Label = (float)(missed[i] - mean[i]),
        })];
    }

    /// <summary>Adds each session's squared errors of climb, its own lift taken as known.</summary>
    private static void AddSquares(ClimbRow[] test, IReadOnlyList<ClimbHabit> habits, float[] missed, Dictionary<int, double[]> squares, int kind)
    {
        double[] expected = [.. test.Select((r, i) => Kept(r, habits) + missed[i])];
        double[] level = SessionMeans(test, [.. test.Select((r, i) => Math.Log(r.AirMps) - expected[i])]);
        for (int i = 0; i < test.Length; i++)
        {
            double error = test[i].AirMps - Math.Exp(level[i] + expected[i]);
            squares[test[i].Session][kind] += error * error;
        }
    }

    private static double Kept(ClimbRow row, IReadOnlyList<ClimbHabit> habits)
    {
        double sum = 0;
        for (int h = 0; h < HabitsLookedAt; h++)
        {
            sum += row.LogKept(habits[h * habits.Count / HabitsLookedAt]);
        }
        return sum / HabitsLookedAt;
    }

    private static double[] SessionMeans(ClimbRow[] rows, double[] values)
    {
        Dictionary<int, double> means = rows.Select((r, i) => (r.Session, Value: values[i])).GroupBy(p => p.Session).ToDictionary(g => g.Key, g => g.Average(p => p.Value));
        return [.. rows.Select(r => means[r.Session])];
    }

    private static double UsualCg(ClimbRow[] rows) => rows.Where(r => !double.IsNaN(r.CgMm)).Select(r => r.CgMm).DefaultIfEmpty(0).Average();
}
