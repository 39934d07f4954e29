namespace ThermalTrace.Sessions;

/// <summary>Names that notes give to files of their own folder: never a path, whatever system it was written on.</summary>
internal static class FileNames
{
    /// <summary>What is wrong with a name as that of a file in the same folder, or null.</summary>
    public static string? Complaint(string name)
    {
        if (name.IndexOfAny(['/', '\\']) >= 0 || name is "." or "..")
        {
            return "leads out of this folder";
        }
        return name.Any(char.IsControl) ? "has a control character in it" : null;
    }
}
