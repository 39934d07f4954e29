using System.Globalization;
using System.Text;

namespace ThermalTrace.Simulation;

/// <summary>A flight and where it lies in its log.</summary>
/// <param name="Flight">As flown.</param>
/// <param name="Stem">Log without file ending.</param>
/// <param name="Number">In that log, counted from 1.</param>
/// <param name="LogOriginS">Session time of the log's first row, s.</param>
internal sealed record LoggedFlight(SimulatedFlight Flight, string Stem, int Number, double LogOriginS);

/// <summary>Puts flights into logs and writes the session's files.</summary>
internal static class SessionAssembly
{
    public static SimulatedSession Assemble(SimulationOptions options, AirframePreset preset, IReadOnlyList<Model> models,
        Atmosphere atmosphere, IReadOnlyList<SimulatedFlight> flights, DateTime startUtc)
    {
        Instruments instruments = Instruments.Draw(options);
        List<LogChannels> channels = [];
        List<LoggedFlight> logged = [];
        List<FlightCarried> notes = [];
        List<SimulatedFlight[]> groups = Groups(options.Logs, models, flights);
        for (int g = 0; g < groups.Count; g++)
        {
            string stem = options.Logs == LogSplit.One ? "day" : "log-" + (g + 1).ToString("00", CultureInfo.InvariantCulture);
            double originS = groups[g][0].Moments[0].TimeS;
            LogChannels log = Sensors.Log(options, instruments, atmosphere, stem, startUtc, Stretches(options.Paused, groups[g]));
            channels.Add(options.Faults ? SensorFaults.Inflict(log, options.RateHz, RandomStream.For(options.Seed, stem + "/faults")) : log);
            for (int i = 0; i < groups[g].Length; i++)
            {
                logged.Add(new LoggedFlight(groups[g][i], stem, i + 1, originS));
                if (options.Logs == LogSplit.One)
                {
                    notes.Add(new FlightCarried(stem, i + 1, groups[g][i].Model.BallastG));
                }
            }
            if (options.Logs != LogSplit.One)
            {
                notes.Add(new FlightCarried(stem, null, groups[g][0].Model.BallastG));
            }
        }
        SessionDraft draft = new(AirframeJson(preset, options, models), channels, notes,
            ending => TruthDocument.Write(preset, options, models, logged, ending), logged);
        return SessionWriter.Write(draft, options.Flavour);
    }

    private static List<SimulatedFlight[]> Groups(LogSplit split, IReadOnlyList<Model> models, IReadOnlyList<SimulatedFlight> flights) => split switch
    {
        LogSplit.One => [[.. flights]],
        LogSplit.PerFlight => [.. flights.Select(f => new[] { f })],
        _ => [.. models.Select(m => flights.Where(f => f.Model.BallastG == m.BallastG).ToArray()).Where(g => g.Length > 0)],
    };

    /// <summary>Flights that follow each other without a break share a stretch; paused, each stands alone without the walk back.</summary>
    private static List<IReadOnlyList<Moment>> Stretches(bool paused, SimulatedFlight[] flights)
    {
        List<IReadOnlyList<Moment>> stretches = [];
        List<Moment> open = [];
        foreach (SimulatedFlight flight in flights)
        {
            IReadOnlyList<Moment> moments = paused ? SwitchedOff(flight.Moments) : flight.Moments;
            bool follows = open.Count > 0 && Math.Abs(moments[0].TimeS - open[^1].TimeS - Glider.StepS) < 1e-3;
            if (!follows && open.Count > 0)
            {
                stretches.Add(open);
                open = [];
            }
            open.AddRange(moments);
        }
        stretches.Add(open);
        return stretches;
    }

    private static IReadOnlyList<Moment> SwitchedOff(IReadOnlyList<Moment> moments)
    {
        int landed = moments.Count - 1;
        while (landed > 0 && moments[landed].Phase == Phase.Ground)
        {
            landed--;
        }
        int last = Math.Min(moments.Count, landed + (int)(4 / Glider.StepS));
        return [.. moments.Take(last)];
    }

    private static string AirframeJson(AirframePreset preset, SimulationOptions options, IReadOnlyList<Model> models)
    {
        string Number(double value) => Math.Round(value, 3).ToString(CultureInfo.InvariantCulture);
        SimulatedLaunch launch = options.Launch ?? preset.Launch;
        StringBuilder text = new();
        text.Append("{\n");
        text.Append("  // A simulated model. Comments and trailing commas are welcome in this file.\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"name\": \"{preset.Name}\",\n");
        text.Append("  // Of the wing as seen from above.\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"wing_span_mm\": {Number(preset.SpanM * 1000)},\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"wing_area_dm2\": {Number(preset.AreaM2 * 100)},\n");
        text.Append("  // Ready to fly, no ballast in it.\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"unballasted_mass_g\": {Number(preset.MassKg * 1000)},\n");
        text.Append("  // Nothing heavier than this is ever suggested.\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"max_flying_mass_g\": {Number(preset.MaxMassKg * 1000)},\n");
        text.Append("  // discus, hand, electric, winch, bungee or tow.\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"launch\": \"{Word(launch)}\",\n");
        text.Append("  // Every ballast that can be fitted; 0 is the empty model.\n");
        text.Append(CultureInfo.InvariantCulture, $"  \"ballast_options_g\": [{string.Join(", ", models.Select(m => Number(m.BallastG)))}],\n");
        text.Append("}\n");
        return text.ToString();
    }

    private static string Word(SimulatedLaunch launch) => launch switch
    {
        SimulatedLaunch.Discus => "discus",
        SimulatedLaunch.Hand => "hand",
        SimulatedLaunch.Electric => "electric",
        SimulatedLaunch.Winch => "winch",
        SimulatedLaunch.Bungee => "bungee",
        _ => "tow",
    };
}
