using ThermalTrace.Cli.Commands;

namespace ThermalTrace.Cli;

/// <summary>All commands in the order of the work, as --help tells of them.</summary>
internal static class Manual
{
    private const string SessionFiles = "Reads airframe.json, flights.csv, columns.csv, phases.csv and all logs (*.csv, *.igc, *.gpx) of the folder.";
    private const string RestsOn = "Rests on --results where they are given, else on the logbook where there is one, else on the model's geometry;\nit says which.";
    private const string LogbookFileText = "The logbook is one SQLite file. Without --logbook it lies in your user's data folder; \"logbook verify\" names the place.";

    public static readonly IReadOnlyList<CommandPage> Pages =
    [
        new("prepare", "Finds the flights in a folder of logs and writes a flights.csv and an airframe.json to fill in; never overwrites.", PrepareCommand.Fill)
        {
            Examples = [new("thermaltrace prepare my-session", "writes both files, a row for each flight found")],
            Notes = "Reads the logs and columns.csv.\nWrites flights.csv and airframe.json where they are not there yet.",
        },
        new("inspect", "Shows what was found in logs: channels, units, rate, gaps, repairs, and what could not be used.", InspectCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace inspect my-session", "all logs of a folder"),
                new("thermaltrace inspect log-01.csv --json", "one log, for other programs"),
            ],
        },
        new("debrief", "Finds out from a session's logs which ballast flew best, and writes a report.", DebriefCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace debrief my-session", "prints the answer and names the report"),
                new("thermaltrace debrief my-session --wind 12km/h", "with your own estimate, for logs that cannot tell the wind"),
                new("thermaltrace debrief my-session --out answer --json", "results elsewhere, and the document on standard output"),
            ],
            Notes = SessionFiles + "\nWrites results.json, report.html, segments.csv, glides.csv and polars.csv, all of them or none.",
        },
        new("predict", "Predicts the polar for every ballast option from the model's geometry.", PredictCommand.Fill)
        {
            Examples = [new("thermaltrace predict my-session", "of the airframe.json in that folder")],
        },
        new("card", "Makes the field card: ballast by wind, lift and turbulence, one page that prints and works on a phone without a network.", CardCommand.Fill)
        {
            Examples = [new("thermaltrace card --airframe my-session --out card.html", "writes the page; open it once on the phone and keep it")],
            Notes = RestsOn,
        },
        new("suggest", "Suggests the ballast for a day's wind, lift and turbulence.", SuggestCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace suggest --airframe my-session --wind 4..6m/s --lift 2m/s --turbulence rough", "a range, a number, a word"),
                new("thermaltrace suggest --airframe my-session --wind 5m/s --climb 0.8m/s --with 30", "from the climb just seen with 30 g"),
            ],
            Notes = RestsOn,
        },
        new("plan", "Plans the test glides to fly next: which ballasts, which speeds, in which order, and what each would tell.", PlanCommand.Fill)
        {
            Examples = [new("thermaltrace plan --airframe my-session --wind 3..5m/s --flights 6 --out plan.html", "six flights, and a sheet to print")],
            Notes = RestsOn,
        },
        new("pieces", "Says which of your pieces of ballast to fit and where they lie, so that mass and balance come out right.", PiecesCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace pieces --airframe my-session --ballast 45g --cg-forward 0.7mm", "for one mass"),
                new("thermaltrace pieces --airframe my-session --out pieces.html", "every step from empty to the limit, as a page to print"),
            ],
            Notes = "Reads ballast_tube and ballast_stock of airframe.json.",
        },
        new("stick", "Tells which ballast stick to build for the tube: of what, how thick and long, where it lies, what it costs.", StickCommand.Fill)
        {
            Examples = [new("thermaltrace stick --airframe my-session --ballast 45g --material brass --diameter 8mm", "from the rod that you have")],
            Notes = "Reads ballast_tube of airframe.json.",
        },
        new("balance", "Finds centre of gravity and pitch inertia from weighed supports, a balance, a swing on two strings.", BalanceCommand.Fill)
        {
            Examples = [new("thermaltrace balance --airframe my-session --reading 172.4g@42mm --reading 89.7g@130mm", "from two kitchen scales")],
            Notes = "Errors that you give hold 9 times in 10. A bare number is grams, metres or seconds. Nothing is written.",
        },
        new("simulate", "Makes a session with known truth: to try the program, to test it, to see what a day could tell.", SimulateCommand.Fill)
        {
            Examples = [new("thermaltrace simulate --out tried --seed 7", "a session in tried, its truth in tried-truth.json")],
        },
        new("logbook", "Keeps what sessions tell of each airframe, season after season, in one file.", LogbookCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace logbook add my-session", "keeps a session; debriefs it where that is not done yet"),
                new("thermaltrace logbook list", "what is kept"),
            ],
            Notes = LogbookFileText,
        },
        new("browse", "Serves the same jobs as pages for a browser on this machine, until this terminal ends it.", BrowseCommand.Fill)
        {
            Examples = [new("thermaltrace browse my-session", "opens your browser; the folder may still be empty")],
            Notes = "Every edit is saved into the folder at once; debrief/ is written when you debrief.",
        },
        new("schema", "Prints the JSON Schema of a document that the program writes, for those who read it with another.", SchemaCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace schema", "lists the documents"),
                new("thermaltrace schema results", "of results.json"),
            ],
        },
        new("completion", "Prints what makes your shell complete commands and options.", CompletionCommand.Fill)
        {
            Examples =
            [
                new("source <(thermaltrace completion bash)", "in ~/.bashrc; zsh likewise"),
                new("thermaltrace completion fish | source", "in ~/.config/fish/config.fish"),
                new("thermaltrace completion pwsh | Out-String | Invoke-Expression", "in $PROFILE"),
            ],
        },
    ];

    /// <summary>The sub-commands of <c>logbook</c>.</summary>
    public static readonly IReadOnlyList<CommandPage> LogbookPages =
    [
        new("add", "Keeps what sessions tell of an airframe; debriefs them where that is not done yet.", LogbookAddCommand.Fill)
        {
            Examples =
            [
                new("thermaltrace logbook add 2031-06-14 2031-06-21", "two sessions; adding the same again changes nothing"),
                new("thermaltrace logbook add my-session --field ridge --wind 2.5m/s", "with the wind that you read there at head height"),
            ],
            Notes = LogbookFileText,
        },
        new("list", "Lists the sessions.", LogbookCommand.FillList)
        {
            Examples = [new("thermaltrace logbook list --json", "for other programs")],
        },
        new("show", "Shows what is kept of a session.", LogbookCommand.FillShow)
        {
            Examples = [new("thermaltrace logbook show 3f2a", "the beginning of an id is enough")],
        },
        new("remove", "Removes sessions: all that are named or none.", LogbookCommand.FillRemove)
        {
            Examples = [new("thermaltrace logbook remove 3f2a 91c0", "both or neither")],
        },
        new("verify", "Looks whether anything in the logbook is damaged, and names it.", LogbookCommand.FillVerify)
        {
            Examples = [new("thermaltrace logbook verify", "exit code 3 where something is damaged")],
        },
        new("export", "Writes the logbook for other programs and other machines.", LogbookCommand.FillExport)
        {
            Examples = [new("thermaltrace logbook export seasons --format json", "add the folder to another logbook to move it there")],
        },
    ];

    /// <summary>The page of a command, or null for the program itself.</summary>
    public static CommandPage? PageOf(string command, string? parent) =>
        (parent == "logbook" ? LogbookPages : Pages).FirstOrDefault(p => p.Name == command);
}
