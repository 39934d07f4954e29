using System.Globalization;
using BenchmarkDotNet.Running;
using ThermalTrace.Benchmarks;

// scale [bare|import|debrief] [most rows]   growth with the number of rows
// profile                                   where the time of a whole debrief goes, stage by stage
// logbook                                   how adding to a logbook, reading it, tuning by it and asking it grow with its sessions
// pieces                                    how long a stock of 40 pieces takes, of many kinds of stock
// pages                                     how soon the page of the answer can be used after a debrief, and how soon a slider is answered; needs Chromium
// flights                                   how soon the list of 30 flights stands, and a boundary that was moved is seen anew
// ratios [LOGS ROWS MOST]                   the aims as ratios: import and a season beside the bare reader, memory, growth
// start PROGRAM EMPTY                       how long a published program takes to start beside an empty one
// write FILE ROWS                           the log itself, for a profiler to work on with scale-one JOB FILE
// anything else                             BenchmarkDotNet's own arguments
switch (args)
{
    case ["scale-one", string job, string file]:
        Scale.RunOne(job, file);
        return 0;
    case ["logbook"]:
        return LogbookGrowth.RunAll();
    case ["logbook-read", string file]:
        LogbookGrowth.Read(file);
        return 0;
    case ["logbook-tune", string file]:
        LogbookGrowth.Tune(file);
        return 0;
    case ["logbook-suggest", string file]:
        LogbookGrowth.Suggest(file);
        return 0;
    case ["logbook-write", string file]:
        LogbookGrowth.Write(file);
        return 0;
    case ["ratios", .. string[] sizes]:
        int[] given = [.. sizes.Select(n => int.Parse(n, CultureInfo.InvariantCulture))];
        return Ratios.RunAll(given.ElementAtOrDefault(0) is > 0 and int logs ? logs : 200, given.ElementAtOrDefault(1) is > 0 and int each ? each : 25_000,
            given.ElementAtOrDefault(2) is > 0 and int most ? most : 10_000_000);
    case ["ratio-import", string file]:
        Ratios.Import(file);
        return 0;
    case ["ratio-peak", string file]:
        Ratios.Peak(file);
        return 0;
    case ["ratio-season-bare", string season]:
        Ratios.SeasonBare(season);
        return 0;
    case ["ratio-season", string season]:
        Ratios.SeasonWhole(season);
        return 0;
    case ["start", string program, string empty]:
        return Ratios.Start(program, empty);
    case ["pieces"]:
        return PiecesTiming.RunAll();
    case ["pages"]:
        return await PagesTiming.RunAllAsync();
    case ["flights"]:
        return await FlightsTiming.RunAllAsync();
    case ["profile"]:
        return Profile.RunAll();
    case ["profile-one", string times]:
        Profile.RunOne(int.Parse(times, CultureInfo.InvariantCulture));
        return 0;
    case ["write", string path, string rows]:
        using (FileStream stream = File.Create(path))
        {
            EndlessLog.Write(stream, int.Parse(rows, CultureInfo.InvariantCulture));
        }
        return 0;
    case ["scale", .. string[] rest]:
        string? number = Array.Find(rest, word => char.IsAsciiDigit(word[0]));
        return Scale.RunAll(Array.Find(rest, word => word != number), number is null ? int.MaxValue : int.Parse(number, CultureInfo.InvariantCulture));
    default:
        BenchmarkSwitcher.FromAssembly(typeof(ImportBenchmarks).Assembly).Run(args);
        return 0;
}
