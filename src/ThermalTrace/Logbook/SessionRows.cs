using System.Buffers;
using System.Security.Cryptography;
using ThermalTrace.Learning;
using ThermalTrace.Reports;

namespace ThermalTrace.Logbook;

/// <summary>A session as rows of the <see cref="KeptTables"/>: one list for each table, in their order.</summary>
/// <param name="Id">The session's.</param>
/// <param name="Rows">Of each table.</param>
/// <param name="Checksums">Of each row.</param>
internal sealed record SessionRows(string Id, IReadOnlyList<IReadOnlyList<Cell[]>> Rows, IReadOnlyList<IReadOnlyList<byte[]>> Checksums)
{
    private const int SessionAt = 0, LogAt = 1, DragAt = 2, FlightAt = 3, ClimbAt = 4, ReadingAt = 5;

    /// <summary>Makes rows of a session.</summary>
    public static SessionRows Of(LogbookSession s)
    {
        (SessionEvidence e, ConditionsEntry c, AirframeEntry a, DragBasis? b) = (s.Evidence, s.Conditions, s.Airframe, s.Evidence.Basis);
        Cell id = Cell.Of(s.Id);
        Cell[] session =
        [
            id, Cell.Of(a.Name), Cell.Of(LogbookSession.KeyOf(a.Name)), Cell.Of(a.WingSpanMm), Cell.Of(a.WingAreaDm2), Cell.Of(a.UnballastedMassG),
            Cell.Of(a.MaxFlyingMassG), Cell.Of(OrEmpty(a.Launch)), Cell.Of(e.Date), Cell.Of(e.Field?.LatitudeDeg), Cell.Of(e.Field?.LongitudeDeg), Cell.Of(s.Measure),
            Cell.Of(c.WindMps), Cell.Of(c.WindMpsLow), Cell.Of(c.WindMpsHigh), Cell.Of(c.LiftMps), Cell.Of(c.LiftMpsLow), Cell.Of(c.LiftMpsHigh),
            Cell.Of(c.ThermalRadiusM), Cell.Of(c.ThermalRadiusMLow), Cell.Of(c.ThermalRadiusMHigh), Cell.Of(c.Edr), Cell.Of(c.AirSinkMps),
            Cell.Of(s.BestBallastG), Cell.Of(s.Verdict), Cell.Of(s.Why), Cell.Of(s.Program), Cell.Of(s.AddedAt), Cell.Of(s.ChangedAt),
        ];
        Cell[] drag =
        [
            id, Cell.Of(e.Format), Cell.Of(e.Terms), Cell.Of(e.Information), Cell.Of(e.Score), Cell.Of(e.PriorMean), Cell.Of(e.PriorSd),
            Cell.Of(e.Rows), Cell.Of(e.Widening), Cell.Of(e.BallastsG), Cell.Of(b is not null), Cell.Of(b?.AreaM2), Cell.Of(b?.AspectRatio), Cell.Of(b?.ChordM),
            Cell.Of(b?.ReferenceReynolds), Cell.Of(b?.Cd0), Cell.Of(b?.ReynoldsExponent), Cell.Of(b?.ProfileRise), Cell.Of(b?.LeastDragCl),
            Cell.Of(b?.InverseSpanEfficiency), Cell.Of(b?.StallRise),
        ];
        return Of(s.Id,
        [
            [session],
            [.. s.Logs.Select((l, i) => new[] { id, Cell.Of(i), Cell.Of(l.File), Cell.Of(l.Sha256), Cell.Of(l.Rows) })],
            [drag],
            [
                .. e.Flights.Select((f, i) => new[]
                {
                    id, Cell.Of(i), Cell.Of(f.Log), Cell.Of(f.Number), Cell.Of(f.BallastG), Cell.Of(f.MassKg), Cell.Of(f.CgMm), Cell.Of(f.Counts), Cell.Of(f.Spoiled),
                    Cell.Of(f.LaunchHeightM), Cell.Of(f.AloftS), Cell.Of(f.GlideS), Cell.Of(f.GlideWayM), Cell.Of(f.WindMps), Cell.Of(f.WindErrorMps), Cell.Of(f.Edr),
                    Cell.Of(f.LoadFactorRms),
                }),
            ],
            [
                .. e.Climbs.Select((k, i) => new[]
                {
                    id, Cell.Of(i), Cell.Of(k.Flight), Cell.Of(k.Seconds), Cell.Of(k.ClimbMps), Cell.Of(k.EstablishedS), Cell.Of(k.GainMps), Cell.Of(k.AirspeedMps),
                    Cell.Of(k.LoadFactor), Cell.Of(k.HeightM), Cell.Of(k.DensityKgM3),
                }),
            ],
            s.Reading is { } r ? [[id, Cell.Of(OrEmpty(r.Field)), Cell.Of(r.WindMps), Cell.Of(r.HeightM)]] : [],
        ]);
    }

    /// <summary>Adds the checksums.</summary>
    public static SessionRows Of(string id, IReadOnlyList<IReadOnlyList<Cell[]>> rows)
    {
        ArrayBufferWriter<byte> buffer = new(16_384);
        return new SessionRows(id, rows, [.. KeptTables.All.Select((table, t) => rows[t].Select(row => table.Checksum(row, buffer)).ToArray())]);
    }

