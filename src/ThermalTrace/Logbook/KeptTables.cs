namespace ThermalTrace.Logbook;

/// <summary>
/// The tables that sessions are kept in, column by column: what the database holds, what exports show, what checksums cover.
/// A column is never changed or moved: what comes later comes in a table of its own, so that checksums stay true.
/// </summary>
internal static class KeptTables
{
    /// <summary>One row a session.</summary>
    public static readonly KeptTable Session = new("session", "one session of one airframe",
    [
        Text("id", "short name of the session: the first digits of a hash over airframe and logs"),
        Text("airframe", "the airframe's name as airframe.json has it"),
        Text("airframe_key", "that name trimmed and in capitals; sessions with the same are one airframe's"),
        Number("wing_span_mm", "wing span, mm"),
        Number("wing_area_dm2", "wing area, dm²"),
        Number("unballasted_mass_g", "ready to fly without ballast, g"),
        Number("max_flying_mass_g", "the limit, g"),
        Text("launch", "discus, hand, electric, winch, bungee or tow", empty: true),
        Text("date", "day of the session as its logs have it, yyyy-MM-dd", empty: true),
        Number("latitude_deg", "the field, degrees north, to a hundredth"),
        Number("longitude_deg", "the field, degrees east, to a hundredth"),
        Text("measure", "round_trip_climb or still_air_time: what the answer rests on"),
        Number("wind_mps", "wind at flying height, m/s"),
        Number("wind_mps_low", "lower bound of it, 90 %, m/s"),
        Number("wind_mps_high", "upper bound of it, 90 %, m/s"),
        Number("lift_mps", "vertical speed of the air at the thermal's core, m/s"),
        Number("lift_mps_low", "lower bound of it, 90 %, m/s"),
        Number("lift_mps_high", "upper bound of it, 90 %, m/s"),
        Number("thermal_radius_m", "where lift has fallen to 1/e, m"),
        Number("thermal_radius_m_low", "lower bound of it, 90 %, m"),
        Number("thermal_radius_m_high", "upper bound of it, 90 %, m"),
        Number("edr", "turbulence: eddy dissipation rate^(1/3), m^(2/3)/s"),
        Number("air_sink_mps", "sink of the air on the way home, m/s"),
        Number("best_ballast_g", "the ballast that flew best, g"),
        Text("verdict", "clear, leaning, no_difference or unknown"),
        Text("why", "the answer's reason in a sentence"),
        Text("program", "the program that debriefed it"),
        Text("added_at", "when it was first added, UTC, ISO 8601"),
        Text("changed_at", "when it was last replaced, UTC, ISO 8601"),
    ]);

    /// <summary>One row a log: provenance.</summary>
    public static readonly KeptTable Log = new("log", "one log of a session, by name and hash; the log itself is not kept",
    [
        Text("session", "the session's id"),
        Whole("place", "counted from 0 in the session"),
        Text("file", "the file's name"),
        Text("sha256", "SHA-256 of the file's bytes, hexadecimal"),
        Whole("rows", "rows of the log"),
    ]);

    /// <summary>One row a session: the airframe's drag as that session tells it.</summary>
    public static readonly KeptTable Drag = new("drag", "what a session tells of the airframe's drag: a Gaussian likelihood (docs/models/season.md)",
    [
        Text("session", "the session's id"),
        Text("format", "format of the evidence"),
        new KeptColumn("terms", CellKind.Texts, false, "names of the drag terms"),
        new KeptColumn("information", CellKind.Numbers, false, "information matrix over the terms, row by row; empty where no flight had airspeed"),
        new KeptColumn("score", CellKind.Numbers, false, "information times estimate"),
        new KeptColumn("prior_mean", CellKind.Numbers, false, "prior mean of each term"),
        new KeptColumn("prior_sd", CellKind.Numbers, false, "prior standard deviation of each term"),
        Number("rows", "rows behind it"),
        Number("widening", "by what the variance grows when the air's habits are not taken as known"),
        new KeptColumn("ballasts_g", CellKind.Numbers, false, "ballasts with a term of their own, g"),
        YesNo("has_basis", "1 where the next ten are known"),
        Number("area_m2", "wing area that the terms are multiples of, m²"),
        Number("aspect_ratio", "its aspect ratio"),
        Number("chord_m", "its mean chord, m"),
        Number("reference_reynolds", "Reynolds number of the reference flight"),
        Number("cd0", "expected parasite drag coefficient"),
        Number("reynolds_exponent", "expected exponent of its Reynolds number"),
        Number("profile_rise", "expected rise of profile drag with the lift coefficient's square"),
        Number("least_drag_cl", "expected lift coefficient of least drag"),
        Number("inverse_span_efficiency", "expected induced drag over that of an ellipse"),
        Number("stall_rise", "expected rise of drag towards the stall"),
    ]);

