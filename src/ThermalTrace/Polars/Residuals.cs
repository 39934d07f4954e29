using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace ThermalTrace.Polars;

/// <summary>What the fit left over in a range of speeds.</summary>
/// <param name="LowMps">Airspeed in level flight at sea-level density, m/s.</param>
/// <param name="HighMps">m/s.</param>
/// <param name="Seconds">Gliding time in it.</param>
/// <param name="MeanWhitened">Mean of the whitened residuals: near nothing, give or take one over the root of their number.</param>
/// <param name="SpreadWhitened">Their root mean square: near one.</param>
/// <param name="SinkMps">Sink seen less sink of the curve, m/s.</param>
/// <param name="StandardErrorMps">Of that, were the model right.</param>
internal sealed record SpeedResidual(double LowMps, double HighMps, double Seconds, double MeanWhitened, double SpreadWhitened, double SinkMps, double StandardErrorMps);

/// <summary>What the fit left over in a flight.</summary>
/// <param name="Seconds">Gliding time.</param>
/// <param name="SpreadWhitened">Root mean square of the whitened residuals: near one.</param>
/// <param name="AirMps">Mean rise of the air that its glides met, m/s.</param>
/// <param name="StandardErrorMps">Of that.</param>
internal sealed record FlightResidual(double Seconds, double SpreadWhitened, double AirMps, double StandardErrorMps);

/// <summary>What the fit left over, by speed and by flight. docs/models/checks.md.</summary>
/// <param name="BySpeed">Slow to fast.</param>
/// <param name="ByFlight">In the order of the fit's flights; null for one without glides.</param>
/// <param name="Probability">Of residuals by speed at least this large, were the model right; NaN without.</param>
internal sealed record Residuals(IReadOnlyList<SpeedResidual> BySpeed, IReadOnlyList<FlightResidual?> ByFlight, double Probability)
{
    private const int MostBins = 8;
    private const double LeastBinS = 20;

    /// <summary>Looks at what a fit left over.</summary>
    public static Residuals Of(IReadOnlyList<GlideFlight> flights, PolarEstimate estimate, Planform planform)
    {
        DragTerms terms = estimate.Terms;
        EnergyRows?[] rows = [.. flights.Select(f => GlideRows.Build(f, terms, planform, estimate.Mean))];
        // A row's speed is that of level flight at its lift coefficient: what the polar is drawn over.
        double[]?[] speeds = [.. rows.Select((r, k) => r is null ? null : AddedColumns.LnCl(r).Select(x => planform.AirspeedMps(Math.Exp(x), flights[k].MassKg)).ToArray())];
        double[] edges = Edges([.. speeds.OfType<double[]>().SelectMany(v => v).Where(v => !double.IsNaN(v)).Order()], out int bins);
        int size = terms.Count + bins;
        int BinAt(double v) => double.IsNaN(v) ? -1 : Math.Clamp(Array.FindIndex(edges, e => v < e) - 1, -1, bins - 1);
        FlightEvidence all = FlightEvidence.None(size);
        double[] seconds = new double[bins], sum = new double[bins], square = new double[bins], number = new double[bins];
        FlightResidual?[] byFlight = new FlightResidual?[flights.Count];
        List<Action<KnownTerms>> later = [];
        for (int k = 0; k < rows.Length; k++)
        {
            if (rows[k] is not { } r || speeds[k] is not { } v)
            {
                continue;
            }
            int[] bin = [.. v.Select(BinAt)];
            EnergyRows asked = AddedColumns.With(r, [.. Enumerable.Range(0, bins).Select(b => (terms.Count + b, AddedColumns.RisingAir(r, t => bin[t] == b)))]);
            List<(int Row, double Residual, double East, double North)> whitened = [];
            int width = asked.Width, flight = k;
            all = all.Plus(FlightEvidence.Of(asked, estimate.Noise, size, (t, w) =>
                whitened.Add((t, w[0] - Along(asked, terms.Count, c => w[c], estimate.Mean), w[width - 2], w[width - 1]))), 1);
            (double east, double north) = WindError(whitened, r.WindInformation);
            double flightSquare = 0;
            foreach ((int t, double plain, double e, double n) in whitened)
            {
                double residual = plain - east * e - north * n;
                flightSquare += residual * residual;
                if (bin[t] >= 0)
                {
                    sum[bin[t]] += residual;
                    square[bin[t]] += residual * residual;
                    number[bin[t]]++;
                    seconds[bin[t]] += r.TimeS[t] - r.TimeS[t - 1];
                }
            }
            double spread = Math.Sqrt(flightSquare / Math.Max(whitened.Count, 1));
            later.Add(known => byFlight[flight] = Air(r, terms, known, estimate, (east, north), spread));
        }
        KnownTerms fitted = KnownTerms.From(terms, new FlightEvidence(all.Information.SubMatrix(0, terms.Count, 0, terms.Count), all.Score.SubVector(0, terms.Count), 0, 0));
        later.ForEach(action => action(fitted));
        Matrix<double> across = all.Information.SubMatrix(0, terms.Count, terms.Count, bins);
        Matrix<double> left = all.Information.SubMatrix(terms.Count, bins, terms.Count, bins) - across.TransposeThisAndMultiply(fitted.Factor.Solve(across));
        Vector<double> score = all.Score.SubVector(terms.Count, bins) - across.TransposeThisAndMultiply(fitted.Mean);
        List<SpeedResidual> bySpeed = [];
        for (int b = 0; b < bins; b++)
        {
            double weight = all.Information[terms.Count + b, terms.Count + b];
            bySpeed.Add(new SpeedResidual(edges[b], edges[b + 1], seconds[b], sum[b] / Math.Max(number[b], 1), Math.Sqrt(square[b] / Math.Max(number[b], 1)),
                -score[b] / weight, Math.Sqrt(Math.Max(left[b, b], 0)) / weight));
        }
        double probability = bins < 2 ? double.NaN : 1 - ChiSquared.CDF(bins, score.DotProduct(((left + left.Transpose()) * 0.5 + Matrix<double>.Build.DenseIdentity(bins) * 1e-9).Cholesky().Solve(score)));
        return new Residuals(bySpeed, byFlight, probability);
    }

