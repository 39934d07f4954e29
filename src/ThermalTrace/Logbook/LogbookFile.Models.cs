using System.Security.Cryptography;
using Microsoft.Data.Sqlite;
using ThermalTrace.Units;

namespace ThermalTrace.Logbook;

/// <summary>A model that was trained on the logbook.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="DataHash">Of the sessions that it was trained on: <see cref="LogbookFile.DataHash"/>.</param>
/// <param name="Program">That trained it.</param>
/// <param name="Content">Opaque.</param>
public sealed record KeptModel(string Kind, string DataHash, string Program, byte[] Content);

public sealed partial class LogbookFile
{
    private static readonly KeptTable ModelTable = new("model", "a trained model", []);

    /// <summary>A hash over everything that is kept of an airframe's sessions: where it has changed, what was learned is out of date.</summary>
    /// <exception cref="UnusableInputException">The logbook is damaged.</exception>
    public string DataHash(string airframeName) => Guarded(() =>
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        using SqliteCommand command = _connection.CreateCommand();
        command.CommandText = $"SELECT seal FROM seal {OfAirframe} ORDER BY session";
        command.Parameters.AddWithValue("$value", LogbookSession.KeyOf(airframeName));
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            hash.AppendData(reader.BytesAt(0));
        }
        return Convert.ToHexStringLower(hash.GetHashAndReset());
    });

    /// <summary>Keeps a model; one of each kind for an airframe, so that it takes the earlier one's place.</summary>
    /// <exception cref="UnusableInputException">The logbook cannot be written to.</exception>
    public void PutModel(string airframeName, KeptModel model) => Guarded(() =>
    {
        ArgumentNullException.ThrowIfNull(model);
        string key = LogbookSession.KeyOf(airframeName);
        using SqliteTransaction transaction = _connection.BeginTransaction(deferred: false);
        Execute(_connection, transaction, "INSERT OR REPLACE INTO model (airframe_key, kind, data_hash, program, content, checksum) VALUES ($key, $kind, $hash, $program, $content, $checksum)",
            ("$key", key), ("$kind", model.Kind), ("$hash", model.DataHash), ("$program", model.Program), ("$content", model.Content), ("$checksum", Checksum(key, model)));
        transaction.Commit();
        Settle();
        return true;
    });

    /// <summary>A model of an airframe; null where there is none, it is damaged, or it was trained on other sessions: then train anew.</summary>
    /// <exception cref="UnusableInputException">The logbook is damaged.</exception>
    public KeptModel? GetModel(string airframeName, string kind, string dataHash) =>
        Guarded(() => Version < 2 ? null : Models(LogbookSession.KeyOf(airframeName), kind).Where(m => m.Sound && m.Model.DataHash == dataHash).Select(m => m.Model).FirstOrDefault());

    private IEnumerable<(string Key, KeptModel Model, bool Sound)> Models(string? key, string? kind)
    {
        using SqliteCommand command = _connection.CreateCommand();
        command.CommandText = "SELECT airframe_key, kind, data_hash, program, content, checksum FROM model" + (key is null ? "" : " WHERE airframe_key = $key AND kind = $kind");
        if (key is not null)
        {
            command.Parameters.AddWithValue("$key", key);
            command.Parameters.AddWithValue("$kind", kind);
        }
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
        {
            string its = reader.TextAt(0);
            KeptModel model = new(reader.TextAt(1), reader.TextAt(2), reader.TextAt(3), reader.BytesAt(4));
            yield return (its, model, Checksum(its, model).AsSpan().SequenceEqual(reader.BytesAt(5)));
        }
    }

    private static byte[] Checksum(string key, KeptModel model) =>
        ModelTable.Checksum([Cell.Of(key), Cell.Of(model.Kind), Cell.Of(model.DataHash), Cell.Of(model.Program), Cell.Of(model.Content)]);
}
