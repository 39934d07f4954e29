using System.Globalization;
using System.Security.Cryptography;
using System.Text;

namespace ThermalTrace.Tests.Cli;

/// <summary>A folder for one test, gone afterwards.</summary>
internal sealed class TempFolder : IDisposable
{
    public TempFolder() => Root = Directory.CreateTempSubdirectory("thermaltrace-test-").FullName;

    /// <summary>The test's own corner of the disk.</summary>
    public string Root { get; }

    /// <summary>The session's folder within it.</summary>
    public string Session => Path.Combine(Root, "session");

    /// <summary>A valid airframe.</summary>
    public const string Airframe = """
        {
          "name": "Tansy",
          "wing_span_mm": 1500,
          "wing_area_dm2": 22.4,
          "unballasted_mass_g": 262,
        }
        """;

    /// <summary>A log that the importer reads: a minute of standing about, no clock.</summary>
    public static string QuietLog { get; } = "time_s,altitude_m\n"
        + string.Concat(Enumerable.Range(0, 300).Select(i => string.Create(CultureInfo.InvariantCulture, $"{i * 0.2:0.0},{120 + i % 3 * 0.1:0.0}\n")));

    /// <summary>A session of <see cref="Airframe"/> and <see cref="QuietLog"/> as one.csv.</summary>
    public static TempFolder WithQuietSession()
    {
        TempFolder folder = new();
        folder.Write("airframe.json", Airframe);
        folder.Write("one.csv", QuietLog);
        return folder;
    }

    /// <summary>Writes a file of the session.</summary>
    public string Write(string name, string text, Encoding? encoding = null) => Write(name, (encoding ?? new UTF8Encoding(false)).GetBytes(text));

    /// <summary>Writes a file of the session.</summary>
    public string Write(string name, byte[] bytes)
    {
        Directory.CreateDirectory(Session);
        string path = Path.Combine(Session, name);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>Every file and folder with its content's hash, so that two looks can be compared.</summary>
    public IReadOnlyList<string> Everything() =>
    [
        .. Directory.EnumerateFileSystemEntries(Root, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal)
            .Select(p => Path.GetRelativePath(Root, p) + (File.Exists(p) ? " " + Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(p))) : "/")),
    ];

    public void Dispose() => Directory.Delete(Root, recursive: true);
}
