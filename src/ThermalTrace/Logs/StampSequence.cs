namespace ThermalTrace.Logs;

/// <summary>What can be told of stamps only once all are read: the order of day and month, and the clock's midnights.</summary>
internal static class StampSequence
{
    private const long HalfDayTicks = TimeSpan.TicksPerDay / 2;

    public static void Settle(long[] ticks, StampFormat format, DateCounts dates, int? offsetMinutes, int firstLine, ProblemList problems)
    {
        if (dates.Turned > 0 && dates.InOrder == 0)
        {
            // Dates that are none the other way round stand already.
            for (int i = 0; i < ticks.Length; i++)
            {
                ticks[i] = TimeText.TrySwapDayAndMonth(ticks[i], out long swapped) ? swapped : ticks[i];
            }
        }
        else if (dates.Swappable > 0 && dates.InOrder == 0)
        {
            problems.Add(firstLine, "the dates may be day or month first; read with the day first. Times within the day do not depend on it");
        }
        if (format.Kind is StampKind.Clock or StampKind.CompactClock)
        {
            PassMidnights(ticks, format.HasDate);
        }
        if (offsetMinutes is int minutes)
        {
            for (int i = 0; i < ticks.Length; i++)
            {
                ticks[i] += minutes * TimeSpan.TicksPerMinute;
            }
        }
    }

    /// <summary>A clock that falls by more than half a day has passed midnight; a date column may say so late or never.</summary>
    private static void PassMidnights(long[] ticks, bool hasDate)
    {
        long rollover = 0, lastDay = 0;
        for (int i = 0; i < ticks.Length; i++)
        {
            long day = hasDate ? ticks[i] - ticks[i] % TimeSpan.TicksPerDay : 0;
            if (i > 0)
            {
                if (rollover > 0 && day > lastDay)
                {
                    rollover = Math.Max(0, rollover - (day - lastDay));
                }
                if (ticks[i] + rollover < ticks[i - 1] - HalfDayTicks)
                {
                    rollover += TimeSpan.TicksPerDay;
                }
            }
            lastDay = day;
            ticks[i] += rollover;
        }
    }
}
