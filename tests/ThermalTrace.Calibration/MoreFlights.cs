using System.Globalization;
using System.Text;

namespace ThermalTrace.Calibration;

/// <summary>
/// What more flights bring: sessions of the same airframes with once, twice and four times the flights. The error's square is
/// taken as e² = f² + a²/n, with f the floor that no number of flights goes below.
/// </summary>
internal static class MoreFlights
{
    /// <summary>By how much the flights are multiplied.</summary>
    public static readonly int[] Times = [1, 2, 4];

    private const int Resamples = 400;

    /// <summary>Floor f and the part above it at once the flights, a/√n; least squares over the sizes, every square as sure as its own size.</summary>
    /// <param name="errorsMps">Root mean square errors at once, twice and four times the flights, m/s.</param>
    public static (double FloorMps, double AboveMps) Fit(IReadOnlyList<double> errorsMps)
    {
        double sw = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
        for (int i = 0; i < Times.Length; i++)
        {
            double x = 1.0 / Times[i], y = errorsMps[i] * errorsMps[i], w = 1 / (y * y);
            (sw, sx, sy, sxx, sxy) = (sw + w, sx + w * x, sy + w * y, sxx + w * x * x, sxy + w * x * y);
        }
        double slope = (sw * sxy - sx * sy) / (sw * sxx - sx * sx), level = (sy - slope * sx) / sw;
        if (level < 0)
        {
            (level, slope) = (0, sxy / sxx);
        }
        return (Math.Sqrt(level), Math.Sqrt(Math.Max(slope, 0)));
    }

    /// <summary>How much of the part above the floor is left with twice the flights; NaN where all is floor.</summary>
    public static double Left(IReadOnlyList<double> errorsMps, double floorMps) =>
        Math.Sqrt(Math.Max(errorsMps[1] * errorsMps[1] - floorMps * floorMps, 0) / (errorsMps[0] * errorsMps[0] - floorMps * floorMps));

    /// <summary>As Markdown; empty where no kind was flown in all sizes.</summary>
    public static string Write(IReadOnlyList<SessionResult> results)
    {
        StringBuilder rows = new();
        foreach (Scenario kind in Scenario.All)
        {
            SessionResult[][] seeds = [.. results.Where(r => r.Kind == kind.Name).GroupBy(r => r.Seed)
                .Select(g => Times.Select(t => g.FirstOrDefault(r => r.Flights == t * kind.Options.Flights)).OfType<SessionResult>()
                    .Where(r => !double.IsNaN(r.Score.PolarErrorMps) && !double.IsNaN(r.Bound.PolarErrorMps)).ToArray())
                .Where(g => g.Length == Times.Length).OrderBy(g => g[0].Seed)];
            if (seeds.Length < 2)
            {
                continue;
            }
            rows.Append(CultureInfo.InvariantCulture, $"| {kind.Name} | {seeds.Length} | {kind.Options.Flights} | {Cells(seeds, s => s.Score.PolarErrorMps)} | {Cells(seeds, s => s.Bound.PolarErrorMps)} |\n");
        }
        return rows.Length == 0 ? "" : "### Twice and four times the flights\n\nFloor f and the part above it by e² = f² + a²/n over the three sizes, the same airframes in each; ± by drawing the sessions anew. "
            + "`left` is what of the part above the floor twice the flights leave.\n\n| kind | sessions | flights | error m/s at 1, 2, 4 times | floor | left | bound m/s at 1, 2, 4 times | floor | left |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n"
            + rows.Append('\n');
    }

    private static string Cells(SessionResult[][] seeds, Func<SessionResult, double> error)
    {
        double[] Errors(IReadOnlyList<SessionResult[]> of) => [.. Enumerable.Range(0, Times.Length).Select(i => Score.RootMeanSquare(of.Select(s => error(s[i]))))];
        double[] errors = Errors(seeds);
        double floor = Fit(errors).FloorMps;
        List<double> floors = [], left = [];
        Random random = new(1);
        for (int r = 0; r < Resamples; r++)
        {
            double[] again = Errors([.. Enumerable.Range(0, seeds.Length).Select(_ => seeds[random.Next(seeds.Length)])]);
            floors.Add(Fit(again).FloorMps);
            left.Add(Left(again, floors[^1]));
        }
        return $"{string.Join(", ", errors.Select(e => Figures.Text(e, "0.0000")))} | {Figures.Text(floor, "0.0000")} ± {Figures.Text(Spread(floors), "0.0000")} | {Figures.Text(Left(errors, floor), "0.00")} ± {Figures.Text(Spread(left), "0.00")}";
    }

    private static double Spread(List<double> values)
    {
        double[] known = [.. Figures.Known(values).Where(double.IsFinite)];
        double mean = Score.Mean(known);
        return Math.Sqrt(Score.Mean(known.Select(v => (v - mean) * (v - mean))));
    }
}
