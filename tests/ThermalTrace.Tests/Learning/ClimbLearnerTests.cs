using ThermalTrace.Learning;

namespace ThermalTrace.Tests.Learning;

public sealed class ClimbLearnerTests
{
    // A quarter less of the lift kept by the heavy model where it blows: what no habit of the physics knows.
    private static readonly MadeUpClimbs Planted = new() { Kept = (mass, wind) => mass > 1.1 && wind > 5 ? 0.75 : 1, Scatter = 0.08 };

    private static readonly Lazy<LearnedPart> LazyLearned = new(() => Compare(Planted.Rows()));

    /// <summary>Of climbs with a loss that physics does not know: a model is chosen.</summary>
    internal static LearnedPart Learned => LazyLearned.Value;

    [Fact]
    public void TooFewSessions_RestOnPhysicsAndSaySo()
    {
        LearnedPart part = Compare(new MadeUpClimbs { Sessions = ClimbLearner.LeastSessions - 1, Climbs = 20 }.Rows());
        Assert.Equal("physics", part.Kind);
        Assert.Equal("The advice rests on physics: to learn anything beyond it takes 60 climbs of 5 sessions, and there are 160 of 4.", part.Why);
        Assert.Null(part.Model);
        Assert.Null(part.CrossValidatedErrorMps);
        Assert.Empty(part.Compared);
    }

    [Fact]
    public void TooFewClimbs_RestOnPhysics()
    {
        LearnedPart part = Compare(new MadeUpClimbs { Sessions = 7, Climbs = 4 }.Rows());
        Assert.Equal("physics", part.Kind);
        Assert.EndsWith("there are 56 of 7.", part.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void PlantedLoss_IsLearnedAndForetellsOtherDaysBetter()
    {
        Assert.NotEqual("physics", Learned.Kind);
        Assert.True(Learned.CrossValidatedErrorMps < 0.9 * Learned.PhysicsOnlyErrorMps, $"{Learned.CrossValidatedErrorMps} m/s, by physics {Learned.PhysicsOnlyErrorMps}");
        Assert.StartsWith("Learned from 240 climbs of 20 sessions: ", Learned.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Scores_ListEveryKindSimplestFirst()
    {
        Assert.Equal(["physics", "linear", "additive", "tree"], Learned.Compared.Select(s => s.Kind));
        Assert.All(Learned.Compared, s => Assert.True(s.ErrorMps > 0 && s.WorseBy >= 0 && s.StandardError > 0));
        Assert.Contains(Learned.Compared, s => s.WorseBy == 0);
        Assert.Equal(Learned.PhysicsOnlyErrorMps, Learned.Compared[0].ErrorMps);
        // The simplest within one standard error of the best.
        Assert.Equal(Learned.Kind, Learned.Compared.First(s => s.WorseBy <= s.StandardError).Kind);
    }

    [Fact]
    public void Gain_InsideTheData_IsTheLossPlanted()
    {
        LearnedGain gain = LearnedGain.Of(Learned)!;
        double ratio = Gain(gain, 1.3, 7.5) / Gain(gain, 1, 7.5), calm = Gain(gain, 1.3, 2) / Gain(gain, 1, 2);
        Assert.True(ratio < 0.93, FormattableString.Invariant($"in 7.5 m/s the heavy model keeps {ratio:0.00} of what the light one does"));
        Assert.True(calm > ratio, FormattableString.Invariant($"in 2 m/s the heavy model keeps {calm:0.00}, in 7.5 m/s {ratio:0.00}"));
    }

    [Theory]
    [InlineData(2.5, 5, 0.15, 2)]
    [InlineData(1.3, 20, 0.15, 2)]
    [InlineData(1.3, 5, 1.5, 2)]
    [InlineData(1.3, 5, 0.15, 9)]
    [InlineData(1.3, 5, double.NaN, 2)]
    [InlineData(1.3, 5, 0.15, double.NaN)]
    public void Gain_FarFromTheDataOrNotKnown_IsOne(double massRatio, double windMps, double edr, double liftMps) =>
        Assert.Equal(1, LearnedGain.Of(Learned)!.For(massRatio, massRatio * 0.248 / 0.213, edr, windMps, liftMps));

    [Fact]
    public void PureScatter_LeavesPhysics()
    {
        LearnedPart part = Compare(new MadeUpClimbs { Scatter = 0.3, Climbs = 4 }.Rows());
        Assert.Equal("physics", part.Kind);
        Assert.Null(part.Model);
        Assert.Null(LearnedGain.Of(part));
        Assert.Equal(4, part.Compared.Count);
        Assert.Equal("The advice rests on physics: over 20 sessions nothing learned beyond it foretold climbs of other days better.", part.Why);
    }

    [Fact]
    public void SameClimbs_GiveTheSameAnswers()
    {
        LearnedPart again = Compare(Planted.Rows());
        Assert.Equal((Learned.Kind, Learned.CrossValidatedErrorMps, Learned.Why), (again.Kind, again.CrossValidatedErrorMps, again.Why));
        Assert.Equal(Learned.Compared, again.Compared);
        LearnedGain one = LearnedGain.Of(Learned)!, other = LearnedGain.Of(again)!;
        for (double wind = 1; wind < 9; wind += 0.5)
        {
            Assert.Equal(Gain(one, 1.3, wind), Gain(other, 1.3, wind));
        }
    }

    private static double Gain(LearnedGain gain, double massRatio, double windMps) => gain.For(massRatio, massRatio * 0.248 / 0.213, 0.15, windMps, 1.4);

    private static LearnedPart Compare(IReadOnlyList<ClimbRow> rows) => ClimbLearner.Compare(rows, 1, CancellationToken.None);
}
