namespace ThermalTrace.Jobs;

/// <summary>
/// A command's files. Each is written beside its place under another name, and all are moved into place together at the
/// end, so that a run that is cancelled or fails leaves what was there before and nothing half-written.
/// </summary>
internal sealed class OutputFiles : IDisposable
{
    private readonly List<(string Temporary, string Final)> _files = [];
    private readonly List<string> _createdFolders = [];
    private readonly string _folder;

    /// <summary>Makes the folder where it is not there, and tries whether it can be written to.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="option">What messages call it, such as "--out".</param>
    /// <exception cref="WrongUsageException">It cannot be a folder that is written to.</exception>
    public OutputFiles(string folder, string option)
    {
        _folder = Path.GetFullPath(folder);
        RequireNoFile(folder, option);
        try
        {
            for (string? missing = _folder; missing is not null && !Directory.Exists(missing); missing = Path.GetDirectoryName(missing))
            {
                _createdFolders.Add(missing);
            }
            Directory.CreateDirectory(_folder);
            string trial = Path.Combine(_folder, $".{Guid.NewGuid():N}.tmp");
            using FileStream stream = new(trial, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1, FileOptions.DeleteOnClose);
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            RemoveCreated();
            throw new WrongUsageException($"{option} {folder}: cannot be written to: {failure.Message}");
        }
    }

    /// <summary>Refuses a place where a folder cannot be, before any work is done.</summary>
    /// <exception cref="WrongUsageException">The path or a part of it is a file.</exception>
    public static void RequireNoFile(string folder, string option)
    {
        for (string? part = Path.GetFullPath(folder); part is not null; part = Path.GetDirectoryName(part))
        {
            if (File.Exists(part))
            {
                throw new WrongUsageException($"{option} {folder}: {(part == Path.GetFullPath(folder) ? "it" : part)} is a file; expected a folder to write to");
            }
        }
    }

    /// <summary>Writes one file under a name of its own for now.</summary>
    public void Add(string name, Action<Stream> write)
    {
        using Stream stream = Open(name);
        write(stream);
    }

    /// <summary>Opens one file under a name of its own for now; the caller closes it.</summary>
    public Stream Open(string name)
    {
        // Without the file's own name, which may be as long as a name can be.
        string temporary = Path.Combine(_folder, $".{Guid.NewGuid():N}.tmp");
        _files.Add((temporary, Path.Combine(_folder, name)));
        return new FileStream(temporary, FileMode.CreateNew, FileAccess.Write);
    }

    /// <summary>Writes one text file, UTF-8 without a byte order mark.</summary>
    public void AddText(string name, Action<TextWriter> write) => Add(name, stream =>
    {
        using StreamWriter writer = new(stream) { NewLine = "\n" };
        write(writer);
    });

    /// <summary>Moves all files into place.</summary>
    /// <param name="overwrite">False to fail where one is there already.</param>
    /// <param name="cancel">Looked at once more before the first is moved.</param>
    public void MoveIntoPlace(bool overwrite, CancellationToken cancel)
    {
        cancel.ThrowIfCancellationRequested();
        foreach ((string temporary, string final) in _files)
        {
            File.Move(temporary, final, overwrite);
        }
        _createdFolders.Clear();
        _files.Clear();
    }

    /// <summary>Takes away what was not moved into place.</summary>
    public void Dispose()
    {
        foreach ((string temporary, _) in _files)
        {
            File.Delete(temporary);
        }
        _files.Clear();
        RemoveCreated();
    }

    private void RemoveCreated()
    {
        foreach (string folder in _createdFolders)
        {
            if (Directory.Exists(folder) && !Directory.EnumerateFileSystemEntries(folder).Any())
            {
                Directory.Delete(folder);
            }
        }
        _createdFolders.Clear();
    }
}