    /// <summary>One row a flight.</summary>
    public static readonly KeptTable Flight = new("flight", "one flight",
    [
        Text("session", "the session's id"),
        Whole("place", "counted from 0 in the session"),
        Text("log", "file name of its log"),
        Whole("number", "counted from 1 in its log"),
        Number("ballast_g", "ballast, g"),
        Number("mass_kg", "flying mass, kg"),
        Number("cg_mm", "centre of gravity aft of the wing root's leading edge, mm"),
        YesNo("counts", "1 where per-ballast results may rest on it"),
        YesNo("spoiled", "1 where the pilot said not to use it"),
        Number("launch_height_m", "height when the first launch ended, m"),
        Number("aloft_s", "from the launch's end to the landing's beginning, s"),
        Number("glide_s", "of that, gliding, s"),
        Number("glide_way_m", "way through the air meanwhile, m"),
        Number("wind_mps", "mean wind, m/s"),
        Number("wind_error_mps", "its standard error, m/s"),
        Number("edr", "turbulence, m^(2/3)/s"),
        Number("load_factor_rms", "how the model was thrown about, gliding: root mean square of the load factor"),
    ]);

    /// <summary>One row a climb.</summary>
    public static readonly KeptTable Climb = new("climb", "one climb in lift",
    [
        Text("session", "the session's id"),
        Whole("place", "counted from 0 in the session"),
        Whole("flight", "place of its flight"),
        Number("seconds", "its length, s"),
        Number("climb_mps", "mean rate of climb, m/s"),
        Number("established_s", "how long the model was established in the lift, s; 0 where too short to tell"),
        Number("gain_mps", "rate at which energy height was gained meanwhile, m/s"),
        Number("airspeed_mps", "mean true airspeed, m/s"),
        Number("load_factor", "mean load factor"),
        Number("height_m", "mean height over ground, m"),
        Number("density_kg_m3", "density of the air, kg/m³"),
    ]);

    /// <summary>At most one row a session: what the pilot read that day. Since version 2.</summary>
    public static readonly KeptTable FieldReading = new("field_reading", "what the pilot noted of the field that day",
    [
        Text("session", "the session's id"),
        Text("field", "the field's name", empty: true),
        Number("wind_mps", "wind that the pilot read, m/s"),
        Number("height_m", "at which height over ground, m"),
    ]);

    /// <summary>In the order in which a session is sealed.</summary>
    public static readonly IReadOnlyList<KeptTable> All = [Session, Log, Drag, Flight, Climb, FieldReading];

    /// <summary>Tables with one row a session at most, which have no column <c>place</c>.</summary>
    public static bool IsSingle(KeptTable table) => table == Session || table == Drag || table == FieldReading;

    private static KeptColumn Text(string name, string meaning, bool empty = false) => new(name, CellKind.Text, empty, meaning);

    private static KeptColumn Whole(string name, string meaning) => new(name, CellKind.Whole, false, meaning);

    private static KeptColumn YesNo(string name, string meaning) => new(name, CellKind.YesNo, false, meaning);

    // Whatever is a number may be unknown.
    private static KeptColumn Number(string name, string meaning) => new(name, CellKind.Number, true, meaning);
}
