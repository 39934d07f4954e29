using System.CommandLine;
using System.Text;
using ThermalTrace.Reports;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>debrief FOLDER</c>: the main job.</summary>
internal static class DebriefCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string> folder = new("FOLDER") { Description = "The session's folder: airframe.json, the logs, and flights.csv." };
        Option<string?> outFolder = new("--out") { HelpName = "DIR", Description = "Where the results go (FOLDER/debrief if not given)." };
        Option<double?> wind = QuantityOptions.Single(AskedText.OwnWind, "W", "Your own estimate of the wind, such as 12km/h; used where no log can tell.");
        Option<bool> json = new("--json") { Description = "Print the result document alone." };
        command.Add(folder);
        command.Add(outFolder);
        command.Add(wind);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) => Run(terminal, parsed.GetRequiredValue(folder), parsed.GetValue(outFolder),
            new DebriefOptions { WindMps = parsed.GetValue(wind) }, parsed.GetValue(json), cancel));
    }

    private static int Run(Terminal terminal, string folder, string? outFolder, DebriefOptions options, bool json, CancellationToken cancel)
    {
        IReadOnlyList<string> notices = [];
        FinishedDebrief finished;
        try
        {
            finished = ProgressBar.While(terminal, "Reading the logs", report => DebriefJob.Run(folder, outFolder, options, n => notices = n, report, cancel));
        }
        finally
        {
            foreach (string notice in notices)
            {
                terminal.Say(notice);
            }
        }
        Answer(terminal, finished.Result.Document, json, finished.Report);
        return ExitCode.Done;
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
}
