using ThermalTrace.Fuzz;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Tests.Support;
using Xunit.Abstractions;

namespace ThermalTrace.Tests.Fuzz;

/// <summary>Broken files are read or refused in words: what the long runs found once, and a slice of one with a fixed seed.</summary>
public sealed class FuzzTests(ITestOutputHelper output)
{
    private const int Seed = 20311114;
    private const int SliceInputs = 6_000;
    private static readonly IReadOnlyList<Target> All = Targets.All();
    private static readonly string Corpus = Path.Combine(SharedFolder.Repository, "tests", "ThermalTrace.Tests", "Fuzz", "corpus");

    public static TheoryData<string> TargetNames => new(All.Select(t => t.Name));

    public static TheoryData<string> Findings => new(Directory.GetFiles(Corpus, "*.bin", SearchOption.AllDirectories)
        .Select(f => Path.GetRelativePath(Corpus, f).Replace('\\', '/')).Order(StringComparer.Ordinal));

    [Theory]
    [MemberData(nameof(TargetNames))]
    public void ASlice_IsReadOrRefusedInWords(string name)
    {
        output.WriteLine($"seed {Seed}");
        Target target = All.Single(t => t.Name == name);
        using TempFolder folder = new();
        Directory.CreateDirectory(folder.Session);
        for (int number = 0; number < Math.Ceiling(SliceInputs * target.Share); number++)
        {
            byte[] input = Mutation.Of(target.Seeds, FuzzRun.RandomOf(Seed, target, number));
            string? wrong = FuzzRun.Try(target, input, folder.Session);
            Assert.True(wrong is null, $"{name} {number}: {wrong}");
        }
        Assert.DoesNotContain(folder.Everything(), e => !e.StartsWith("session", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Findings))]
    public void WhatWasFoundOnce_IsReadOrRefusedInWords(string file)
    {
        Target target = All.Single(t => t.Name == file.Split('/')[0]);
        using TempFolder folder = new();
        Directory.CreateDirectory(folder.Session);
        Assert.Null(FuzzRun.Try(target, File.ReadAllBytes(Path.Combine(Corpus, file)), folder.Session));
    }

    [Fact]
    public void TheSameSeed_GivesTheSameInput()
    {
        Target target = All[0];
        byte[] first = Mutation.Of(target.Seeds, FuzzRun.RandomOf(Seed, target, 7)), again = Mutation.Of(target.Seeds, FuzzRun.RandomOf(Seed, target, 7));
        Assert.Equal(first, again);
        Assert.NotEqual(first, Mutation.Of(target.Seeds, FuzzRun.RandomOf(Seed, target, 8)));
    }

    [Fact]
    public void AReaderThatThrows_IsAFinding()
    {
        Target broken = new("broken", 1, [[1, 2, 3]], (bytes, _) => throw new InvalidOperationException("not words"));
        Assert.Contains("not words", FuzzRun.Try(broken, [1], ""), StringComparison.Ordinal);
    }
}
