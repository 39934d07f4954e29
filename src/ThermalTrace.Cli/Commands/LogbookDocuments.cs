using ThermalTrace.Reports;

namespace ThermalTrace.Cli.Commands;

// Documents of `logbook … --json`, besides `show` and `export`, which write the exchange form.

/// <summary>Of <c>logbook add</c>. What is new, unchanged, replaced, kept_later or refused.</summary>
internal sealed record LogbookAddDocument(string Schema, string Logbook, IReadOnlyList<AddedSession> Sessions, IReadOnlyList<UnusableSource> Unusable);

internal sealed record AddedSession(string From, string Id, string What, IReadOnlyList<string> Notes);

internal sealed record UnusableSource(string From, string Why);

/// <summary>Of <c>logbook list</c>.</summary>
internal sealed record LogbookListDocument(string Schema, string Logbook, IReadOnlyList<LogbookListEntry> Sessions);

internal sealed record LogbookListEntry(string Id, string? Date, string? Airframe, int? Flights, IReadOnlyList<double> BallastsG, ConditionsEntry? Conditions,
    string? Measure, double? BestBallastG, string? Verdict, string? Field, double? WindReadMps, double? WindReadHeightM, string? AddedAt, string? ChangedAt, IReadOnlyList<string> Damage);

/// <summary>Of <c>logbook remove</c>.</summary>
internal sealed record LogbookRemoveDocument(string Schema, string Logbook, IReadOnlyList<string> Removed);

/// <summary>Of <c>logbook verify</c>.</summary>
internal sealed record LogbookVerifyDocument(string Schema, string Logbook, int SchemaVersion, int Sessions, int Rows, IReadOnlyList<string> Damage);

/// <summary>Of <c>logbook export</c>.</summary>
internal sealed record LogbookExportDocument(string Schema, string Logbook, string Folder, int Sessions, IReadOnlyList<string> Files, IReadOnlyList<string> LeftOut);
