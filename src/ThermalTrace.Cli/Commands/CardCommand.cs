using System.CommandLine;
using ThermalTrace.Reports.Card;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>card --airframe AIRFRAME</c>: one page for the phone and the pocket.</summary>
internal static class CardCommand
{
    private const string UsualName = "card.html";

    public static void Fill(Command command, Terminal terminal)
    {
        Option<string?> outFile = new("--out") { HelpName = "FILE", Description = $"The page to write ({UsualName} in this folder if not given); only a card is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the card's document alone." };
        SeasonOptions season = new(command);
        command.Add(outFile);
        command.Add(json);
        command.SetWork(terminal, (parsed, cancel) =>
            Run(terminal, parsed, season, parsed.GetValue(outFile) ?? UsualName, parsed.GetValue(json), cancel));
    }

    private static int Run(Terminal terminal, ParseResult parsed, SeasonOptions options, string outFile, bool json, CancellationToken cancel)
    {
        string target = Path.GetFullPath(outFile);
        PageFile.Require(outFile, UsualName, "field card", CardPage.IsCard);
        Season season = options.Season(terminal, parsed, options.Airframe(parsed), whole: false, cancel).Season;
        string today = Sheet.Day(DateTime.Now);
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
}
