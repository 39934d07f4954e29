using System.Globalization;
using System.Text;

namespace ThermalTrace.Calibration;

/// <summary>How often an option said to be best with some probability is.</summary>
internal static class Reliability
{
    private const int Fifths = 5;

    /// <summary>A fifth of the probabilities that can be said.</summary>
    /// <param name="Options">How many were said.</param>
    /// <param name="Said">Their mean.</param>
    /// <param name="Seen">Share of them that is truly best.</param>
    /// <param name="StandardError">Of that share, binomial.</param>
    public sealed record Fifth(int Options, double Said, double Seen, double StandardError)
    {
        /// <summary>Right within 0.07 or two standard errors; so is one in which nothing was said.</summary>
        public bool Holds => !(Math.Abs(Seen - Said) > Math.Max(0.07, 2 * StandardError));
    }

    /// <summary>The fifths of 0 to 1, in order.</summary>
    public static IReadOnlyList<Fifth> Of(IEnumerable<SessionResult> results)
    {
        List<(double Said, double Best)>[] fifths = [.. Enumerable.Range(0, Fifths).Select(_ => new List<(double, double)>())];
        foreach (Score score in results.Select(r => r.Score))
        {
            for (int k = 0; k < score.ProbabilitiesBest.Count; k++)
            {
                fifths[Math.Min((int)(score.ProbabilitiesBest[k] * Fifths), Fifths - 1)].Add((score.ProbabilitiesBest[k], score.TrulyBest[k]));
            }
        }
        return [.. fifths.Select(f => new Fifth(f.Count, Score.Mean(f.Select(o => o.Said)), Score.Mean(f.Select(o => o.Best)), Figures.BinomialError([.. f.Select(o => o.Best)])))];
    }

    /// <summary>As Markdown.</summary>
    public static string Write(IReadOnlyList<SessionResult> results)
    {
        StringBuilder text = new("### Probability of being best: said and seen\n\n| said | options | mean said | truly best | ± 2 standard errors | holds |\n| --- | --- | --- | --- | --- | --- |\n");
        IReadOnlyList<Fifth> fifths = Of(results);
        for (int f = 0; f < fifths.Count; f++)
        {
            text.Append(CultureInfo.InvariantCulture, $"| {f / (double)Fifths:0.0}–{(f + 1) / (double)Fifths:0.0} | {fifths[f].Options} | {Figures.Text(fifths[f].Said, "0.000")} | {Figures.Text(fifths[f].Seen, "0.000")} | {Figures.Text(2 * fifths[f].StandardError, "0.000")} | {(fifths[f].Options == 0 ? "–" : fifths[f].Holds ? "yes" : "no")} |\n");
        }
        return text.Append('\n').ToString();
    }
}
