using System.Diagnostics;

namespace ThermalTrace.Tests.Support;

/// <summary>A test that needs a disk of its own: small, or not to be written to. Where none can be made (no Linux, no right to) it is skipped, visibly.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class SmallDiskFactAttribute : FactAttribute
{
    private static readonly Lazy<bool> Possible = new(() =>
    {
        try
        {
            using SmallDisk disk = new("size=64k");
            return true;
        }
        catch (Exception failure) when (failure is IOException or System.ComponentModel.Win32Exception)
        {
            return false;
        }
    });

    /// <summary>Tries once whether a disk can be made.</summary>
    public SmallDiskFactAttribute()
    {
        if (!Possible.Value)
        {
            Skip = "a disk in memory cannot be made here";
        }
    }
}

/// <summary>A disk in memory, gone afterwards.</summary>
internal sealed class SmallDisk : IDisposable
{
    public SmallDisk(string options)
    {
        Root = Directory.CreateTempSubdirectory("thermaltrace-disk-").FullName;
        if (!OperatingSystem.IsLinux() || Run("mount", "-t", "tmpfs", "-o", options, "tmpfs", Root) != 0)
        {
            Directory.Delete(Root);
            throw new IOException("no disk");
        }
    }

    public string Root { get; }

    /// <summary>Nothing can be written to it from now on.</summary>
    public void Lock() => Assert.Equal(0, Run("mount", "-o", "remount,ro", Root));

    public void Dispose()
    {
        Run("umount", Root);
        Directory.Delete(Root);
    }

    private static int Run(string program, params string[] args)
    {
        using Process process = Process.Start(new ProcessStartInfo(program, args) { RedirectStandardError = true, RedirectStandardOutput = true })!;
        process.WaitForExit();
        return process.ExitCode;
    }
}
