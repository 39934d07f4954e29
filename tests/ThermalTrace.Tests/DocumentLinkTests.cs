using System.Text.RegularExpressions;
using ThermalTrace.Tests.Support;

namespace ThermalTrace.Tests;

public partial class DocumentLinkTests
{
    [Fact]
    public void Documents_LinkOnlyToWhatIsThere()
    {
        string root = SharedFolder.Repository;
        string[] documents = [.. Directory.GetFiles(root, "*.md"), .. Directory.GetFiles(Path.Combine(root, "docs"), "*.md", SearchOption.AllDirectories),
            .. Directory.GetFiles(Path.Combine(root, "sample-logs"), "*.md"), .. Directory.GetFiles(Path.Combine(root, "tests", "ThermalTrace.Benchmarks", "results"), "*.md")];
        string[] dead = [.. documents.SelectMany(document => Link().Matches(File.ReadAllText(document)).Select(match => match.Groups[1].Value.Split('#')[0])
            .Where(target => target.Length > 0 && !target.Contains("://", StringComparison.Ordinal)
                && !Path.Exists(Path.Combine(Path.GetDirectoryName(document)!, target)))
            .Select(target => $"{Path.GetRelativePath(root, document)} -> {target}"))];
        Assert.Empty(dead);
    }

    // The first command of the README, and the sample it names.
    [Fact]
    public void Readme_NamesSamplesThatAreThere()
    {
        string[] samples = [.. Sample().Matches(File.ReadAllText(Path.Combine(SharedFolder.Repository, "README.md"))).Select(match => match.Value).Distinct()];
        Assert.NotEmpty(samples);
        Assert.All(samples, sample => Assert.True(Path.Exists(Path.Combine(SharedFolder.Repository, sample)), sample));
    }

    [GeneratedRegex(@"\]\(([^)\s]+)\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"sample-logs/[\w.-]+")]
    private static partial Regex Sample();
}
