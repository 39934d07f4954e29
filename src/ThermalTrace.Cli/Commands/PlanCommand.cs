using System.CommandLine;
using ThermalTrace.Advice;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Sessions;
using ThermalTrace.Units;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>plan</c>: the test glides to fly next.</summary>
internal static class PlanCommand
{
    private const string UsualName = "plan.html";
    private const int MostFlights = 48; // four days of twelve

    public static Command Create(Terminal terminal)
    {
        Option<AskedRange?> wind = SuggestQuestion.Range("--wind", "W", UnitFamily.Speed, ConditionWords.Wind, 0, SuggestQuestion.MostWindMps,
            $"Wind at flying height that the choice is for: {SuggestQuestion.WindWords}. Left out, every wind that the season had.");
        Option<AskedRange?> lift = SuggestQuestion.Range("--lift", "L", UnitFamily.Speed, ConditionWords.Lift, 0, SuggestQuestion.MostLiftMps,
            $"Rise of the air in a thermal's core: {SuggestQuestion.LiftWords}. Left out, that of the season.");
        Option<AskedRange?> turbulence = SuggestQuestion.Range("--turbulence", "T", UnitFamily.Turbulence, ConditionWords.Turbulence, 0, SuggestQuestion.MostEdr,
            $"EDR in m^(2/3)/s: {SuggestQuestion.TurbulenceWords}. Left out, that of the season in such wind.");
        Option<int?> flights = new("--flights")
        {
            HelpName = "N",
            Description = $"How many flights, an even number from 2 to {MostFlights}; left out, as many as pay.",
            CustomParser = result =>
            {
                string text = result.Tokens[0].Value;
                if (int.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, out int count) && count is >= 2 and <= MostFlights && count % 2 == 0)
                {
                    return count;
                }
                result.AddError($"--flights \"{text}\" is not possible; expected an even number from 2 to {MostFlights}, so that each ballast is flown on the way there and on the way back");
                return null;
            },
        };
        Option<string?> page = new("--out") { HelpName = "FILE.html", Description = "Writes a sheet to print, with boxes to fill in at the field; only such a sheet is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        Command command = new("plan", "Plans the test glides to fly next: which ballasts, which speeds, in which order, and what each would tell.");
        SeasonOptions season = new(command);
        foreach (Option option in (Option[])[wind, lift, turbulence, flights, page, json])
        {
            command.Options.Add(option);
        }
        command.SetWork(terminal, (parsed, cancel) =>
        {
            string? sheet = parsed.GetValue(page);
            Season known = season.Season(terminal, parsed, season.Airframe(parsed), whole: true, cancel).Season;
            PlanAsked asked = new() { WindMps = parsed.GetValue(wind), LiftMps = parsed.GetValue(lift), Edr = parsed.GetValue(turbulence), Flights = parsed.GetValue(flights) };
            // Before the work, so that a place that cannot be written to is found out at once.
            using OutputFiles? files = sheet is null ? null : PageFile.Prepare(sheet, UsualName, "plan sheet", PlanSheet.IsSheet);
            PlanDocument document = FlightPlan.Run(known, asked, cancel);
            files?.AddText(Path.GetFileName(sheet!), writer => PlanSheet.Write(writer, document));
            files?.MoveIntoPlace(overwrite: true, cancel);
            terminal.Output.Write(parsed.GetValue(json) ? JsonText.Of(document) : PlanSummary.Write(document, terminal.Width));
            if (sheet is not null)
            {
                terminal.Say($"Sheet: {sheet}");
            }
            return ExitCode.Done;
        });
        return command;
    }
}
