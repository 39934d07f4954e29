using ThermalTrace.Logbook;
using ThermalTrace.Units;

namespace ThermalTrace.Jobs;

/// <summary>Where the logbook lies: <c>--logbook FILE</c>, or the user's data folder as the system has it.</summary>
internal static class LogbookPlace
{
    /// <summary>The file's path.</summary>
    /// <param name="given">As typed; null where not given.</param>
    /// <exception cref="WrongUsageException">Not given, and the system knows no data folder.</exception>
    public static string Of(string? given)
    {
        if (given is not null)
        {
            return given.Length > 0 ? given : throw new WrongUsageException("--logbook is empty; expected a file");
        }
        // XDG_DATA_HOME or ~/.local/share, ~/Library/Application Support, %LOCALAPPDATA%.
        string data = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify);
        return data.Length > 0 ? Path.Combine(data, "ThermalTrace", "logbook.sqlite")
            : throw new WrongUsageException("this system names no folder for a user's data; give the logbook's file with --logbook FILE");
    }

    /// <summary>Opens it to be read.</summary>
    /// <exception cref="UnusableInputException">It is not there or cannot be used.</exception>
    public static LogbookFile OpenToRead(string? given) => LogbookFile.OpenToRead(Of(given));

    /// <summary>Opens it to be changed; it must be there.</summary>
    /// <exception cref="UnusableInputException">It is not there or cannot be used.</exception>
    public static LogbookFile OpenToChange(string? given)
    {
        LogbookFile.OpenToRead(Of(given)).Dispose(); // says so where there is none, and makes none
        return LogbookFile.OpenToWrite(Of(given));
    }

    /// <summary>Opens it to be added to, and makes it where there is none. In the data folder its folder is made too.</summary>
    /// <exception cref="UnusableInputException">It cannot be used.</exception>
    public static LogbookFile OpenToAdd(string? given)
    {
        string path = Of(given);
        if (given is null)
        {
            try
            {
                Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            }
            catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
            {
                throw new UnusableInputException($"{path}: its folder cannot be made: {failure.Message}; give another with --logbook FILE");
            }
        }
        return LogbookFile.OpenToWrite(path);
    }
}
