using System.CommandLine;
using System.Globalization;
using System.Text;
using ThermalTrace.Reports.Card;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>card --airframe AIRFRAME</c>: one page for the phone and the pocket.</summary>
internal static class CardCommand
{
    private const string UsualName = "card.html";
    private const int LooksIntoBytes = 4096; // a card says what it is in its first lines

    public static Command Create(Terminal terminal)
    {
        Option<string> airframe = new("--airframe") { HelpName = "AIRFRAME", Description = "An airframe.json, or a folder that holds one.", Required = true };
        Option<string[]> results = new("--results")
        {
            HelpName = "FILE",
            Description = "Finished debriefs (results.json) to rest on, in place of the logbook.",
            AllowMultipleArgumentsPerToken = true,
            DefaultValueFactory = _ => [],
        };
        Option<string?> logbook = new("--logbook") { HelpName = "FILE", Description = "The logbook to rest on, where it is not in its usual place." };
        Option<string?> outFile = new("--out") { HelpName = "FILE", Description = $"The page to write ({UsualName} in this folder if not given); only a card is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the card's document alone." };
        Command command = new("card", "Makes the field card: ballast by wind, lift and turbulence, one page that prints and works on a phone without a network.") { airframe, results, logbook, outFile, json };
        command.SetWork(terminal, (parsed, cancel) =>
            Run(terminal, parsed.GetRequiredValue(airframe), model => SeasonSource.For(model, parsed.GetValue(results) ?? [], parsed.GetValue(logbook)), parsed.GetValue(outFile) ?? UsualName, parsed.GetValue(json), cancel));
        return command;
    }

    private static int Run(Terminal terminal, string airframePath, Func<Airframe, SeasonSource> season, string outFile, bool json, CancellationToken cancel)
    {
        string target = Path.GetFullPath(outFile);
        RequireCardOrNothing(outFile, target);
        Airframe airframe = SessionFolder.ReadAirframe(airframePath);
        string today = DateTime.Now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        CardDocument document = FieldCard.Run(airframe, season(airframe).Sessions, new FieldCardOptions { Made = today }, cancel);
        using OutputFiles files = new(Path.GetDirectoryName(target)!, "--out");
        files.AddText(Path.GetFileName(target), writer => CardPage.Write(writer, document));
        files.MoveIntoPlace(overwrite: true, cancel);
        if (json)
        {
            terminal.Output.Write(JsonText.Of(document));
            terminal.Say($"Card: {outFile}");
        }
        else
        {
            terminal.Output.Write(Terminal.Visible($"{document.Airframe.Name}: {CardPage.Basis(document)}.") + "\n" + Terminal.Visible($"Card: {outFile}") + "\n");
        }
        return ExitCode.Done;
    }

    /// <summary>A card may replace a card; whatever else is there stays.</summary>
    private static void RequireCardOrNothing(string outFile, string target)
    {
        if (Directory.Exists(target) || Path.EndsInDirectorySeparator(outFile))
        {
            throw new WrongUsageException($"--out {outFile}: is a folder; expected a file such as {Path.Combine(outFile, UsualName)}");
        }
        if (!File.Exists(target))
        {
            return;
        }
        byte[] head = new byte[LooksIntoBytes];
        using FileStream stream = File.OpenRead(target);
        int read = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        if (!CardPage.IsCard(Encoding.UTF8.GetString(head, 0, read)))
        {
            throw new WrongUsageException($"--out {outFile}: is there already and is no field card, so it stays as it is; expected another name");
        }
    }
}
