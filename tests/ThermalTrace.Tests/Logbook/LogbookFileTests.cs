using System.Collections;
using System.Globalization;
using System.Reflection;
using System.Text.Json;
using ThermalTrace.Learning;
using ThermalTrace.Logbook;
using ThermalTrace.Reports;
using ThermalTrace.Tests.Cli;
using ThermalTrace.Units;

namespace ThermalTrace.Tests.Logbook;

public sealed class LogbookFileTests : IDisposable
{
    private readonly TempFolder _folder = new();

    private string FilePath => Path.Combine(_folder.Root, "season.sqlite");

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void ASession_ComesBackBitForBit()
    {
        LogbookSession session = MadeUpSession.Of(1);
        session = session with
        {
            Evidence = session.Evidence with { Score = [-0.0, double.Epsilon, double.MaxValue, -double.MaxValue, Math.PI, 0.1 + 0.2] },
            Reading = new FieldReading("Larkmoor", 2.5, 2),
        };
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        AddOutcome outcome = logbook.Add(session);
        Assert.Equal((Added.New, session.Id), (outcome.What, outcome.Id));
        Assert.Equal(MadeUpSession.Text(session), MadeUpSession.Text(logbook.Find(session.Id)));
        SeasonSession season = Assert.Single(logbook.Sessions("Tansy 150"));
        Assert.Equal(session.Id, season.Id);
        Assert.Equal(MadeUpSession.Text(session.Evidence), MadeUpSession.Text(season.Evidence));
    }

    // Whatever is put into the evidence later must be kept too: members are found and filled by reflection.
    [Fact]
    public void EveryMemberOfASession_IsKept()
    {
        int count = 0;
        LogbookSession filled = (LogbookSession)Filled(typeof(LogbookSession), ref count);
        Assert.True(count > 100);
        LogbookSession back = SessionRows.Of(filled).ToSession();
        Assert.Equal(JsonSerializer.Serialize(filled), JsonSerializer.Serialize(back));
    }

    [Fact]
    public void NumbersThatAreNotKnown_StayUnknown()
    {
        LogbookSession session = MadeUpSession.Of(1);
        FlightFact[] flights = [.. session.Evidence.Flights.Select(f => f with { CgMm = null, WindMps = null, AloftS = double.NaN })];
        session = session with { Evidence = session.Evidence with { Flights = flights, Field = null, Date = null }, BestBallastG = null };
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        logbook.Add(session);
        LogbookSession back = logbook.Find(session.Id);
        Assert.Null(back.BestBallastG);
        Assert.Null(back.Evidence.Field);
        Assert.Null(back.Evidence.Date);
        Assert.All(back.Evidence.Flights, f => Assert.True(f.CgMm is null && f.WindMps is null && double.IsNaN(f.AloftS)));
    }