    /// <summary>A row's columns times the coefficients of the terms; columns beyond the terms do not count.</summary>
    private static double Along(EnergyRows rows, int terms, Func<int, double> column, Vector<double> coefficients)
    {
        double total = 0;
        for (int j = 0; j < rows.Global.Length; j++)
        {
            total += rows.Global[j] < terms ? coefficients[rows.Global[j]] * column(1 + j) : 0;
        }
        return total;
    }

    /// <summary>The flight's wind error, by least squares against its prior.</summary>
    private static (double East, double North) WindError(List<(int Row, double Residual, double East, double North)> whitened, (double EastEast, double EastNorth, double NorthNorth) prior)
    {
        double ee = prior.EastEast, en = prior.EastNorth, nn = prior.NorthNorth, e = 0, n = 0;
        foreach ((_, double residual, double east, double north) in whitened)
        {
            (ee, en, nn) = (ee + east * east, en + east * north, nn + north * north);
            (e, n) = (e + east * residual, n + north * residual);
        }
        double determinant = Math.Max(ee * nn - en * en, 1e-300);
        return ((nn * e - en * n) / determinant, (ee * n - en * e) / determinant);
    }

    /// <summary>The air's mean rise over a flight's glides: what energy height did beyond what drag explains.</summary>
    private static FlightResidual Air(EnergyRows rows, DragTerms terms, KnownTerms known, PolarEstimate estimate, (double East, double North) wind, double spread)
    {
        double[] change = new double[rows.Width];
        double seconds = 0;
        int stretches = 0;
        for (int t = 1; t < rows.TimeS.Length; t++)
        {
            if (rows.Fresh[t])
            {
                continue;
            }
            stretches += t == 1 || rows.Fresh[t - 1] ? 1 : 0;
            seconds += rows.TimeS[t] - rows.TimeS[t - 1];
            for (int c = 0; c < change.Length; c++)
            {
                change[c] += rows.Columns[t * rows.Width + c] - rows.Columns[(t - 1) * rows.Width + c];
            }
        }
        Vector<double> weights = Vector<double>.Build.Dense(terms.Count);
        for (int j = 0; j < rows.Global.Length; j++)
        {
            weights[rows.Global[j]] += change[1 + j];
        }
        double rise = change[0] - weights.DotProduct(known.Mean) - wind.East * change[^2] - wind.North * change[^1];
        (double ee, double en, double nn) = rows.WindInformation;
        double windVariance = (nn * change[^2] * change[^2] - 2 * en * change[^2] * change[^1] + ee * change[^1] * change[^1]) / (ee * nn - en * en);
        double variance = known.Variance(weights) + windVariance + 2 * stretches * estimate.Noise.NoiseM * estimate.Noise.NoiseM;
        return new FlightResidual(seconds, spread, rise / Math.Max(seconds, 1), Math.Sqrt(variance) / Math.Max(seconds, 1));
    }

    /// <summary>Edges of bins of a round width over the middle of the speeds; fewer where little was flown.</summary>
    private static double[] Edges(double[] sorted, out int bins)
    {
        bins = 0;
        if (sorted.Length == 0)
        {
            return [];
        }
        double low = sorted[(int)(0.02 * (sorted.Length - 1))], high = sorted[(int)(0.98 * (sorted.Length - 1))];
        double width = new[] { 0.5, 1, 2, 4, 8 }.First(w => Math.Ceiling(high / w) - Math.Floor(low / w) <= MostBins || w == 8);
        List<double> edges = [Math.Floor(low / width) * width];
        for (double edge = edges[0] + width; edge < high + width; edge += width)
        {
            // A row is about a second: a bin with too few joins the next.
            double from = edges[^1];
            if (sorted.Count(v => v >= from && v < edge) >= LeastBinS)
            {
                edges.Add(edge);
            }
        }
        bins = edges.Count - 1;
        return [.. edges];
    }
}
