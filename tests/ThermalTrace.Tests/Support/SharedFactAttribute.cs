namespace ThermalTrace.Tests.Support;

/// <summary>
/// A test that reads the shared folder beside the repository (reference data and practice sessions, never copied in
/// here). Where the folder is not there the test is skipped, visibly.
/// </summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class SharedFactAttribute : FactAttribute
{
    /// <summary>Skips where <see cref="SharedFolder"/> found nothing.</summary>
    public SharedFactAttribute()
    {
        if (SharedFolder.Path is null)
        {
            Skip = "the shared folder with reference data is not beside the repository";
        }
    }
}

/// <summary>The same for a theory.</summary>
[AttributeUsage(AttributeTargets.Method)]
public sealed class SharedTheoryAttribute : TheoryAttribute
{
    /// <summary>Skips where <see cref="SharedFolder"/> found nothing.</summary>
    public SharedTheoryAttribute()
    {
        if (SharedFolder.Path is null)
        {
            Skip = "the shared folder with reference data is not beside the repository";
        }
    }
}

/// <summary>Finds the repository and the shared folder beside it.</summary>
internal static class SharedFolder
{
    /// <summary>Folder that holds ThermalTrace.sln.</summary>
    public static string Repository { get; } = FindRepository();

    /// <summary>The shared folder, or null.</summary>
    public static string? Path { get; } = FindShared();

    private static string FindRepository()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "ThermalTrace.sln")))
            {
                return folder.FullName;
            }
        }
        throw new InvalidOperationException("ThermalTrace.sln was not found above " + AppContext.BaseDirectory);
    }

    private static string? FindShared()
    {
        string candidate = System.IO.Path.Combine(Directory.GetParent(Repository)!.FullName, "shared");
        return File.Exists(System.IO.Path.Combine(candidate, "contract.md")) ? candidate : null;
    }
}
