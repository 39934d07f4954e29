using System.Text.Json;
using ThermalTrace.Learning;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Tests.Advice;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Learning;

public sealed class SeasonMemoryTests(ITestOutputHelper output)
{
    private static readonly Airframe Airframe = AdviceModels.Tansy;
    private static readonly Lazy<Season> LazyTuned = new(() => Season.Tune(Airframe, Sessions()));
    private static readonly Lazy<byte[]> LazyMemory = new(() => LazyTuned.Value.ToMemory());

    private static byte[] Memory => LazyMemory.Value;

    [Theory]
    [InlineData(2, 0.8, 0.1)]
    [InlineData(6, 2.5, 0.2)]
    public void Suggestion_FromMemory_IsThatOfTuningAnewByteForByte(double wind, double lift, double edr)
    {
        Season kept = Season.FromMemory(Airframe, Memory)!;
        Assert.Equal(Suggested(LazyTuned.Value, wind, lift, edr), Suggested(kept, wind, lift, edr));
        Assert.Equal(Memory, kept.ToMemory());
    }

    [Fact]
    public void Memory_OfALearnedModel_GivesTheSameGain()
    {
        LearnedPart learned = ClimbLearnerTests.Learned;
        Assert.NotNull(learned.Model);
        SeasonModel model = SeasonModel.Tune(Airframe, Sessions(), 1, learned);
        SeasonModel kept = SeasonMemory.Read(Airframe, SeasonMemory.Write(model))!;
        Assert.Equal(learned.Compared, kept.Learned.Compared);
        Assert.Contains(Enumerable.Range(1, 8), wind => model.Gain(0.32, 0.15, wind, 1.4) != 1);
        foreach (double wind in Enumerable.Range(1, 8))
        {
            Assert.Equal(model.Gain(0.32, 0.15, wind, 1.4), kept.Gain(0.32, 0.15, wind, 1.4));
        }
    }

    [Fact]
    public void Memory_OfTheFlights_IsWhatTheyWere()
    {
        SeasonModel kept = SeasonMemory.Read(Airframe, Memory)!;
        Assert.Equal(LazyTuned.Value.Model.Sessions.Select(s => (s.Id, s.Evidence.Date)), kept.Sessions.Select(s => (s.Id, s.Evidence.Date)));
        Assert.Equal(LazyTuned.Value.Model.Sessions.SelectMany(s => s.Evidence.Flights), kept.Sessions.SelectMany(s => s.Evidence.Flights));
        Assert.Equal(LazyTuned.Value.Model.Sessions.SelectMany(s => s.Evidence.Climbs), kept.Sessions.SelectMany(s => s.Evidence.Climbs));
    }

    [Fact]
    public void Memory_OfAChange_KeepsIt()
    {
        SeasonModel model = SeasonModel.Tune(Airframe, Sessions(0.1), 1);
        Assert.Equal(Assert.Single(model.Changes), Assert.Single(SeasonMemory.Read(Airframe, SeasonMemory.Write(model))!.Changes));
    }

    [Fact]
    public void Memory_OfAnotherAirframe_IsNone()
    {
        Assert.Null(Season.FromMemory(Airframe with { UnballastedMassG = 249 }, Memory));
        Assert.Null(Season.FromMemory(Airframe with { WingAreaDm2 = 21.4 }, Memory));
        Assert.Null(Season.FromMemory(Airframe with { Launch = LaunchKind.Winch }, Memory));
        // Which ballasts there are is the question's, not the season's.
        Assert.NotNull(Season.FromMemory(Airframe with { BallastOptionsG = [0, 50] }, Memory));
    }

    [Fact]
    public void Memory_CutAnywhere_IsNone()
    {
        System.Random random = new(7);
        for (int k = 0; k < 100; k++)
        {
            int length = k < 20 ? k : random.Next(Memory.Length);
            Assert.True(Season.FromMemory(Airframe, Memory[..length]) is null, $"the first {length} of {Memory.Length} bytes gave a season");
        }
        Assert.Null(Season.FromMemory(Airframe, [.. Memory, 0]));
    }

    [Fact]
    public void Memory_WithAByteFlipped_IsNoneOrTheSame()
    {
        const int seed = 20260614;
        output.WriteLine($"seed {seed}");
        System.Random random = new(seed);
        for (int k = 0; k < 400; k++)
        {
            int at = random.Next(Memory.Length), flip = random.Next(1, 256);
            byte[] broken = [.. Memory];
            broken[at] ^= (byte)flip;
            if (Season.FromMemory(Airframe, broken) is { } read)
            {
                Assert.True(Memory.AsSpan().SequenceEqual(read.ToMemory()), $"byte {at} of {Memory.Length} flipped by {flip} gave another season");
            }
        }
    }

    private static SeasonSession[] Sessions(double change = 0) => [.. Enumerable.Range(0, 14).Select(s =>
    {
        MadeUpDay day = new() { Airframe = Airframe, DragAreaM2 = MadeUpDay.Drag(Airframe, 0.04 + (s >= 7 ? change : 0)), Date = MadeUpDay.Day(s), Seed = s };
        SessionEvidence evidence = day.Evidence();
        return new SeasonSession("s" + s, evidence with
        {
            Climbs = [.. evidence.Flights.SelectMany((f, i) => Enumerable.Range(0, 2).Select(c => new ClimbFact(i, 50 + c, 0.9 + 0.1 * i, 40, 1 + 0.02 * s + 0.1 * c, 6.2 + 0.4 * i, 1.08, 55, 1.2)))],
        });
    })];

    private static string Suggested(Season season, double wind, double lift, double edr) =>
        JsonSerializer.Serialize(Suggestion.Run(season, AdviceModels.Ask(wind, lift, edr), new SuggestionOptions()), ResultsJson.Style);
}
