using ThermalTrace.Tests.Cli;


namespace ThermalTrace.Tests.Jobs;

public sealed class OutputFilesTests
{
    [Fact]
    public void Files_AppearTogetherAtTheEnd()
    {
        using TempFolder folder = new();
        string target = Path.Combine(folder.Root, "a", "b");
        using (OutputFiles files = new(target, "--out"))
        {
            files.AddText("one.txt", w => w.WriteLine("1"));
            files.AddText("two.txt", w => w.WriteLine("2"));
            Assert.False(File.Exists(Path.Combine(target, "one.txt")));
            files.MoveIntoPlace(overwrite: true, CancellationToken.None);
        }
        Assert.Equal(["one.txt", "two.txt"], Directory.GetFiles(target).Select(Path.GetFileName).Order());
        Assert.Equal("1\n", File.ReadAllText(Path.Combine(target, "one.txt")));
    }

    [Fact]
    public void AFailureHalfWay_LeavesWhatWasThereAndNothingElse()
    {
        using TempFolder folder = new();
        folder.Write("one.txt", "before");
        IReadOnlyList<string> before = folder.Everything();
        foreach (string target in new[] { folder.Session, Path.Combine(folder.Root, "new", "deeper") })
        {
            Assert.Throws<IOException>(() =>
            {
                using OutputFiles files = new(target, "--out");
                files.AddText("one.txt", w => w.WriteLine("after"));
                files.AddText("two.txt", _ => throw new IOException("the disk is full"));
            });
            Assert.Equal(before, folder.Everything());
        }
    }

    [Fact]
    public void CancelledBeforeTheMove_NothingIsMoved()
    {
        using TempFolder folder = new();
        folder.Write("one.txt", "before");
        IReadOnlyList<string> before = folder.Everything();
        Assert.Throws<OperationCanceledException>(() =>
        {
            using OutputFiles files = new(folder.Session, "--out");
            files.AddText("one.txt", w => w.WriteLine("after"));
            files.MoveIntoPlace(overwrite: true, new CancellationToken(canceled: true));
        });
        Assert.Equal(before, folder.Everything());
    }

    [Fact]
    public void WhereNothingMayBeOverwritten_WhatIsThereStays()
    {
        using TempFolder folder = new();
        folder.Write("one.txt", "before");
        IReadOnlyList<string> before = folder.Everything();
        Assert.Throws<IOException>(() =>
        {
            using OutputFiles files = new(folder.Session, "FOLDER");
            files.AddText("one.txt", w => w.WriteLine("after"));
            files.MoveIntoPlace(overwrite: false, CancellationToken.None);
        });
        Assert.Equal(before, folder.Everything());
    }
}