    [Fact]
    public void TheSameSessionTwice_ChangesNothing()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        logbook.Add(MadeUpSession.Of(1));
        string before = logbook.DataHash("Tansy 150");
        // Later, and by another program: the same evidence all the same.
        AddOutcome again = logbook.Add(LogbookSession.Of(MadeUpSession.Document(1) with { Program = "thermaltrace 9.9.9" }, MadeUpSession.Noon.AddDays(3)));
        Assert.Equal(Added.Unchanged, again.What);
        Assert.Equal(before, logbook.DataHash("Tansy 150"));
        Assert.Single(logbook.List());
    }

    [Fact]
    public void ABallastPutRight_TakesThePlaceOfWhatWasThere_AndKeepsWhatWasNoted()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        LogbookSession first = MadeUpSession.Of(1) with { Reading = new FieldReading("Larkmoor", 2.5, 2) };
        logbook.Add(first);
        ResultsDocument document = MadeUpSession.Document(1);
        FlightFact[] flights = [.. document.Evidence.Flights.Select((f, i) => i == 0 ? f with { BallastG = 40, Counts = true } : f)];
        LogbookSession corrected = LogbookSession.Of(document with { Evidence = document.Evidence with { Flights = flights } }, MadeUpSession.Noon.AddDays(1));
        AddOutcome outcome = logbook.Add(corrected);
        Assert.Equal((Added.Replaced, first.Id), (outcome.What, outcome.Id));
        Assert.Contains("ballast was put right", Assert.Single(outcome.Sentences), StringComparison.Ordinal);
        LogbookSession now = logbook.Find(first.Id);
        Assert.Equal(40, now.Evidence.Flights[0].BallastG);
        Assert.Equal((first.AddedAt, corrected.ChangedAt, first.Reading), (now.AddedAt, now.ChangedAt, now.Reading));
        Assert.Empty(logbook.Verify().Damage);
    }

    [Fact]
    public void AReadingAlone_IsKeptWithTheSession()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        logbook.Add(MadeUpSession.Of(1));
        logbook.Add(MadeUpSession.Of(2));
        AddOutcome outcome = logbook.Add(MadeUpSession.Of(1) with { Reading = new FieldReading("Larkmoor", 2.5, 2) });
        Assert.Equal("what was noted at the field is kept with it", Assert.Single(outcome.Sentences));
        FieldDay day = Assert.Single(logbook.FieldDays());
        Assert.Equal(("Tansy 150", "2026-05-09", new FieldReading("Larkmoor", 2.5, 2)), (day.Airframe, day.Date, day.Reading));
        Assert.Equal(4.14, day.WindMps!.Value, 2);
    }

    [Fact]
    public void LogsThatAreInAnotherSession_AreRefused()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        LogbookSession first = MadeUpSession.Of(1);
        logbook.Add(first);
        AddOutcome more = logbook.Add(MadeUpSession.Of(1, logs: 3));
        Assert.Equal(Added.Refused, more.What);
        Assert.Contains($"log-01.csv, log-02.csv are already in session {first.Id} of 2026-05-09, with other logs beside; the flights would count twice", Assert.Single(more.Sentences), StringComparison.Ordinal);
        AddOutcome fewer = logbook.Add(MadeUpSession.Of(1, logs: 1));
        Assert.Equal(Added.Refused, fewer.What);
        AddOutcome renamed = logbook.Add(MadeUpSession.Of(1, airframe: "Tansy 160"));
        Assert.Equal(Added.Refused, renamed.What);
        Assert.Contains($"of the airframe \"Tansy 150\" and not \"Tansy 160\"", Assert.Single(renamed.Sentences), StringComparison.Ordinal);
        Assert.Equal(MadeUpSession.Text(first), MadeUpSession.Text(Assert.Single(logbook.List()).Session!));
        Assert.Empty(logbook.Verify().Damage);
    }

    [Fact]
    public void ALogEditedSince_IsToldApart()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        LogbookSession first = MadeUpSession.Of(1);
        logbook.Add(first);
        AddOutcome edited = logbook.Add(MadeUpSession.Of(2)); // same names, same day, other bytes
        Assert.Equal(Added.New, edited.What);
        Assert.NotEqual(first.Id, edited.Id);
        Assert.Contains($"session {first.Id} has a log log-01.csv of the same day (2026-05-09) with other bytes", Assert.Single(edited.Sentences), StringComparison.Ordinal);
        Assert.Contains($"thermaltrace logbook remove {first.Id}", edited.Sentences[0], StringComparison.Ordinal);
        Assert.Empty(logbook.Add(MadeUpSession.Of(3, date: "2026-05-10")).Sentences);
        Assert.Empty(logbook.Add(MadeUpSession.Of(4, airframe: "Sedge")).Sentences);
    }

    [Fact]
    public void WithoutADay_ALogIsToldApartByItsFlights()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        LogbookSession first = MadeUpSession.Of(1, date: null);
        logbook.Add(first);
        Assert.Empty(logbook.Add(MadeUpSession.Of(2, date: null)).Sentences);
        ResultsDocument document = MadeUpSession.Document(1, date: null);
        LogbookSession edited = LogbookSession.Of(document with { Logs = [.. document.Logs.Select(l => l with { Sha256 = MadeUpSession.Hash("edited " + l.File) })] }, MadeUpSession.Noon);
        Assert.Contains($"session {first.Id} has a log log-01.csv with the same flight in it", Assert.Single(logbook.Add(edited).Sentences), StringComparison.Ordinal);
    }

    [Fact]
    public void AnAirframe_IsKnownByItsName_WhateverItsCase()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        logbook.Add(MadeUpSession.Of(1, "Möwe 3", date: "2026-06-02"));
        logbook.Add(MadeUpSession.Of(2, "  MÖWE 3", date: "2026-06-01"));
        logbook.Add(MadeUpSession.Of(3, "Möwe 30"));
        Assert.Equal(["2026-06-01", "2026-06-02"], logbook.Sessions("möwe 3 ").Select(s => s.Evidence.Date!));
        Assert.Empty(logbook.Sessions("Mowe 3"));
    }

    [Fact]
    public void Removed_ASessionIsGone_AndCanBeAddedAgain()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        string[] ids = [.. Enumerable.Range(1, 4).Select(i => logbook.Add(MadeUpSession.Of(i)).Id)];
        Assert.Throws<UnusableInputException>(() => logbook.Remove([ids[0], "nothing"]));
        Assert.Equal(4, logbook.List().Count);
        Assert.Equal([ids[0], ids[2]], logbook.Remove([ids[0][..6], ids[2], ids[2]]));
        Assert.Equal(new[] { ids[1], ids[3] }.Order(), logbook.List().Select(s => s.Id).Order());
        Assert.Empty(logbook.Verify().Damage);
        Assert.Equal(Added.New, logbook.Add(MadeUpSession.Of(1)).What);
        Assert.Empty(logbook.Verify().Damage);
    }

    [Fact]
    public void AnIdThatIsTaken_GrowsByTwoDigits()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        LogbookSession session = MadeUpSession.Of(1);
        string whole = LogbookSession.IdOf(session.Airframe.Name, session.Logs);
        logbook.Add(MadeUpSession.Of(2));
        // Another session under the name that this one would get.
        using (Microsoft.Data.Sqlite.SqliteConnection database = Sql.Open(FilePath))
        {
            Sql.Run(database, $"PRAGMA foreign_keys = OFF; UPDATE session SET id = '{whole[..8]}'");
        }
        Assert.Equal(whole[..10], logbook.Add(session).Id);
        Assert.Throws<UnusableInputException>(() => logbook.Find(whole[..4]));
        Assert.Equal(whole[..10], logbook.Find(whole[..9]).Id);
    }

    [Fact]
    public void TheHashOfTheData_ChangesWithTheAirframesSessionsAlone()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        string none = logbook.DataHash("Tansy 150");
        logbook.Add(MadeUpSession.Of(1));
        string one = logbook.DataHash(" TANSY 150");
        logbook.Add(MadeUpSession.Of(2, "Sedge"));
        Assert.Equal(one, logbook.DataHash("Tansy 150"));
        string second = logbook.Add(MadeUpSession.Of(3)).Id;
        Assert.Equal(3, new HashSet<string> { none, one, logbook.DataHash("Tansy 150") }.Count);
        logbook.Remove([second]);
        Assert.Equal(one, logbook.DataHash("Tansy 150"));
    }

    [Fact]
    public void AModel_IsGivenBackForTheSessionsItWasTrainedOn()
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        KeptModel first = new("climb", "aa", "thermaltrace 1", [1, 2, 3]), second = new("climb", "bb", "thermaltrace 2", []);
        logbook.PutModel("Tansy", first);
        logbook.PutModel("Sedge", first);
        Assert.Equal(first.Content, logbook.GetModel("TANSY ", "climb", "aa")!.Content);
        Assert.Null(logbook.GetModel("Tansy", "climb", "bb"));
        Assert.Null(logbook.GetModel("Tansy", "glide", "aa"));
        logbook.PutModel("Tansy", second);
        Assert.Null(logbook.GetModel("Tansy", "climb", "aa"));
        Assert.Equal("thermaltrace 2", logbook.GetModel("Tansy", "climb", "bb")!.Program);
        Assert.Empty(logbook.Verify().Damage);
    }

    [Theory]
    [InlineData("=cmd|' /C calc'!A0")]
    [InlineData("'); DROP TABLE session;--")]
    [InlineData("\u202Egnp.exe \u200F مرحبا")]
    [InlineData("a\r\nb\tc \"d\" 'e' % _ ?")]
    [InlineData("🛩 Möwe")]
    public void ANameOfAnyKind_IsOnlyAName(string name)
    {
        using LogbookFile logbook = LogbookFile.OpenToWrite(FilePath);
        LogbookSession session = MadeUpSession.Of(1, name) with { Reading = new FieldReading(name, 1, 2), Why = name };
        session = session with { Logs = [session.Logs[0] with { File = name }, session.Logs[1]], Evidence = session.Evidence with { Flights = [], Climbs = [] } };
        logbook.Add(session);
        logbook.Add(MadeUpSession.Of(2));
        Assert.Equal(MadeUpSession.Text(session), MadeUpSession.Text(logbook.Find(session.Id)));
        Assert.Single(logbook.Sessions(name));
        Assert.Throws<UnusableInputException>(() => logbook.Find(name));
        Assert.Throws<UnusableInputException>(() => logbook.Remove([name]));
        Assert.Empty(logbook.Verify().Damage);
    }

    [Fact]
    public void WhatDoesNotHangTogether_IsRefusedWithASentence()
    {
        ResultsDocument good = MadeUpSession.Document(1);
        SessionEvidence e = good.Evidence;
        (string, ResultsDocument)[] bad =
        [
            ("its evidence is \"gaussian/1\", expected \"thermaltrace.evidence/2\"; debrief the session again", good with { Evidence = e with { Format = "gaussian/1" } }),
            ("there is no log in it", good with { Logs = [] }),
            ("expected SHA-256 in 64 hexadecimal digits", good with { Logs = [good.Logs[0] with { Sha256 = "abc" }] }),
            ("are one and the same log", good with { Logs = [good.Logs[0], good.Logs[1] with { Sha256 = good.Logs[0].Sha256 }] }),
            ("the airframe has no name", good with { Airframe = good.Airframe with { Name = "  " } }),
            ("the day is \"tomorrow\"", good with { Evidence = e with { Date = "tomorrow" } }),
            ("5 scores", good with { Evidence = e with { Score = [.. e.Score.Skip(1)] } }),
            ("35 numbers in their matrix", good with { Evidence = e with { Information = [.. e.Information.Skip(1)] } }),
            ("numbers that are none", good with { Evidence = e with { Widening = 0.5 } }),
            ("a climb belongs to flight 6 of 6", good with { Evidence = e with { Climbs = [e.Climbs[0] with { Flight = 6 }] } }),
            ("which is not among its logs", good with { Evidence = e with { Flights = [e.Flights[0] with { Log = "other.csv" }], Climbs = [] } }),
            ("not Unicode text", good with { Airframe = good.Airframe with { Name = "a\0b" } }),
        ];
        foreach ((string sentence, ResultsDocument document) in bad)
        {
            UnusableInputException refused = Assert.Throws<UnusableInputException>(() => LogbookSession.Of(document, MadeUpSession.Noon, name: "field/results.json"));
            Assert.StartsWith("field/results.json: ", refused.Message, StringComparison.Ordinal);
            Assert.Contains(sentence, refused.Message, StringComparison.Ordinal);
        }
    }

    private static object Filled(Type type, ref int count)
    {
        count++;
        if (Nullable.GetUnderlyingType(type) is { } inner)
        {
            return Filled(inner, ref count);
        }
        if (type == typeof(double))
        {
            return count + 1 / 3.0;
        }
        if (type == typeof(int))
        {
            return count;
        }
        if (type == typeof(bool))
        {
            return count % 2 == 0;
        }
        if (type == typeof(string))
        {
            return "text " + count.ToString(CultureInfo.InvariantCulture);
        }
        if (type.IsGenericType)
        {
            Type item = type.GetGenericArguments()[0];
            IList list = (IList)Activator.CreateInstance(typeof(List<>).MakeGenericType(item))!;
            for (int i = 0; i < 3; i++)
            {
                list.Add(Filled(item, ref count));
            }
            return list;
        }
        ConstructorInfo constructor = type.GetConstructors().OrderBy(c => c.GetParameters().Length).Last();
        List<object> arguments = [];
        foreach (ParameterInfo parameter in constructor.GetParameters())
        {
            arguments.Add(Filled(parameter.ParameterType, ref count));
        }
        object made = constructor.Invoke([.. arguments]);
        foreach (PropertyInfo property in type.GetProperties().Where(p => p.CanWrite && constructor.GetParameters().All(c => c.Name != p.Name)))
        {
            property.SetValue(made, Filled(property.PropertyType, ref count));
        }
        return made;
    }
}
