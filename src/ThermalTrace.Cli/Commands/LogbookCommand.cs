using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using System.Text;
using ThermalTrace.Logbook;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>logbook</c>: the seasons' memory.</summary>
internal static class LogbookCommand
{
    private static readonly Dictionary<string, ExportFormats> Formats = new(StringComparer.Ordinal)
    {
        ["csv"] = ExportFormats.Csv,
        ["json"] = ExportFormats.Json,
        ["parquet"] = ExportFormats.Parquet,
        ["all"] = ExportFormats.All,
    };

    public static void Fill(Command command, Terminal terminal)
    {
        foreach (CommandPage page in Manual.LogbookPages)
        {
            command.Add(page.Create(terminal, whole: true));
        }
    }

    public static void FillList(Command command, Terminal terminal)
    {
        (Option<string?> logbook, Option<bool> json) = Options();
        command.Add(logbook);
        command.Add(json);
        command.SetWork(terminal, (parsed, _) =>
        {
            string path = LogbookPlace.Of(parsed.GetValue(logbook));
            using LogbookFile file = LogbookFile.OpenToRead(path);
            IReadOnlyList<ListedSession> sessions = file.List();
            if (parsed.GetValue(json))
            {
                terminal.Output.Write(JsonText.Of(new LogbookListDocument("thermaltrace.logbook_list/1", path, [.. sessions.Select(LogbookText.Entry)])));
            }
            else
            {
                LogbookText.WriteList(terminal, sessions);
            }
            ListedSession[] damaged = [.. sessions.Where(s => s.Damage.Count > 0)];
            foreach (ListedSession session in damaged)
            {
                terminal.Say($"session {session.Id} is damaged: {session.Damage[0]}; add its folder again, or \"thermaltrace logbook remove {session.Id}\"");
            }
            return damaged.Length == 0 ? ExitCode.Done : ExitCode.UnusableInput;
        });
    }

    public static void FillShow(Command command, Terminal terminal)
    {
        Argument<string> id = new("ID") { Description = "The session's id, or the beginning of it." };
        (Option<string?> logbook, Option<bool> json) = Options();
        command.Add(id);
        command.Add(logbook);
        command.Add(json);
        command.SetWork(terminal, (parsed, _) =>
        {
            using LogbookFile file = LogbookPlace.OpenToRead(parsed.GetValue(logbook));
            LogbookSession session = file.Find(parsed.GetRequiredValue(id));
            if (parsed.GetValue(json))
            {
                using MemoryStream utf8 = new();
                LogbookExport.WriteJson(utf8, [session]);
                terminal.Output.Write(Encoding.UTF8.GetString(utf8.GetBuffer(), 0, (int)utf8.Length));
            }
            else
            {
                LogbookText.WriteSession(terminal, session);
            }
            return ExitCode.Done;
        });
    }

    public static void FillRemove(Command command, Terminal terminal)
    {
        Argument<string[]> ids = new("ID") { Description = "Ids of sessions, or the beginnings of them.", Arity = ArgumentArity.OneOrMore };
        (Option<string?> logbook, Option<bool> json) = Options();
        command.Add(ids);
        command.Add(logbook);
        command.Add(json);
        command.SetWork(terminal, (parsed, _) =>
        {
            using LogbookFile file = LogbookPlace.OpenToChange(parsed.GetValue(logbook));
            IReadOnlyList<string> removed = file.Remove(parsed.GetRequiredValue(ids));
            if (parsed.GetValue(json))
            {
                terminal.Output.Write(JsonText.Of(new LogbookRemoveDocument("thermaltrace.logbook_remove/1", LogbookPlace.Of(parsed.GetValue(logbook)), removed)));
            }
            else
            {
                terminal.Output.WriteLine($"Removed: {string.Join(", ", removed)}.");
            }
            return ExitCode.Done;
        });
    }

    public static void FillVerify(Command command, Terminal terminal)
    {
        (Option<string?> logbook, Option<bool> json) = Options();
        command.Add(logbook);
        command.Add(json);
        command.SetWork(terminal, (parsed, _) =>
        {
            string path = LogbookPlace.Of(parsed.GetValue(logbook));
            using LogbookFile file = LogbookFile.OpenToRead(path);
            LogbookHealth health = file.Verify();
            if (parsed.GetValue(json))
            {
                terminal.Output.Write(JsonText.Of(new LogbookVerifyDocument("thermaltrace.logbook_verify/1", path, file.Version, health.Sessions, health.Rows, health.Damage)));
            }
            else if (health.Damage.Count == 0)
            {
                terminal.Output.WriteLine(LogbookWords.Sound(health));
            }
            foreach (string damage in health.Damage)
            {
                terminal.Say($"{path}: {damage}");
            }
            if (health.Damage.Count > 0)
            {
                terminal.Say(LogbookWords.SavingTheSound);
            }
            return health.Damage.Count == 0 ? ExitCode.Done : ExitCode.UnusableInput;
        });
    }

    public static void FillExport(Command command, Terminal terminal)
    {
        Argument<string> folder = new("DIR") { Description = "Where the files go; \"logbook add DIR\" takes them on another machine." };
        Option<ExportFormats> format = new("--format")
        {
            HelpName = "csv|json|parquet|all",
            Description = "In which form (all if not given).",
            DefaultValueFactory = _ => ExportFormats.All,
            CustomParser = Format,
        };
        (Option<string?> logbook, Option<bool> json) = Options();
        command.Add(folder);
        command.Add(format);
        command.Add(logbook);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
        {
            string path = LogbookPlace.Of(parsed.GetValue(logbook)), target = parsed.GetRequiredValue(folder);
            if (File.Exists(Path.Combine(target, AirframeFile.Name)))
            {
                throw new WrongUsageException($"{target}: is a session folder, where the tables would be taken for logs; expected another folder");
            }
            using LogbookFile file = LogbookFile.OpenToRead(path);
            using OutputFiles files = new(target, "DIR");
            ExportSummary summary = LogbookExport.Write(file, parsed.GetValue(format), files.Open, cancel);
            files.MoveIntoPlace(overwrite: true, cancel);
            if (parsed.GetValue(json))
            {
                terminal.Output.Write(JsonText.Of(new LogbookExportDocument("thermaltrace.logbook_export/1", path, target, summary.Sessions, summary.Files, summary.Damaged)));
            }
            else
            {
                terminal.Output.WriteLine(Terminal.Visible(string.Create(CultureInfo.InvariantCulture, $"{summary.Sessions} {(summary.Sessions == 1 ? "session" : "sessions")} written to {target}: {string.Join(", ", summary.Files)}")));
            }
            foreach (string damaged in summary.Damaged)
            {
                terminal.Say($"left out, since it is damaged: {damaged}");
            }
            return summary.Damaged.Count == 0 ? ExitCode.Done : ExitCode.UnusableInput;
        });
    }

    private static (Option<string?> Logbook, Option<bool> Json) Options() => (LogbookOption.Create(), new("--json") { Description = "Print the document alone." });

    private static ExportFormats Format(ArgumentResult result)
    {
        if (Formats.TryGetValue(result.Tokens[0].Value, out ExportFormats format))
        {
            return format;
        }
        result.AddError($"--format \"{result.Tokens[0].Value}\" is not known; expected one of {string.Join(", ", Formats.Keys)}");
        return default;
    }
}
