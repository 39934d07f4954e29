using System.CommandLine;
using ThermalTrace.Advice;
using ThermalTrace.Reports.Plan;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>plan</c>: the test glides to fly next.</summary>
internal static class PlanCommand
{
    private const string UsualName = "plan.html";

    public static void Fill(Command command, Terminal terminal)
    {
        Option<AskedRange?> wind = QuantityOptions.Condition(AskedText.Wind, "W", $"Wind at flying height that the choice is for: {AskedText.Wind.Expected}. Left out, every wind that the season had.");
        Option<AskedRange?> lift = QuantityOptions.Condition(AskedText.Lift, "L", $"Rise of the air in a thermal's core: {AskedText.Lift.Expected}. Left out, that of the season.");
        Option<AskedRange?> turbulence = QuantityOptions.Condition(AskedText.Turbulence, "T", $"EDR in m^(2/3)/s: {AskedText.Turbulence.Expected}. Left out, that of the season in such wind.");
        Option<int?> flights = QuantityOptions.Read<int?>("--flights", "N", $"How many flights, {AskedText.FlightsExpected}; left out, as many as pay.",
            (string text, out int? count, out string complaint) =>
            {
                bool read = AskedText.TryReadFlights(text, out int number, out complaint);
                count = read ? number : null;
                return read;
            });
        Option<string?> page = new("--out") { HelpName = "FILE.html", Description = "Writes a sheet to print, with boxes to fill in at the field; only such a sheet is ever replaced." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        SeasonOptions season = new(command);
        command.Add(wind);
        command.Add(lift);
        command.Add(turbulence);
        command.Add(flights);
        command.Add(page);
        command.Add(json);
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
    }
}
