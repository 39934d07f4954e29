using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using ThermalTrace.Logs;
using ThermalTrace.Sessions;

namespace ThermalTrace.Jobs;

/// <summary>What <c>prepare</c> leaves for a person to fill in.</summary>
internal static class PreparedNotes
{
    /// <summary>A row for a flight: the ballast blank, and notes by which the pilot knows it again.</summary>
    public static FlightNote Note(FlightLog log, FoundFlight flight)
    {
        string begun = log.ClockAtStartS is { } clock
            ? ClockText.Of(clock + flight.StartS)
            : string.Create(CultureInfo.InvariantCulture, $"{flight.StartS:0} s into the log");
        // Neither comma nor semicolon, so that the cell survives whatever a spreadsheet makes of the file.
        string launch = double.IsFinite(flight.LaunchHeightM)
            ? string.Create(CultureInfo.InvariantCulture, $" - launch {flight.LaunchHeightM:0} m")
            : "";
        string more = flight.Launches > 1 ? string.Create(CultureInfo.InvariantCulture, $" - {flight.Launches} launches") : "";
        return new FlightNote
        {
            Log = log.File,
            Numbers = (flight.Number, flight.Number),
            Notes = $"{begun} - {ClockText.Length(flight.EndS - flight.StartS)}{launch}{more}",
        };
    }

    /// <summary>An airframe.json that says itself what to write; what is not filled in is null, which a debrief names.</summary>
    public static string AirframeTemplate(string folderName) => $$"""
        // The model of this session. Replace every null; take the slashes away from what you know beyond that.
        {
          "name": {{JsonSerializer.Serialize(folderName, NameOptions)}},

          // Of the projected planform: tip to tip, seen from above.
          "wing_span_mm": null,     // for example 1500
          "wing_area_dm2": null,    // for example 22.4

          // Ready to fly, without ballast.
          "unballasted_mass_g": null,

          // Never to be exceeded: the maker's limit or your own.
          // "max_flying_mass_g": 400,

          // discus, hand, electric, winch, bungee or tow
          // "launch": "discus",

          // The masses of ballast that you can fit.
          // "ballast_options_g": [0, 40, 80],

          // Centre of gravity, aft of the wing root's leading edge, and its limits [forward, aft].
          // "cg_mm": 72,
          // "cg_limits_mm": [66, 76],
          // "mean_chord_mm": 150,
          // "neutral_point_mm": 84,

          // The tube that takes the ballast; centre_mm from the same place as cg_mm.
          // "ballast_tube": { "bore_mm": 12, "length_mm": 120, "centre_mm": 70 },

          // The pieces you own.
          // "ballast_stock": [
          //   { "name": "short", "material": "brass", "mass_g": 20, "diameter_mm": 11.8, "length_mm": 22, "count": 2 },
          // ],
        }

        """.ReplaceLineEndings("\n");

    private static readonly JsonSerializerOptions NameOptions = new() { Encoder = JavaScriptEncoder.Create(System.Text.Unicode.UnicodeRanges.All) };
}
