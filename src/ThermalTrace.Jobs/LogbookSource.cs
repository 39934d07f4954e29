using System.Security;
using System.Security.Cryptography;
using System.Text.Json;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Jobs;

/// <summary>What an argument of <c>logbook add</c> holds.</summary>
/// <param name="Sessions">To be added.</param>
/// <param name="FromLogbook">True where another logbook exported them.</param>
/// <param name="Notices">What a person should know.</param>
internal sealed record LogbookSource(IReadOnlyList<LogbookSession> Sessions, bool FromLogbook, IReadOnlyList<string> Notices)
{
    private const double ReadingShare = 0.3; // as in a debrief
    private const string Results = "results.json";

    /// <summary>Reads a session folder (debriefing it where its results are not up to date), finished results, or an exported logbook.</summary>
    /// <exception cref="UnusableInputException">It is none of these.</exception>
    public static LogbookSource Read(string path, DateTimeOffset now, FieldReading? reading, Action<string, double> report, CancellationToken cancel)
    {
        if (File.Exists(path))
        {
            return Path.GetFileName(path) == LogbookImport.FirstTable ? Tables(Path.GetDirectoryName(Path.GetFullPath(path))!) : Json(path, now, reading);
        }
        string Inside(string name) => Path.Combine(path, name);
        if (File.Exists(Inside(LogbookExport.JsonName)))
        {
            return Json(Inside(LogbookExport.JsonName), now, reading);
        }
        if (File.Exists(Inside(LogbookImport.FirstTable)))
        {
            return Tables(path);
        }
        return File.Exists(Inside(Results)) && !File.Exists(Inside(AirframeFile.Name))
            ? Json(Inside(Results), now, reading)
            : Folder(path, now, reading, report, cancel);
    }

    private static LogbookSource Folder(string folder, DateTimeOffset now, FieldReading? reading, Action<string, double> report, CancellationToken cancel)
    {
        List<string> notices = [];
        string finished = Path.Combine(folder, "debrief", Results);
        if (File.Exists(finished))
        {
            report("Looking at the finished results", 0);
            string? stale;
            try
            {
                ResultsDocument document = ReadResults(finished);
                stale = NewerNote(folder, finished) ?? FinishedResults.WhyStale(document, SessionFolder.ReadAirframe(folder), Hashes(folder, cancel));
                if (stale is null)
                {
                    return new LogbookSource([LogbookSession.Of(document, now, reading, finished)], false, [$"{folder}: taken from its finished results, {finished}"]);
                }
            }
            catch (UnusableInputException unusable)
            {
                stale = unusable.Message;
            }
            notices.Add($"{folder}: debriefed again, since its finished results are out of date: {stale}");
        }
        Session session = SessionFolder.Read(folder, new DirectProgress<double>(f => report("Reading the logs", f * ReadingShare)), cancel);
        notices.AddRange(session.Notices);
        DebriefResult result = Debrief.Run(session, new DebriefOptions(), new DirectProgress<DebriefProgress>(p => report(p.Stage, ReadingShare + p.Fraction * (1 - ReadingShare))), cancel);
        return new LogbookSource([LogbookSession.Of(result.Document, now, reading, folder)], false, notices);
    }

    // Pages made for a folder often stand in it; no debrief reads them.
    private static readonly string[] PageEndings = [".html", ".svg"];

    /// <summary>A note that was written after the results: ballast put right, a boundary moved. Logs are told by their hashes.</summary>
    private static string? NewerNote(string folder, string finished)
    {
        DateTime written = File.GetLastWriteTimeUtc(finished);
        FileInfo? newer = new DirectoryInfo(folder).EnumerateFiles()
            .Where(f => f.LastWriteTimeUtc > written && !PageEndings.Contains(f.Extension, StringComparer.OrdinalIgnoreCase)).OrderBy(f => f.Name, StringComparer.Ordinal).FirstOrDefault();
        return newer is null ? null : $"{newer.Name} is newer";
    }

    private static IReadOnlyList<(string, string)> Hashes(string folder, CancellationToken cancel)
    {
        List<(string, string)> hashes = [];
        foreach (string name in SessionFolder.LogNames(folder))
        {
            cancel.ThrowIfCancellationRequested();
            using FileStream stream = File.OpenRead(Path.Combine(folder, name));
            hashes.Add((name, Convert.ToHexStringLower(SHA256.HashData(stream))));
        }
        return hashes;
    }

    private static LogbookSource Json(string path, DateTimeOffset now, FieldReading? reading) => Guarded(path, () =>
    {
        using (FileStream stream = File.OpenRead(path))
        {
            try
            {
                using JsonDocument json = JsonDocument.Parse(stream);
                if (LogbookImport.IsLogbook(json.RootElement))
                {
                    return new LogbookSource(LogbookImport.ReadJson(json.RootElement, path), true, []);
                }
            }
            catch (JsonException broken)
            {
                throw new UnusableInputException(FormattableString.Invariant($"{path}:{(broken.LineNumber ?? 0) + 1}: is not JSON; expected results.json of a debrief or logbook.json of an export"));
            }
        }
        return new LogbookSource([LogbookSession.Of(ReadResults(path), now, reading, path)], false, []);
    });

    private static ResultsDocument ReadResults(string path) => Guarded(path, () =>
    {
        using FileStream stream = File.OpenRead(path);
        try
        {
            return ResultsJson.Read(stream);
        }
        catch (UnusableInputException unusable)
        {
            throw new UnusableInputException($"{path}: {unusable.Message}");
        }
    });

    private static LogbookSource Tables(string folder) => Guarded(folder, () => new LogbookSource(LogbookImport.ReadCsv(name =>
    {
        string file = Path.Combine(folder, name);
        return File.Exists(file) ? new StreamReader(file) : null;
    }), true, []));

    private static T Guarded<T>(string path, Func<T> read)
    {
        try
        {
            return read();
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException or SecurityException)
        {
            throw new UnusableInputException($"{path}: cannot be read: {failure.Message}");
        }
    }
}
