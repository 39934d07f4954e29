using System.Globalization;
using ThermalTrace.Sessions;

namespace ThermalTrace.Pages.Desk;

/// <summary>Logs that a page puts into the folder: names that stay in it, sizes within bounds, nothing replaced.</summary>
internal static class AddedLogs
{
    /// <summary>Largest log, bytes: a day at 100 rows a second has a tenth of it.</summary>
    public const long MostBytes = 1_000_000_000;

    private const int LongestName = 200;

    private static readonly string[] Endings = [".csv", ".igc", ".gpx"];

    // Names that one of the systems takes for a device, whatever their ending.
    private static readonly string[] Devices =
        ["CON", "PRN", "AUX", "NUL", .. Enumerable.Range(1, 9).SelectMany(i => new[] { $"COM{i}", $"LPT{i}" })];

    /// <summary>What is wrong with a file's name as that of a log in the folder; null where nothing is.</summary>
    public static string? Complaint(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        string shown = name.Length <= LongestName ? name : name[..LongestName] + "…";
        return name.IndexOfAny(['/', '\\', ':', '*', '?', '"', '<', '>', '|']) >= 0 || name is "." or ".." ? $"\"{shown}\" is no file's name in this folder"
            : name.Any(c => char.IsControl(c)) ? "a name has a control character in it"
            : name.Length > LongestName ? $"\"{shown}\" has a very long name; expected at most {LongestName} characters"
            : name.StartsWith('.') || name.EndsWith(' ') || Devices.Contains(name.Split('.')[0].Trim().ToUpperInvariant()) ? $"\"{shown}\" is a name that systems keep for themselves"
            : SessionFolder.IsNoteFile(name) ? $"{shown} belongs to a session and is no log; put it into the folder yourself"
            : !Endings.Contains(Path.GetExtension(name), StringComparer.OrdinalIgnoreCase) ? $"{shown} is no log; expected a file that ends in {string.Join(", ", Endings)}"
            : null;
    }

    /// <summary>Why a log of that size is not taken; null where it is.</summary>
    public static string? TooLarge(long bytes) => bytes <= MostBytes ? null
        : string.Create(CultureInfo.InvariantCulture, $"has {bytes / 1e6:N0} MB; a log of up to {MostBytes / 1e6:N0} MB is taken here, put a larger one into the folder yourself");

    /// <summary>Copies a log that comes in, never more than is allowed, whatever was said of its size.</summary>
    /// <returns>Null where all of it was copied; else why not.</returns>
    public static async Task<string?> CopyAsync(Stream content, string path, Action<long> report, CancellationToken cancel)
    {
        using FileStream file = new(path, FileMode.CreateNew, FileAccess.Write);
        byte[] part = new byte[128 * 1024];
        long bytes = 0;
        for (int read; (read = await content.ReadAsync(part, cancel)) > 0;)
        {
            bytes += read;
            if (TooLarge(bytes) is { } complaint)
            {
                return complaint;
            }
            await file.WriteAsync(part.AsMemory(0, read), cancel);
            report(bytes);
        }
        return null;
    }

    /// <summary>Gives a log its name; one that is there already is never replaced.</summary>
    /// <returns>Null where it was done, or the same bytes were there; else why not.</returns>
    public static string? MoveIntoPlace(string temporary, string folder, string name)
    {
        string target = Path.Combine(folder, name);
        if (Path.Exists(target))
        {
            return File.Exists(target) && Same(temporary, target) ? null : $"{name} is in the folder already and is another file; it stays as it is. Rename yours, or take the other one away";
        }
        File.Move(temporary, target, overwrite: false);
        return null;
    }

    private static bool Same(string a, string b)
    {
        using FileStream x = File.OpenRead(a), y = File.OpenRead(b);
        if (x.Length != y.Length)
        {
            return false;
        }
        byte[] left = new byte[64 * 1024], right = new byte[64 * 1024];
        while (true)
        {
            int count = x.ReadAtLeast(left, left.Length, false);
            if (count != y.ReadAtLeast(right, right.Length, false) || !left.AsSpan(0, count).SequenceEqual(right.AsSpan(0, count)))
            {
                return false;
            }
            if (count == 0)
            {
                return true;
            }
        }
    }
}
