using System.Diagnostics;
using System.Globalization;
using ThermalTrace.Ballast;
using ThermalTrace.Sessions;

namespace ThermalTrace.Benchmarks;

/// <summary>Time to choose from 40 pieces, over stocks of different kinds and masses asked for.</summary>
internal static class PiecesTiming
{
    private const int Seed = 40, Stocks = 20, Pieces = 40, Ways = 5;
    private static readonly (string Name, int Kinds, bool OneDiameter, double TubeMm, double StepG, double Times)[] Sorts =
    [
        ("8 kinds of 5, one diameter", 8, true, 150, 0.1, 1),
        ("8 kinds of 5, many diameters", 8, false, 150, 0.1, 1),
        ("40 kinds, one diameter", 40, true, 150, 0.1, 1),
        ("40 kinds, many diameters", 40, false, 150, 0.1, 1),
        ("40 kinds weighed to the milligram", 40, false, 150, 0.001, 1),
        ("40 kinds, tube of 600 mm, four times the mass", 40, false, 600, 0.1, 4),
        ("5 kinds of 8 of one density", -5, true, 150, 1, 1),
        ("40 kinds, no tube", 40, false, double.NaN, 0.1, 1),
    ];

    public static int RunAll()
    {
        Console.WriteLine($"{Stocks} stocks of {Pieces} pieces of each sort, seed {Seed}; 20, 45, 80 and 120 g asked of each; milliseconds for the best way, and for the best with four others");
        Console.WriteLine("| stock | best: median | 95 % | most | with others: median | 95 % | most | not proved |");
        Console.WriteLine("| --- | --- | --- | --- | --- | --- | --- | --- |");
        foreach ((string name, int kinds, bool oneDiameter, double tubeMm, double stepG, double times) in Sorts)
        {
            Random random = new(Seed);
            List<double> one = [], several = [];
            int unproved = 0;
            for (int i = 0; i < Stocks; i++)
            {
                Airframe airframe = Model(random, kinds, oneDiameter, tubeMm, stepG);
                foreach (double asked in (double[])[20, 45, 80, 120])
                {
                    one.Add(Milliseconds(airframe, asked * times, 1, ref unproved));
                    several.Add(Milliseconds(airframe, asked * times, Ways, ref unproved));
                }
            }
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"| {name} | {Row(one)} | {Row(several)} | {unproved} |"));
        }
        return 0;
    }

    private static double Milliseconds(Airframe airframe, double askedG, int ways, ref int unproved)
    {
        long start = Stopwatch.GetTimestamp();
        PieceAnswer answer = new PieceFitter(airframe, -0.5, 1000).Fit(askedG, ways);
        double took = Stopwatch.GetElapsedTime(start).TotalMilliseconds;
        unproved += answer.Proved ? 0 : 1;
        return took;
    }

    private static Airframe Model(Random random, int kinds, bool oneDiameter, double tubeMm, double stepG)
    {
        List<BallastPiece> stock = [];
        for (int k = 0; k < Math.Abs(kinds); k++)
        {
            double density = kinds < 0 ? 8.49e-3 : ((double[])[8.49e-3, 11.34e-3, 17.5e-3, 19.25e-3])[random.Next(4)], diameter = oneDiameter ? 9.5 : 6 + 0.5 * random.Next(8);
            double area = Math.PI / 4 * diameter * diameter, length = Math.Round(3 + 22 * random.NextDouble(), 1), mass = Math.Max(Math.Round(density * area * length / stepG), 1) * stepG;
            // Of one density to the last digit: nothing but the number of pieces is left to decide.
            stock.Add(new BallastPiece($"kind {k + 1}", "metal", mass, diameter, kinds < 0 ? mass / (density * area) : length, Pieces / Math.Abs(kinds)));
        }
        return new Airframe
        {
            Name = "Teasel",
            WingSpanMm = 1500,
            WingAreaDm2 = 22,
            UnballastedMassG = 262,
            CgMm = 72,
            BallastTube = double.IsNaN(tubeMm) ? null : new BallastTube(10, tubeMm, 70),
            BallastStock = stock,
        };
    }

    private static string Row(List<double> times)
    {
        times.Sort();
        return string.Create(CultureInfo.InvariantCulture, $"{times[times.Count / 2]:0.0} | {times[(int)(0.95 * (times.Count - 1))]:0.0} | {times[^1]:0}");
    }
}
