using System.Globalization;
using ThermalTrace.Units;

namespace ThermalTrace.Logs;

/// <summary>One column to be read.</summary>
/// <param name="Index">Its place in a row.</param>
/// <param name="Header">Its name as the file has it.</param>
/// <param name="Quantity">What it measures.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Down">True where it counts downwards, as sink rate does.</param>
/// <param name="Letters">True where it holds the hemisphere letters of the quantity's own column.</param>
internal sealed record PlannedColumn(int Index, string Header, Quantity Quantity, LogUnit Unit, bool Down, bool Letters = false);

/// <summary>Which columns of a delimited log are read, and as what.</summary>
internal sealed record ColumnPlan(PlannedColumn Stamp, PlannedColumn? Date, StampFormat Stamps, IReadOnlyList<PlannedColumn> Columns)
{
    private sealed record Candidate(int Index, string Header, Quantity Quantity, int Rank, LogUnit? Unit, bool Down, bool Noted);

    /// <summary>Decides on the columns from headers, units, notes and a sample of rows.</summary>
    /// <exception cref="UnusableInputException">There is no time, or nothing that says how high the model was.</exception>
    public static ColumnPlan Decide(Preamble table, string name, IReadOnlyList<ColumnNote> notes, ProblemList problems)
    {
        List<Candidate> candidates = Candidates(table, name, notes, problems, out List<string> ignored);
        (PlannedColumn stamp, PlannedColumn? date, StampFormat stamps) = DecideTime(table, name, candidates, problems);
        DropWhatIsNoPosition(table, candidates, ignored);
        DropSticks(table, candidates, ignored);
        BaroWithoutUnit(table, candidates);
        List<PlannedColumn> columns = [];
        foreach (IGrouping<Quantity, Candidate> group in candidates
            .Where(c => c.Quantity is not (Quantity.Time or Quantity.Date or Quantity.Clock or Quantity.Ignore))
            .Where(c => c.Index != stamp.Index && c.Index != date?.Index)
            .GroupBy(c => c.Quantity).OrderBy(g => g.Key))
        {
            // The best-named column that holds anything; then the first.
            List<Candidate> ranked = [.. group.OrderByDescending(c => c.Noted).ThenByDescending(c => Filled(table, c.Index) > 0).ThenBy(c => c.Rank).ThenBy(c => c.Index)];
            Candidate chosen = ranked[0];
            if (columns.Exists(c => c.Index == chosen.Index))
            {
                continue;
            }
            foreach (Candidate other in ranked.Skip(1).Where(o => !columns.Exists(c => c.Index == o.Index)))
            {
                problems.Add(table.HeaderLine, $"column \"{ProblemText(other.Header)}\" was not used: {Quantities.WordsFor(group.Key)} is read from \"{ProblemText(chosen.Header)}\"");
            }
            if (chosen.Rank >= 2)
            {
                problems.Add(table.HeaderLine, $"column \"{ProblemText(chosen.Header)}\" is taken for {Quantities.WordsFor(group.Key)}; columns.csv can say otherwise");
            }
            LogUnit unit = UnitGuess.For(chosen.Quantity, chosen.Unit, chosen.Header, table, chosen.Index, problems);
            columns.Add(new PlannedColumn(chosen.Index, chosen.Header, chosen.Quantity, unit, chosen.Down));
        }
        if (columns.Exists(c => c.Quantity == Quantity.Latitude) && columns.Exists(c => c.Quantity == Quantity.Longitude))
        {
            columns.RemoveAll(c => c.Quantity == Quantity.Position);
        }
        else if (columns.Exists(c => c.Quantity == Quantity.Position))
        {
            columns.RemoveAll(c => c.Quantity is Quantity.Latitude or Quantity.Longitude);
        }
        else if (columns.Exists(c => c.Quantity == Quantity.Latitude) != columns.Exists(c => c.Quantity == Quantity.Longitude))
        {
            PlannedColumn alone = columns.Find(c => c.Quantity is Quantity.Latitude or Quantity.Longitude)!;
            problems.Add(table.HeaderLine, $"column \"{ProblemText(alone.Header)}\" was not used: a position needs latitude and longitude");
            columns.Remove(alone);
        }
        AddHemispheres(table, columns, ignored);
        if (ignored.Count > 0)
        {
            const int named = 12;
            string more = ignored.Count > named ? $" and {Words.Count(ignored.Count - named, "more")}" : "";
            problems.Add(table.HeaderLine, $"{Words.Count(ignored.Count, "column")} not understood and left out: {string.Join(", ", ignored.Take(named).Select(h => "\"" + ProblemText(h) + "\""))}{more}; columns.csv can say what they are");
        }
        if (!columns.Exists(c => c.Quantity is Quantity.Altitude or Quantity.Pressure or Quantity.GpsAltitude))
        {
            throw new UnusableInputException($"{name}:{table.HeaderLine}: no column says how high the model was; looked for altitude, pressure or GPS altitude, found {Found(table.Headers)}. columns.csv can say what a column is");
        }
        return new ColumnPlan(stamp, date, stamps, columns);
    }

    /// <summary>Columns that hold nothing but N and S, or E and W, belong to a coordinate, whatever their names.</summary>
    private static void AddHemispheres(Preamble table, List<PlannedColumn> columns, List<string> ignored)
    {
        foreach ((Quantity quantity, string letters) in new[] { (Quantity.Latitude, "NS"), (Quantity.Longitude, "EW") })
        {
            for (int i = 0; i < table.Headers.Count && columns.Exists(c => c.Quantity == quantity); i++)
            {
                List<byte[]> fields = Fields(table, i).FindAll(f => !NumberText.IsMissing(f));
                if (fields.Count > 0 && !columns.Exists(c => c.Index == i) && fields.TrueForAll(f => NumberText.Trim(f) is [byte letter] && letters.Contains((char)(letter & ~32), StringComparison.Ordinal)))
                {
                    columns.Add(new PlannedColumn(i, table.Headers[i], quantity, UnitWords.None, false, Letters: true));
                    ignored.Remove(table.Headers[i]);
                    break;
                }
            }
        }
    }

    /// <summary>"GPS" and "fix" name a position or a receiver's state: the values tell.</summary>
    private static void DropWhatIsNoPosition(Preamble table, List<Candidate> candidates, List<string> ignored)
    {
        foreach (Candidate candidate in candidates.Where(c => c.Quantity == Quantity.Position && !c.Noted).ToArray())
        {
            List<byte[]> fields = Fields(table, candidate.Index).FindAll(f => !NumberText.IsMissing(f));
            if (fields.Count > 0 && fields.Count(f => PositionText.TryPair(f, out _, out _)) < fields.Count / 2.0)
            {
                candidates.Remove(candidate);
                ignored.Add(candidate.Header);
            }
        }
    }

    /// <summary>Beside a rudder or aileron stick, "Ele" is the elevator's.</summary>
    private static void DropSticks(Preamble table, List<Candidate> candidates, List<string> ignored)
    {
        if (table.Headers.Any(h => h is "Rud" or "Ail" or "Rudder" or "Aileron"))
        {
            ignored.AddRange(candidates.Where(c => c.Header == "Ele" && !c.Noted).Select(c => c.Header));
            candidates.RemoveAll(c => c.Header == "Ele" && !c.Noted);
        }
    }

    /// <summary>A "baro" without a unit is an altitude or a pressure: the values tell.</summary>
    private static void BaroWithoutUnit(Preamble table, List<Candidate> candidates)
    {
        foreach (Candidate altitude in candidates.Where(c => c.Quantity == Quantity.Altitude && c.Unit is null && !c.Noted).ToArray())
        {
            Candidate? pressure = candidates.Find(c => c.Index == altitude.Index && c.Quantity == Quantity.Pressure);
            if (pressure is not null)
            {
                candidates.Remove(UnitGuess.LooksLikePressure(table, altitude.Index) ? altitude : pressure);
            }
        }
    }

    /// <summary>Untrusted text, made short and printable for a message.</summary>
    public static string ProblemText(string text) => ProblemList.Quote(System.Text.Encoding.UTF8.GetBytes(text));

    private static string Found(IReadOnlyList<string> headers)
    {
        const int named = 12;
        return string.Join(", ", headers.Take(named).Select(h => "\"" + ProblemText(h) + "\"")) + (headers.Count > named ? $" and {headers.Count - named:N0} more" : "");
    }

    private static List<Candidate> Candidates(Preamble table, string name, IReadOnlyList<ColumnNote> notes, ProblemList problems, out List<string> ignored)
    {
        List<Candidate> candidates = [];
        ignored = [];
        HashSet<ColumnNote> used = [];
        for (int i = 0; i < table.Headers.Count; i++)
        {
            string header = table.Headers[i];
            ColumnHeader read = ColumnHeader.Read(header, i < table.Units.Count ? table.Units[i] : "");
            ColumnNote? note = NoteFor(notes, name, header);
            if (note is not null)
            {
                used.Add(note);
                if (note.Quantity == Quantity.Ignore)
                {
                    continue;
                }
                string unitText = note.Unit ?? read.UnitText;
                LogUnit? unit = unitText.Length == 0 ? null : Quantities.FindUnit(unitText, note.Quantity);
                if (unit is null && note.Unit is { Length: > 0 })
                {
                    throw new UnusableInputException($"columns.csv:{note.Line}: unit \"{ProblemText(note.Unit)}\" is not understood for {Quantities.WordsFor(note.Quantity)}; expected one of {UnitWords.Examples(Quantities.DimensionOf(note.Quantity))}");
                }
                candidates.Add(new Candidate(i, header, note.Quantity, 0, unit, false, true));
                continue;
            }
            if (read.Meanings.Count == 0)
            {
                if (header.Length > 0)
                {
                    ignored.Add(header);
                }
                continue;
            }
            bool any = false;
            foreach (HeaderMeaning meaning in read.Meanings)
            {
                string unitText = read.UnitText.Length > 0 ? read.UnitText : meaning.Unit ?? "";
                LogUnit? unit = unitText.Length == 0 ? null : Quantities.FindUnit(unitText, meaning.Quantity);
                if (unitText.Length == 0 || unit is not null)
                {
                    candidates.Add(new Candidate(i, header, meaning.Quantity, meaning.Rank, unit, meaning.Down, false));
                    any = true;
                }
            }
            // "Altitude [hPa]" is a pressure whatever its name says.
            if (!any && UnitWords.Find(read.UnitText, Dimension.Pressure) is LogUnit pressure && read.Meanings.Any(m => m.Quantity is Quantity.Altitude))
            {
                candidates.Add(new Candidate(i, header, Quantity.Pressure, 1, pressure, false, false));
                any = true;
            }
            if (!any)
            {
                Quantity quantity = read.Meanings[0].Quantity;
                problems.Add(table.HeaderLine, $"column \"{ProblemText(header)}\" was not used: the unit \"{ProblemText(read.UnitText)}\" is not understood for {Quantities.WordsFor(quantity)}; expected one of {UnitWords.Examples(Quantities.DimensionOf(quantity))}. columns.csv can say what it is");
            }
        }
        foreach (ColumnNote note in notes.Where(n => n.Log is not null && IsFor(n, name) && !used.Contains(n)))
        {
            problems.Add(0, $"columns.csv:{note.Line}: this log has no column \"{ProblemText(note.Column)}\"");
        }
        return candidates;
    }

    private static ColumnNote? NoteFor(IReadOnlyList<ColumnNote> notes, string name, string header)
    {
        ColumnNote? Best(Func<ColumnNote, bool> same) => notes.Where(n => IsFor(n, name) && same(n)).OrderBy(n => n.Log is null).ThenByDescending(n => n.Line).FirstOrDefault();
        return Best(n => n.Column.Trim() == header) ?? Best(n => string.Equals(n.Column.Trim(), header, StringComparison.OrdinalIgnoreCase));
    }

    private static bool IsFor(ColumnNote note, string name) =>
        note.Log is null || string.Equals(note.Log, System.IO.Path.GetFileName(name), StringComparison.Ordinal) || string.Equals(note.Log, name, StringComparison.Ordinal);

    private static (PlannedColumn Stamp, PlannedColumn? Date, StampFormat Format) DecideTime(Preamble table, string name, List<Candidate> candidates, ProblemList problems)
    {
        Candidate? date = candidates.Where(c => c.Quantity == Quantity.Date).OrderByDescending(c => c.Noted).ThenBy(c => c.Rank).ThenBy(c => c.Index).FirstOrDefault();
        List<byte[]> dates = date is null ? [] : Fields(table, date.Index);
        bool datesReadable = dates.Count(d => TimeText.TryDate(NumberText.Trim(d), DateOrder.DayMonthYear, out _, out _) || TimeText.TryDate(NumberText.Trim(d), DateOrder.MonthDayYear, out _, out _)) > dates.Count / 2;
        (Candidate Column, StampFormat Format, string? Assumed, int Distinct)? best = null;
        IEnumerable<Candidate> stamps = candidates.Where(c => c.Quantity is Quantity.Time or Quantity.Clock or Quantity.Date)
            .OrderByDescending(c => c.Noted).ThenBy(c => c.Rank).ThenBy(c => c.Index);
        foreach (Candidate candidate in stamps)
        {
            List<byte[]> sample = Fields(table, candidate.Index);
            LogUnit? unit = candidate.Unit?.Dimension == Dimension.Time ? candidate.Unit : null;
            bool withDate = datesReadable && date!.Index != candidate.Index;
            StampFormat? format = StampFormat.Decide(unit, candidate.Quantity == Quantity.Clock, sample, withDate ? dates : [], out string? assumed);
            if (format is null || candidate.Quantity == Quantity.Date && format.Kind != StampKind.DateTime)
            {
                continue;
            }
            int distinct = sample.Select(Convert.ToHexString).Distinct().Count();
            // The finer stamps win: whole seconds beside milliseconds tell less.
            if (best is null || !best.Value.Column.Noted && distinct > best.Value.Distinct * 1.2)
            {
                best = (candidate, format, assumed, distinct);
            }
        }
        if (best is null)
        {
            string seen = candidates.Find(c => c.Quantity is Quantity.Time or Quantity.Clock) is Candidate c
                ? $"; column \"{ProblemText(c.Header)}\" holds {Example(Fields(table, c.Index))}"
                : "";
            throw new UnusableInputException(table.Sample.Count == 0
                ? $"{name}: there is no row below the header in line {table.HeaderLine.ToString(CultureInfo.InvariantCulture)}"
                : $"{name}:{table.HeaderLine}: no column says when; looked for seconds, a clock, a date and clock, or ISO 8601 stamps, found {Found(table.Headers)}{seen}. columns.csv can say which column is the time");
        }
        if (best.Value.Assumed is string assumedUnit)
        {
            problems.Add(table.HeaderLine, $"column \"{ProblemText(best.Value.Column.Header)}\" names no unit; taken as {assumedUnit}, from the size of its steps");
        }
        Candidate column = best.Value.Column;
        bool useDate = best.Value.Format.Kind is StampKind.Clock or StampKind.CompactClock && best.Value.Format.HasDate;
        return (new PlannedColumn(column.Index, column.Header, Quantity.Time, UnitWords.None, false),
            useDate ? new PlannedColumn(date!.Index, date.Header, Quantity.Date, UnitWords.None, false) : null, best.Value.Format);
    }

    private static string Example(List<byte[]> fields) => fields.Count == 0 ? "nothing" : "\"" + ProblemList.Quote(fields[0]) + "\"";

    private static int Filled(Preamble table, int index) => table.Sample.Count(r => index < r.Length && !NumberText.IsMissing(r[index]));

    private static List<byte[]> Fields(Preamble table, int index) => [.. table.Sample.Where(r => index < r.Length).Select(r => r[index])];
}
