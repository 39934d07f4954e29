using System.Text;
using ThermalTrace.Units;

namespace ThermalTrace.Cli;

/// <summary>Where a page may be written: in place of one of its own kind, and of nothing else.</summary>
internal static class PageFile
{
    private const int LooksIntoBytes = 4096; // a page says what it is in its first lines

    /// <summary>Makes sure that nothing is lost.</summary>
    /// <param name="outFile">The file as it was typed.</param>
    /// <param name="usualName">A name to propose.</param>
    /// <param name="kind">What the page is called.</param>
    /// <param name="isOne">Whether a file that begins so is such a page.</param>
    /// <param name="option">What messages call it.</param>
    /// <exception cref="WrongUsageException">A folder, or a file that is something else.</exception>
    public static void Require(string outFile, string usualName, string kind, Func<string, bool> isOne, string option = "--out")
    {
        string target = Path.GetFullPath(outFile);
        if (Directory.Exists(target) || Path.EndsInDirectorySeparator(outFile))
        {
            throw new WrongUsageException($"{option} {outFile}: is a folder; expected a file such as {Path.Combine(outFile, usualName)}");
        }
        if (!File.Exists(target))
        {
            return;
        }
        byte[] head = new byte[LooksIntoBytes];
        using FileStream stream = File.OpenRead(target);
        int read = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (!isOne(Encoding.UTF8.GetString(head, 0, read)))
        {
            throw new WrongUsageException($"{option} {outFile}: is there already and is no {kind}, so it stays as it is; expected another name");
        }
    }

    /// <summary>The same, and makes the place ready to be written to.</summary>
    /// <exception cref="WrongUsageException">As <see cref="Require"/>; or the place cannot be written to.</exception>
    public static OutputFiles Prepare(string outFile, string usualName, string kind, Func<string, bool> isOne, string option = "--out")
    {
        Require(outFile, usualName, kind, isOne, option);
        return new OutputFiles(Path.GetDirectoryName(Path.GetFullPath(outFile))!, option);
    }
}
