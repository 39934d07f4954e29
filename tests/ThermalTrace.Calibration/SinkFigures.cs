using ThermalTrace.Decisions;
using ThermalTrace.Polars;

namespace ThermalTrace.Calibration;

/// <summary>How close a fit's sink polars came over the middle 90 % of the speeds truly flown, each ballast weighing the same.</summary>
/// <param name="ErrorMps">Root mean square, m/s.</param>
/// <param name="BiasMps">Found less true, m/s.</param>
/// <param name="Coverage">Share of the 90 % bands that hold the truth.</param>
/// <param name="WidthMps">Their mean width, m/s.</param>
internal sealed record SinkFigures(double ErrorMps, double BiasMps, double Coverage, double WidthMps)
{
    private const int Speeds = 33;

    /// <summary>All NaN where there are no draws.</summary>
    public static SinkFigures Of(Truth truth, IReadOnlyList<Option> options, CurveMaker maker, double[] mean, IEnumerable<double[]> draws)
    {
        double[][] spread = [.. draws];
        List<double> errors = [], biases = [], covers = [], widths = [];
        foreach ((string key, double[] flown) in truth.Flown.Where(_ => spread.Length > 0))
        {
            int k = Drag.IndexOf(options, Truth.Grams(key));
            double[] speeds = [.. Enumerable.Range(0, Speeds).Select(i => flown[0] + (flown[1] - flown[0]) * i / (Speeds - 1))];
            double[] actual = [.. speeds.Select(v => truth.SinkMps(key, v))];
            double[][][] factors = maker.Factors(speeds, options[k].MassKg, k);
            double[] found = CurveMaker.Sinks(factors, speeds, mean);
            double[][] drawn = [.. spread.Select(d => CurveMaker.Sinks(factors, speeds, d))];
            int[] inside = [.. Enumerable.Range(0, Speeds).Where(i => !double.IsNaN(actual[i]))];
            Band[] bands = [.. inside.Select(i => Band.Of(drawn.Select(s => s[i])))];
            errors.Add(Score.RootMeanSquare(inside.Select(i => found[i] - actual[i])));
            biases.Add(Score.Mean(inside.Select(i => found[i] - actual[i])));
            covers.Add(Score.Mean(inside.Zip(bands, (i, band) => band.Low <= actual[i] && actual[i] <= band.High ? 1.0 : 0)));
            widths.Add(Score.Mean(bands.Select(b => b.High - b.Low)));
        }
        return new SinkFigures(Score.RootMeanSquare(errors), Score.Mean(biases), Score.Mean(covers), Score.Mean(widths));
    }
}
