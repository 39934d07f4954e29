using ThermalTrace.Decisions;
using ThermalTrace.Learning;
using ThermalTrace.Polars;
using ThermalTrace.Sessions;
using ThermalTrace.Simulation;
using DecidedTrip = ThermalTrace.Decisions.RoundTrip;

namespace ThermalTrace.Calibration;

/// <summary>What a season's first sessions are good for: polar, and the loss of what is suggested over a grid of conditions, m/s.</summary>
internal sealed record SeasonScore(Season Season, int Sessions, double SinkErrorMps, double SinkCoverage, double SinkWidthMps, double LossMps, double NeverMps, double AlwaysMps,
    double WindRuleMps, double RoundTripCoverage, LearnedPart Learned)
{
    public static readonly double[] Winds = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10], Lifts = [0.3, 0.6, 1, 1.5, 2, 3, 4], Edrs = [0.01, 0.05, 0.1, 0.2, 0.3, 0.4];

    // The simulator's thermals: 15 m at 50 m, wider with height.
    private static double RadiusM(double heightM) => 15 * (0.75 + 0.25 * Math.Clamp(heightM / 50, 0, 5));
    private const int Draws = 200;

    public static SeasonScore Of(Season season, Airframe airframe, IReadOnlyList<SeasonSession> sessions, double heightM)
    {
        TrueAirframe truth = season.Truth;
        SeasonModel model = SeasonModel.Tune(airframe, sessions, seed: 1);
        model = model with { Learned = model.Learn(seed: 1, CancellationToken.None) };
        Option[] options = [.. truth.BallastsG.Select((b, k) => new Option(b, (airframe.UnballastedMassG + b) / 1000, k, true))];
        (CurveMaker maker, double[][] draws) = model.Curves(options, 2, Draws);
        DrawnOptions drawn = new(options, airframe.UnballastedMassG / 1000, maker, draws, Draws);
        int n = options.Length;
        double square = 0, inside = 0, width = 0, points = 0;
        for (int k = 0; k < n; k++)
        {
            double slow = truth.SpeedsMps(k).SlowestMps;
            for (double v = 1.1 * slow; v <= 2.2 * slow; v += 0.05 * slow)
            {
                Band band = Band.Of(Enumerable.Range(0, Draws).Select(d => drawn.Level(k, d).At(v)));
                double sink = truth.SinkMps(k, v);
                (square, width, points) = (square + (band.Value - sink) * (band.Value - sink), width + band.High - band.Low, points + 1);
                inside += band.Low <= sink && sink <= band.High ? 1 : 0;
            }
        }
        List<(double Wind, double[] True)> grid = [];
        double loss = 0, held = 0, trips = 0;
        foreach (double edr in Edrs)
        {
            foreach (double lift in Lifts)
            {
                double[] climbs = [.. Enumerable.Range(0, n).Select(k => truth.ClimbMps(k, lift, RadiusM(heightM), edr))];
                ClimbCurve[,] circles = new ClimbCurve[n, Draws];
                for (int d = 0; d < Draws; d++)
                {
                    Lift air = model.Habits[d * model.Habits.Count / Draws].At(heightM, edr, 0);
                    for (int k = 0; k < n; k++)
                    {
                        circles[k, d] = drawn.Climb(k, d, air);
                    }
                }
                foreach (double wind in Winds)
                {
                    double[] cores = [.. options.Select(o => lift * model.Gain(o.MassKg, edr, wind, lift))];
                    double[] real = [.. climbs.Select((c, k) => truth.RoundTripMps(k, c, wind))];
                    double[][] trip = [.. Enumerable.Range(0, n).Select(k => Enumerable.Range(0, Draws)
                        .Select(d => DecidedTrip.For(drawn.Level(k, d), circles[k, d].At(cores[k]).ClimbMps, wind, 0)?.ClimbMps ?? double.NaN).ToArray())];
                    if (real.Any(double.IsInfinity) || trip.Any(t => t.Any(double.IsNaN)))
                    {
                        continue;
                    }
                    double[] mean = [.. trip.Select(t => t.Average())];
                    loss += real.Max() - real[Array.IndexOf(mean, mean.Max())];
                    grid.Add((wind, real));
                    for (int k = 0; k < n; k++)
                    {
                        Band band = Band.Of(trip[k]);
                        held += band.Low <= real[k] && real[k] <= band.High ? 1 : 0;
                        trips++;
                    }
                }
            }
        }
        return new SeasonScore(season, sessions.Count, Math.Sqrt(square / points), inside / points, width / points, loss / grid.Count,
            grid.Average(g => g.True.Max() - g.True[0]), grid.Average(g => g.True.Max() - g.True[^1]), BestWindRule(grid, n), held / trips, model.Learned);
    }

    /// <summary>Loss of the best rule that goes by the wind alone, its thresholds chosen knowing the truth: for every wind the option best on average, which no thresholds beat.</summary>
    private static double BestWindRule(List<(double Wind, double[] True)> grid, int options) =>
        grid.GroupBy(g => g.Wind).Sum(g => Enumerable.Range(0, options).Min(k => g.Sum(p => p.True.Max() - p.True[k]))) / grid.Count;
}
