using System.CommandLine;
using ThermalTrace.Logbook;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>logbook add FOLDER…</c></summary>
internal static class LogbookAddCommand
{
    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string[]> folders = new("FOLDER")
        {
            Description = "Session folders; or finished results (results.json, or the folder that holds it); or a logbook that was exported.",
            Arity = ArgumentArity.OneOrMore,
        };
        Option<string?> logbook = LogbookOption.Create();
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        Option<string?> field = new("--field") { HelpName = "NAME", Description = "Where it was flown, in your own word: what is learned of a field's wind is kept under it." };
        Option<double?> wind = QuantityOptions.Single(AskedText.ReadWind, "W", "The wind that you read at head height that day, such as 2.5m/s.");
        Option<double?> height = QuantityOptions.Single(AskedText.ReadHeight, "H", "At which height you read it (2 m if not given).");
        Option<bool> placeless = new("--without-place") { Description = "Do not keep where the field lies (else to a hundredth of a degree)." };
        command.Add(folders);
        command.Add(logbook);
        command.Add(field);
        command.Add(wind);
        command.Add(height);
        command.Add(placeless);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
        {
            FieldReading? reading = LogbookWords.Reading(parsed.GetValue(field), parsed.GetValue(wind), parsed.GetValue(height));
            return Run(terminal, parsed.GetRequiredValue(folders), parsed.GetValue(logbook), reading, parsed.GetValue(placeless), parsed.GetValue(json), cancel);
        });
    }

    private static int Run(Terminal terminal, string[] paths, string? place, FieldReading? reading, bool placeless, bool json, CancellationToken cancel)
    {
        List<AddedSession> sessions = [];
        List<UnusableSource> unusable = [];
        bool cancelled = false;
        string path = LogbookPlace.Of(place);
        using (LogbookFile logbook = LogbookPlace.OpenToAdd(place))
        {
            foreach (string from in paths)
            {
                try
                {
                    cancel.ThrowIfCancellationRequested();
                    LogbookSource source = ProgressBar.While(terminal, "Reading " + from, report => LogbookSource.Read(from, DateTimeOffset.UtcNow, reading, report, cancel));
                    if (placeless)
                    {
                        source = source with { Sessions = [.. source.Sessions.Select(s => s with { Evidence = s.Evidence with { Field = null } })] };
                    }
                    foreach (string notice in source.Notices)
                    {
                        terminal.Say(notice);
                    }
                    cancel.ThrowIfCancellationRequested();
                    IReadOnlyList<AddOutcome> outcomes = source.FromLogbook ? logbook.AddExported(source.Sessions) : [.. source.Sessions.Select(logbook.Add)];
                    foreach ((LogbookSession session, AddOutcome outcome) in source.Sessions.Zip(outcomes))
                    {
                        sessions.Add(new AddedSession(from, outcome.Id, Word(outcome.What), outcome.Sentences));
                        Tell(terminal, from, session, outcome, json);
                    }
                }
                catch (UnusableInputException why)
                {
                    unusable.Add(new UnusableSource(from, why.Message));
                    terminal.Say($"{from}: was not added");
                    terminal.Say(why.Message);
                }
                catch (OperationCanceledException)
                {
                    cancelled = true;
                    break;
                }
            }
        }
        if (json)
        {
            terminal.Output.Write(JsonText.Of(new LogbookAddDocument("thermaltrace.logbook_add/1", path, sessions, unusable)));
        }
        if (cancelled)
        {
            terminal.Say(sessions.Count == 0 ? "Cancelled; nothing was added." : "Cancelled; what is named above was added, the rest was not.");
            return ExitCode.Cancelled;
        }
        return unusable.Count == 0 && sessions.All(s => s.What != Word(Added.Refused)) ? ExitCode.Done : ExitCode.UnusableInput;
    }

    private static void Tell(Terminal terminal, string from, LogbookSession session, AddOutcome outcome, bool json)
    {
        if (outcome.What == Added.Refused)
        {
            terminal.Say($"{from}: {LogbookWords.Outcome(session, outcome)}");
            return;
        }
        if (!json)
        {
            terminal.Output.WriteLine(Terminal.Visible($"{from}: {LogbookWords.Outcome(session, outcome)}"));
        }
        foreach (string sentence in outcome.Sentences)
        {
            terminal.Say($"{from}: {sentence}");
        }
    }

    private static string Word(Added what) => what == Added.KeptLater ? "kept_later" : what.ToString().ToLowerInvariant();
}