    /// <summary>Makes a session of rows.</summary>
    /// <exception cref="InvalidDataException">A row is missing or not what it should be.</exception>
    public LogbookSession ToSession()
    {
        Cell[] s = Single(SessionAt);
        return new LogbookSession
        {
            Id = s[0].Text,
            Airframe = new AirframeEntry(s[1].Text, s[3].Number, s[4].Number, s[5].Number, s[6].NumberOrNull, s[7].TextOrNull),
            Measure = s[11].Text,
            Conditions = new ConditionsEntry(s[12].NumberOrNull, s[15].NumberOrNull, s[18].NumberOrNull, s[21].NumberOrNull, s[22].NumberOrNull,
                s[16].NumberOrNull, s[17].NumberOrNull, s[19].NumberOrNull, s[20].NumberOrNull, s[13].NumberOrNull, s[14].NumberOrNull),
            BestBallastG = s[23].NumberOrNull,
            Verdict = s[24].Text,
            Why = s[25].Text,
            Program = s[26].Text,
            AddedAt = s[27].Text,
            ChangedAt = s[28].Text,
            Logs = [.. Rows[LogAt].Select(l => new KeptLog(l[2].Text, l[3].Text, l[4].Whole))],
            Evidence = ToEvidence(),
            Reading = Rows[ReadingAt] is [{ } r] ? new FieldReading(r[1].TextOrNull, r[2].NumberOrNull, r[3].NumberOrNull) : null,
        };
    }

    /// <summary>The evidence alone.</summary>
    /// <exception cref="InvalidDataException">A row is missing or not what it should be.</exception>
    public SessionEvidence ToEvidence()
    {
        Cell[] s = Single(SessionAt), d = Single(DragAt);
        IReadOnlyList<Cell[]> flights = Rows[FlightAt], climbs = Rows[ClimbAt];
        FlightFact[] flown = new FlightFact[flights.Count];
        for (int i = 0; i < flown.Length; i++)
        {
            Cell[] f = flights[i];
            flown[i] = new FlightFact
            {
                Log = f[2].Text,
                Number = f[3].Whole,
                BallastG = f[4].NumberOrNull,
                MassKg = f[5].Number,
                CgMm = f[6].NumberOrNull,
                Counts = f[7].Yes,
                Spoiled = f[8].Yes,
                LaunchHeightM = f[9].NumberOrNull,
                AloftS = f[10].Number,
                GlideS = f[11].Number,
                GlideWayM = f[12].NumberOrNull,
                WindMps = f[13].NumberOrNull,
                WindErrorMps = f[14].NumberOrNull,
                Edr = f[15].NumberOrNull,
                LoadFactorRms = f[16].NumberOrNull,
            };
        }
        ClimbFact[] climbed = new ClimbFact[climbs.Count];
        for (int i = 0; i < climbed.Length; i++)
        {
            Cell[] c = climbs[i];
            climbed[i] = new ClimbFact(c[2].Whole, c[3].Number, c[4].Number, c[5].Number, c[6].NumberOrNull, c[7].NumberOrNull, c[8].NumberOrNull, c[9].Number, c[10].Number);
        }
        return new SessionEvidence
        {
            Format = d[1].Text,
            Date = s[8].TextOrNull,
            Terms = d[2].Texts,
            Information = d[3].Numbers,
            Score = d[4].Numbers,
            PriorMean = d[5].Numbers,
            PriorSd = d[6].Numbers,
            Rows = d[7].Number,
            Widening = d[8].Number,
            BallastsG = d[9].Numbers,
            Basis = d[10].Yes
                ? new DragBasis(d[11].Number, d[12].Number, d[13].Number, d[14].Number, d[15].Number, d[16].Number, d[17].Number, d[18].Number, d[19].Number, d[20].Number)
                : null,
            Field = s[9].NumberOrNull is { } latitude && s[10].NumberOrNull is { } longitude ? new FieldPosition(latitude, longitude) : null,
            Flights = flown,
            Climbs = climbed,
        };
    }

    /// <summary>
    /// The session's seal: SHA-256 over the checksums of all its rows and how many each table has, so that a row that is gone is
    /// missed as surely as one that was changed.
    /// </summary>
    public byte[] Seal()
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        foreach (IReadOnlyList<byte[]> table in Checksums)
        {
            hash.AppendData(BitConverter.IsLittleEndian ? BitConverter.GetBytes(table.Count) : [.. BitConverter.GetBytes(table.Count).Reverse()]);
            foreach (byte[] checksum in table)
            {
                hash.AppendData(checksum);
            }
        }
        return hash.GetHashAndReset();
    }

    // A table of text knows one kind of nothing.
    private static string? OrEmpty(string? text) => string.IsNullOrEmpty(text) ? null : text;

    /// <summary>How many rows it has.</summary>
    public int Count => Rows.Sum(t => t.Count);

    private Cell[] Single(int table) => Rows[table] is [{ } row] ? row
        : throw new InvalidDataException($"{Rows[table].Count} rows in {KeptTables.All[table].Name}, expected one");
}
