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
        Option<string?> outFile = new("--out") { HelpName = "FILE", Description = $"The page to write ({UsualName} in this folder if not given); only a card is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the card's document alone." };
        Command command = new("card", "Makes the field card: ballast by wind, lift and turbulence, one page that prints and works on a phone without a network.");
        SeasonOptions season = new(command);
        command.Options.Add(outFile);
        command.Options.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
            Run(terminal, parsed, season, parsed.GetValue(outFile) ?? UsualName, parsed.GetValue(json), cancel));
        return command;
    }

    private static int Run(Terminal terminal, ParseResult parsed, SeasonOptions options, string outFile, bool json, CancellationToken cancel)
    {
        string target = Path.GetFullPath(outFile);
        RequireCardOrNothing(outFile, target);
        Season season = options.Season(terminal, parsed, options.Airframe(parsed), whole: false, cancel).Season;
        string today = DateTime.Now.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        CardDocument document = FieldCard.Run(season, new FieldCardOptions { Made = today }, cancel);
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
