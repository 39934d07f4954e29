using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Jobs;

/// <summary>A debrief whose files are written.</summary>
/// <param name="Result">Document and traces.</param>
/// <param name="Folder">Where the files went.</param>
/// <param name="Contents">Of the report.</param>
/// <param name="Airframe">As it was read; the folder's may have changed since.</param>
internal sealed record FinishedDebrief(DebriefResult Result, string Folder, ReportContents Contents, Airframe Airframe)
{
    /// <summary>The report's file.</summary>
    public string Report => Path.Combine(Folder, DebriefJob.ReportName);
}

/// <summary>From a session's folder to the files of its debrief.</summary>
internal static class DebriefJob
{
    public const string ReportName = "report.html", ResultsName = "results.json";

    // Reading is the smaller part of the work; a bar should not jump.
    private const double ReadingShare = 0.3;
    private const double WritingFrom = 0.92;

    /// <summary>Reads, debriefs and writes; all files are moved into place at the end or none.</summary>
    /// <param name="folder">The session.</param>
    /// <param name="outFolder">Where to; null for <c>FOLDER/debrief</c>.</param>
    /// <param name="options">Of the debrief.</param>
    /// <param name="notices">Is given what a person should know of the folder, as soon as it is read.</param>
    /// <param name="report">Takes a stage in words and a fraction from 0 to 1.</param>
    /// <param name="cancel">Ends it.</param>
    /// <exception cref="WrongUsageException">The place cannot be written to.</exception>
    /// <exception cref="Units.UnusableInputException">The folder is no session, or shows no flight.</exception>
    /// <exception cref="OperationCanceledException">Cancelled; nothing was written.</exception>
    public static FinishedDebrief Run(string folder, string? outFolder, DebriefOptions options, Action<IReadOnlyList<string>> notices, Action<string, double> report,
        CancellationToken cancel)
    {
        string target = outFolder ?? Path.Combine(folder, "debrief");
        string option = outFolder is null ? "FOLDER/debrief:" : "--out";
        RefuseSessionFolder(folder, target);
        OutputFiles.RequireNoFile(target, option);
        Session session = SessionFolder.Read(folder, new DirectProgress<double>(f => report("Reading the logs", f * ReadingShare)), cancel);
        notices(session.Notices);
        // Before the long work, so that a place that cannot be written to is found out at once.
        using OutputFiles files = new(target, option);
        DebriefResult result = Debrief.Run(session, options,
            new DirectProgress<DebriefProgress>(p => report(p.Stage, ReadingShare + p.Fraction * (WritingFrom - ReadingShare))), cancel);
        report("Writing the report", WritingFrom);
        files.Add(ResultsName, stream => ResultsJson.Write(stream, result.Document));
        ReportContents contents = ReportContents.Of(result.Document, result.Traces);
        files.AddText(ReportName, writer => ReportHtml.Write(writer, result.Document, contents));
        files.AddText("segments.csv", writer => ResultTables.WriteSegments(writer, result.Document));
        files.AddText("glides.csv", writer => ResultTables.WriteGlides(writer, result.Document, result.Traces));
        files.AddText("polars.csv", writer => ResultTables.WritePolars(writer, result.Document));
        files.MoveIntoPlace(overwrite: true, cancel);
        return new FinishedDebrief(result, target, contents, session.Airframe);
    }

    /// <summary>Tables written among the logs would be taken for logs the next time.</summary>
    private static void RefuseSessionFolder(string folder, string target)
    {
        if (Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder)) == Path.TrimEndingDirectorySeparator(Path.GetFullPath(target)))
        {
            throw new WrongUsageException($"--out {target}: is the session folder itself, where the tables would be taken for logs; expected another folder");
        }
    }
}
