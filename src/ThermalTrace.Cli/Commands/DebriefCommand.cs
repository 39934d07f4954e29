using System.CommandLine;
using System.CommandLine.Parsing;
using System.Text;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>debrief FOLDER</c>: the main job.</summary>
internal static class DebriefCommand
{
    // Reading is the smaller part of the work; the bar should not jump.
    private const double ReadingShare = 0.3;
    private const double WritingFrom = 0.92;
    // Nobody flies a model in more.
    private const double StrongestWindMps = 40;

    public static Command Create(Terminal terminal)
    {
        Argument<string> folder = new("FOLDER") { Description = "The session's folder: airframe.json, the logs, and flights.csv." };
        Option<string?> outFolder = new("--out") { HelpName = "DIR", Description = "Where the results go (FOLDER/debrief if not given)." };
        Option<double?> wind = new("--wind")
        {
            HelpName = "W",
            Description = "Your own estimate of the wind, such as 12km/h; used where no log can tell.",
            CustomParser = WindMps,
        };
        Option<bool> json = new("--json") { Description = "Print the result document alone." };
        Command command = new("debrief", "Finds out from a session's logs which ballast flew best, and writes a report.") { folder, outFolder, wind, json };
        command.SetWork(terminal, (parsed, cancel) => Run(terminal, parsed.GetRequiredValue(folder), parsed.GetValue(outFolder),
            new DebriefOptions { WindMps = parsed.GetValue(wind) }, parsed.GetValue(json), cancel));
        return command;
    }

    private static int Run(Terminal terminal, string folder, string? outFolder, DebriefOptions options, bool json, CancellationToken cancel)
    {
        string target = outFolder ?? Path.Combine(folder, "debrief");
        string option = outFolder is null ? "FOLDER/debrief:" : "--out";
        RefuseSessionFolder(folder, target);
        OutputFiles.RequireNoFile(target, option);
        IReadOnlyList<string> notices = [];
        ResultsDocument document;
        try
        {
            document = ProgressBar.While(terminal, "Reading the logs", report =>
            {
                Session session = SessionFolder.Read(folder, new DirectProgress<double>(f => report("Reading the logs", f * ReadingShare)), cancel);
                notices = session.Notices;
                // Before the long work, so that a place that cannot be written to is found out at once.
                using OutputFiles files = new(target, option);
                DebriefResult result = Debrief.Run(session, options,
                    new DirectProgress<DebriefProgress>(p => report(p.Stage, ReadingShare + p.Fraction * (WritingFrom - ReadingShare))), cancel);
                report("Writing the report", WritingFrom);
                Write(files, result, cancel);
                return result.Document;
            });
        }
        finally
        {
            foreach (string notice in notices)
            {
                terminal.Say(notice);
            }
        }
        Answer(terminal, document, json, Path.Combine(target, "report.html"));
        return ExitCode.Done;
    }

    private static void Write(OutputFiles files, DebriefResult result, CancellationToken cancel)
    {
        files.Add("results.json", stream => ResultsJson.Write(stream, result.Document));
        files.AddText("report.html", writer => ReportHtml.Write(writer, result.Document, result.Traces));
        files.AddText("segments.csv", writer => ResultTables.WriteSegments(writer, result.Document));
        files.AddText("glides.csv", writer => ResultTables.WriteGlides(writer, result.Document, result.Traces));
        files.AddText("polars.csv", writer => ResultTables.WritePolars(writer, result.Document));
        files.MoveIntoPlace(overwrite: true, cancel);
    }

    private static void Answer(Terminal terminal, ResultsDocument document, bool json, string report)
    {
        if (json)
        {
            using MemoryStream utf8 = new();
            ResultsJson.Write(utf8, document);
            terminal.Output.Write(Encoding.UTF8.GetString(utf8.GetBuffer(), 0, (int)utf8.Length));
            terminal.Say($"Report: {report}");
        }
        else
        {
            terminal.Output.Write(PlainSummary.Write(document, terminal.Width));
            terminal.Output.WriteLine();
            terminal.Output.WriteLine(Terminal.Visible($"Report: {report}"));
        }
    }

    /// <summary>Tables written among the logs would be taken for logs the next time.</summary>
    private static void RefuseSessionFolder(string folder, string target)
    {
        if (Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder)) == Path.TrimEndingDirectorySeparator(Path.GetFullPath(target)))
        {
            throw new WrongUsageException($"--out {target}: is the session folder itself, where the tables would be taken for logs; expected another folder");
        }
    }

    private static double? WindMps(ArgumentResult result)
    {
        string text = result.Tokens[0].Value;
        if (!QuantityText.TryParse(text, UnitFamily.Speed, out double mps, out string complaint))
        {
            result.AddError($"--wind {complaint}");
            return null;
        }
        if (!(mps is >= 0 and <= StrongestWindMps))
        {
            result.AddError($"--wind {text} is outside 0 to {QuantityText.Format(StrongestWindMps, UnitFamily.Speed, "m/s", 0)}");
            return null;
        }
        return mps;
    }
}
