using System.Security;
using System.Security.Cryptography;
using System.Text;
using ThermalTrace.Units;

namespace ThermalTrace.Sessions;

/// <summary>What a folder holds, by name. Names are looked up here and never joined to a path unseen.</summary>
internal sealed class FolderFiles
{
    /// <summary>How the names of logs end, whatever the case of their letters.</summary>
    public static readonly IReadOnlyList<string> LogEndings = [".csv", ".igc", ".gpx"];

    private static readonly string[] NoteFiles = [AirframeFile.Name, FlightsFile.Name, ColumnsFile.Name, PhasesFile.Name];
    private readonly Dictionary<string, FileInfo> _files;
    private readonly SortedDictionary<string, InputFile> _texts = new(StringComparer.Ordinal);

    private FolderFiles(string folder, Dictionary<string, FileInfo> files) => (Folder, _files) = (folder, files);

    public string Folder { get; }

    public static FolderFiles List(string folder)
    {
        if (File.Exists(folder))
        {
            throw new UnusableInputException($"{folder}: is a file; expected a session folder");
        }
        if (!Directory.Exists(folder))
        {
            throw new UnusableInputException($"{folder}: there is no such folder");
        }
        return Guarded(folder, () => new FolderFiles(folder,
            new DirectoryInfo(folder).EnumerateFiles().ToDictionary(f => f.Name, f => f, StringComparer.Ordinal)));
    }

    /// <summary>True for what a session folder has beside its logs.</summary>
    public static bool IsNoteFile(string name) => NoteFiles.Contains(name, StringComparer.OrdinalIgnoreCase);

    /// <summary>Names of the logs, in ordinal order. Files whose name begins with a point belong to the system.</summary>
    public IReadOnlyList<string> Logs(string? airfoilPolar) =>
    [
        .. _files.Keys
            .Where(n => LogEndings.Contains(Path.GetExtension(n), StringComparer.OrdinalIgnoreCase))
            .Where(n => !n.StartsWith('.') && !IsNoteFile(n) && n != airfoilPolar)
            .Order(StringComparer.Ordinal),
    ];

    public double Length(string name) => Guarded(name, () => (double)_files[name].Length);

    /// <summary>Reads a file of the folder; one that is taken away meanwhile, or that the disk gives up on, is named.</summary>
    public T Read<T>(string name, Func<Stream, T> read) => Guarded(name, () =>
    {
        using FileStream stream = _files[name].OpenRead();
        return read(stream);
    });

    /// <summary>The file of that name, or of one that differs in case alone; null where there is none.</summary>
    public FileInfo? Find(string name) => _files.GetValueOrDefault(name)
        ?? _files.Values.Where(f => f.Name.Equals(name, StringComparison.OrdinalIgnoreCase)).MinBy(f => f.Name, StringComparer.Ordinal);

    /// <summary>The texts opened so far, in ordinal order of their names.</summary>
    public IReadOnlyList<InputFile> TextsRead => [.. _texts.Values];

    /// <summary>The text of <see cref="Find"/>; null where there is none.</summary>
    public TextReader? OpenText(string name)
    {
        FileInfo? file = Find(name);
        if (file is null)
        {
            return null;
        }
        byte[] bytes = Bytes(file.FullName, file.Name);
        _texts[file.Name] = new InputFile(file.Name, Convert.ToHexStringLower(SHA256.HashData(bytes)));
        return Decoded(bytes);
    }

    /// <summary>The text of a file by its path.</summary>
    public static TextReader OpenText(string path, string name) => Decoded(Bytes(path, name));

    private static byte[] Bytes(string path, string name) => Guarded(name, () =>
    {
        using FileStream stream = File.OpenRead(path);
        // Enough for the readers, who refuse what is longer, to see that it is.
        byte[] bytes = new byte[(int)Math.Min(stream.Length, 20_000_000)];
        stream.ReadExactly(bytes);
        return bytes;
    });

    /// <summary>Text in UTF-8 or UTF-16, and in Latin-1 where it is no UTF-8, as an old spreadsheet writes it.</summary>
    private static StringReader Decoded(byte[] bytes)
    {
        try
        {
            using StreamReader strict = new(new MemoryStream(bytes), new UTF8Encoding(false, throwOnInvalidBytes: true));
            return new StringReader(strict.ReadToEnd());
        }
        catch (DecoderFallbackException)
        {
            return new StringReader(Encoding.Latin1.GetString(bytes));
        }
    }

    private static T Guarded<T>(string name, Func<T> action)
    {
        try
        {
            return action();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or SecurityException)
        {
            throw new UnusableInputException($"{name}: cannot be read: {failure.Message}");
        }
    }
}
