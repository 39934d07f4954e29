using System.CommandLine;
using System.Globalization;
using ThermalTrace.Reports;
using ThermalTrace.Sessions;

namespace ThermalTrace.Cli.Commands;

/// <summary><c>predict AIRFRAME</c>: the polar for every ballast option, from geometry alone.</summary>
internal static class PredictCommand
{
    private static readonly string[] Heads = ["ballast", "flying mass", "least sink", "at", "best glide", "at"];

    public static void Fill(Command command, Terminal terminal)
    {
        Argument<string> airframe = new("AIRFRAME") { Description = "An airframe.json, or a folder that holds one." };
        Option<bool> json = new("--json") { Description = "Print the document alone." };
        command.Add(airframe);
        command.Add(json);
        command.SetWork(terminal, (parsed, _) => Run(terminal, parsed.GetRequiredValue(airframe), parsed.GetValue(json)));
    }

    private static int Run(Terminal terminal, string path, bool json)
    {
        PredictionDocument document = PolarPrediction.Run(SessionFolder.ReadAirframe(path));
        if (json)
        {
            terminal.Output.Write(JsonText.Of(document));
            return ExitCode.Done;
        }
        terminal.Output.WriteLine(Terminal.Visible($"{document.Airframe.Name}: predicted from geometry, 90 % within the bounds in brackets"));
        TextTable.Write(terminal.Output, numbersFrom: 0,
        [
            Heads,
            .. document.Polars.Select(p => new[]
            {
                Grams(p.BallastG), Grams(p.FlyingMassG), Of(p.MinSink.SinkMps, "0.00", "m/s"), Of(p.MinSink.AirspeedMps, "0.0", "m/s"),
                Of(p.BestGlide.Ratio, "0.0", ""), Of(p.BestGlide.AirspeedMps, "0.0", "m/s"),
            }),
        ]);
        return ExitCode.Done;
    }

    private static string Grams(double mass) => mass.ToString("0.#", CultureInfo.InvariantCulture) + " g";

    private static string Of(Interval interval, string format, string unit) => interval is { Value: { } value, Low: { } low, High: { } high }
        ? string.Create(CultureInfo.InvariantCulture, $"{value.ToString(format, CultureInfo.InvariantCulture)} ({low.ToString(format, CultureInfo.InvariantCulture)} to {high.ToString(format, CultureInfo.InvariantCulture)}) {unit}").TrimEnd()
        : "–";
}
