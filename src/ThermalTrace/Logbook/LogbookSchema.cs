using Microsoft.Data.Sqlite;

namespace ThermalTrace.Logbook;

/// <summary>
/// The database's definition, version by version. What was released is never edited: a later version adds tables, so that the
/// rows that are there keep their checksums.
/// </summary>
internal static class LogbookSchema
{
    /// <summary>Marks the file as a logbook ("Ther").</summary>
    public const int ApplicationId = 0x54686572;

    /// <summary>The version that this program writes.</summary>
    public static int Current => Migrations.Length;

    private static readonly string[] Migrations =
    [
        // 1: sessions
        """
        CREATE TABLE session (
          id TEXT NOT NULL PRIMARY KEY, airframe TEXT NOT NULL, airframe_key TEXT NOT NULL, wing_span_mm REAL, wing_area_dm2 REAL, unballasted_mass_g REAL,
          max_flying_mass_g REAL, launch TEXT, date TEXT, latitude_deg REAL, longitude_deg REAL, measure TEXT NOT NULL,
          wind_mps REAL, wind_mps_low REAL, wind_mps_high REAL, lift_mps REAL, lift_mps_low REAL, lift_mps_high REAL,
          thermal_radius_m REAL, thermal_radius_m_low REAL, thermal_radius_m_high REAL, edr REAL, air_sink_mps REAL,
          best_ballast_g REAL, verdict TEXT NOT NULL, why TEXT NOT NULL, program TEXT NOT NULL, added_at TEXT NOT NULL, changed_at TEXT NOT NULL,
          checksum BLOB NOT NULL) STRICT;
        CREATE INDEX session_airframe ON session (airframe_key);
        CREATE TABLE log (
          session TEXT NOT NULL REFERENCES session (id) ON DELETE CASCADE, place INTEGER NOT NULL, file TEXT NOT NULL, sha256 TEXT NOT NULL, rows INTEGER NOT NULL,
          checksum BLOB NOT NULL, PRIMARY KEY (session, place)) STRICT, WITHOUT ROWID;
        CREATE UNIQUE INDEX log_sha256 ON log (sha256);
        CREATE INDEX log_file ON log (file);
        CREATE TABLE drag (
          session TEXT NOT NULL PRIMARY KEY REFERENCES session (id) ON DELETE CASCADE, format TEXT NOT NULL, terms TEXT NOT NULL,
          information BLOB NOT NULL, score BLOB NOT NULL, prior_mean BLOB NOT NULL, prior_sd BLOB NOT NULL, rows REAL, widening REAL, ballasts_g BLOB NOT NULL,
          has_basis INTEGER NOT NULL, area_m2 REAL, aspect_ratio REAL, chord_m REAL, reference_reynolds REAL, cd0 REAL, reynolds_exponent REAL,
          profile_rise REAL, least_drag_cl REAL, inverse_span_efficiency REAL, stall_rise REAL,
          checksum BLOB NOT NULL) STRICT;
        CREATE TABLE flight (
          session TEXT NOT NULL REFERENCES session (id) ON DELETE CASCADE, place INTEGER NOT NULL, log TEXT NOT NULL, number INTEGER NOT NULL,
          ballast_g REAL, mass_kg REAL, cg_mm REAL, counts INTEGER NOT NULL, spoiled INTEGER NOT NULL, launch_height_m REAL, aloft_s REAL, glide_s REAL,
          glide_way_m REAL, wind_mps REAL, wind_error_mps REAL, edr REAL, load_factor_rms REAL,
          checksum BLOB NOT NULL, PRIMARY KEY (session, place)) STRICT, WITHOUT ROWID;
        CREATE TABLE climb (
          session TEXT NOT NULL REFERENCES session (id) ON DELETE CASCADE, place INTEGER NOT NULL, flight INTEGER NOT NULL, seconds REAL, climb_mps REAL,
          established_s REAL, gain_mps REAL, airspeed_mps REAL, load_factor REAL, height_m REAL, density_kg_m3 REAL,
          checksum BLOB NOT NULL, PRIMARY KEY (session, place)) STRICT, WITHOUT ROWID;
        CREATE TABLE seal (
          session TEXT NOT NULL PRIMARY KEY, rows INTEGER NOT NULL, seal BLOB NOT NULL, checksum BLOB NOT NULL) STRICT, WITHOUT ROWID;
        CREATE TABLE total (
          id INTEGER NOT NULL PRIMARY KEY CHECK (id = 1), sessions INTEGER NOT NULL, seals BLOB NOT NULL, checksum BLOB NOT NULL) STRICT;
        """,
        // 2: what the pilot noted at the field; sessions in one piece; trained models
        """
        CREATE TABLE field_reading (
          session TEXT NOT NULL PRIMARY KEY REFERENCES session (id) ON DELETE CASCADE, field TEXT, wind_mps REAL, height_m REAL,
          checksum BLOB NOT NULL) STRICT, WITHOUT ROWID;
        CREATE TABLE packed (
          session TEXT NOT NULL PRIMARY KEY REFERENCES session (id) ON DELETE CASCADE, content BLOB NOT NULL, checksum BLOB NOT NULL) STRICT;
        CREATE TABLE model (
          airframe_key TEXT NOT NULL, kind TEXT NOT NULL, data_hash TEXT NOT NULL, program TEXT NOT NULL, content BLOB NOT NULL,
          checksum BLOB NOT NULL, PRIMARY KEY (airframe_key, kind)) STRICT;
        """,
    ];

    /// <summary>Brings a database up to a version, within the caller's transaction.</summary>
    /// <param name="connection">Open.</param>
    /// <param name="transaction">To work in.</param>
    /// <param name="from">Version that it has; 0 for an empty one.</param>
    /// <param name="to">Version to reach.</param>
    public static void Migrate(SqliteConnection connection, SqliteTransaction? transaction, int from, int to)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.Transaction = transaction;
        for (int version = from; version < to; version++)
        {
            command.CommandText = Migrations[version];
            command.ExecuteNonQuery();
        }
        if (from == 0)
        {
            Total empty = Total.Empty;
            empty.Write(connection, transaction);
        }
        command.CommandText = FormattableString.Invariant($"PRAGMA application_id = {ApplicationId}; PRAGMA user_version = {to}");
        command.ExecuteNonQuery();
    }

    /// <summary>What the database's own catalogue says, a line an object.</summary>
    public static IReadOnlyList<string> Definition(SqliteConnection connection)
    {
        using SqliteCommand command = connection.CreateCommand();
        command.CommandText = "SELECT type, name, tbl_name, sql FROM sqlite_schema ORDER BY type, name";
        using SqliteDataReader reader = command.ExecuteReader();
        List<string> lines = [];
        while (reader.Read())
        {
            lines.Add($"{reader.TextAt(0)} {reader.TextAt(1)} {reader.TextAt(2)} {(reader.IsDBNull(3) ? "" : reader.TextAt(3))}");
        }
        return lines;
    }

    /// <summary>The definition as it should be.</summary>
    public static IReadOnlyList<string> ExpectedDefinition(int version)
    {
        using SqliteConnection memory = new("Data Source=:memory:;Pooling=False");
        memory.Open();
        Migrate(memory, null, 0, version);
        return Definition(memory);
    }
}
