using System.Globalization;
using System.Text;
using static ThermalTrace.Calibration.Figures;

namespace ThermalTrace.Calibration;

/// <summary>What each part of the account is good for, as Markdown: the figures without it and their change from the full account, session by session.</summary>
internal static class PartsTables
{
    private const int Largest = 4; // parts named for each kind

    /// <summary>All tables.</summary>
    public static string Write(IReadOnlyList<PartsResult> results)
    {
        if (results.Count == 0)
        {
            return "";
        }
        StringBuilder text = new();
        text.Append(CultureInfo.InvariantCulture, $"{results.Count} sessions of {results.Select(r => r.Kind).Distinct().Count()} kinds, seeds {results.Min(r => r.Seed)} to {results.Max(r => r.Seed)}; ");
        text.Append(CultureInfo.InvariantCulture, $"debrief {typeof(Debrief).Assembly.GetName().Version?.ToString(3)}. ± is one standard error.\n\n");

        text.Append("### Sink bands\n\n| switched off | width m/s | change % | of the width's square % | coverage | change | error m/s | change |\n| --- | --- | --- | --- | --- | --- | --- | --- |\n");
        Row("nothing: the full account", r => r.Sink);
        for (int p = 0; p < Part.All.Count; p++)
        {
            int part = p;
            Row(Part.All[p].Name, r => r.SinkWithout[part]);
        }
        void Row(string name, Func<PartsResult, SinkFigures> of) => text.Append(CultureInfo.InvariantCulture,
            $"| {name} | {Averaged(results.Select(r => of(r).WidthMps))} | {Change(results, r => of(r).WidthMps, r => r.Sink.WidthMps)} | {Text(SquareShare(results, of), "0")} | {Averaged(results.Select(r => of(r).Coverage))} | {Averaged(results.Select(r => of(r).Coverage - r.Sink.Coverage), "+0.000;-0.000")} | {Rms(results.Select(r => of(r).ErrorMps))} | {RmsChange(results, r => of(r).ErrorMps, r => r.Sink.ErrorMps)} |\n");

        text.Append("\n### Where it counts most\n\n| kind | sessions | width m/s | what narrows it most, switched off: of the width's square % |\n| --- | --- | --- | --- |\n");
        foreach (string kind in Scenario.All.Select(s => s.Name).Where(k => results.Any(r => r.Kind == k)))
        {
            PartsResult[] own = [.. results.Where(r => r.Kind == kind)];
            IEnumerable<(string Name, double Share)> parts = Part.All.SkipLast(1).Select((part, p) => (Part: part, Share: SquareShare(own, r => r.SinkWithout[p])))
                .Where(s => s.Part.Spread).OrderByDescending(s => s.Share).Take(Largest).Select(s => (s.Part.Name, s.Share));
            text.Append(CultureInfo.InvariantCulture, $"| {kind} | {own.Length} | {Text(Score.Mean(own.Select(r => r.Sink.WidthMps)), "0.000")} | {string.Join("; ", parts.Select(s => $"{s.Name} {Text(s.Share, "0")}"))} |\n");
        }

        text.Append("\n### Round-trip climb\n\n| taken as known | width m/s | change % | width of differences m/s | change % | coverage | change | error m/s | change |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- |\n");
        Trip("nothing: the full account", r => r.Trip);
        for (int p = 0; p < TripPart.All.Count; p++)
        {
            int part = p;
            Trip(TripPart.All[p].Name, r => r.TripWithout[part]);
        }
        void Trip(string name, Func<PartsResult, TripFigures> of) => text.Append(CultureInfo.InvariantCulture,
            $"| {name} | {Averaged(results.Select(r => of(r).WidthMps))} | {Change(results, r => of(r).WidthMps, r => r.Trip.WidthMps)} | {Averaged(results.Select(r => of(r).BetweenMps), "0.0000")} | {Change(results, r => of(r).BetweenMps, r => r.Trip.BetweenMps)} | {Averaged(results.Select(r => of(r).Coverage))} | {Averaged(results.Select(r => of(r).Coverage - r.Trip.Coverage), "+0.000;-0.000")} | {Rms(results.Select(r => of(r).ErrorMps))} | {RmsChange(results, r => of(r).ErrorMps, r => r.Trip.ErrorMps)} |\n");
        return text.Append('\n').ToString();
    }

    /// <summary>Change as a share of the full account's mean, %; its error by the scatter of the sessions' changes.</summary>
    private static string Change(IReadOnlyList<PartsResult> results, Func<PartsResult, double> without, Func<PartsResult, double> full)
    {
        double mean = Score.Mean(results.Select(full));
        return Averaged(results.Select(r => 100 * (without(r) - full(r)) / mean), "+0.0;-0.0");
    }

    /// <summary>Change of a root mean square, m/s; its error by the scatter of what each session adds to it, to first order.</summary>
    private static string RmsChange(IReadOnlyList<PartsResult> results, Func<PartsResult, double> without, Func<PartsResult, double> full)
    {
        double a = Score.RootMeanSquare(results.Select(without)), b = Score.RootMeanSquare(results.Select(full));
        double[] parts = Known(results.Select(r => without(r) * without(r) / (2 * a) - full(r) * full(r) / (2 * b)));
        return parts.Length == 0 ? "–" : $"{Text(a - b, "+0.0000;-0.0000")} ± {Text(ErrorOfMean(parts), "0.0000")}";
    }

    private static double SquareShare(IReadOnlyList<PartsResult> results, Func<PartsResult, SinkFigures> without)
    {
        double ratio = Score.Mean(results.Select(r => without(r).WidthMps)) / Score.Mean(results.Select(r => r.Sink.WidthMps));
        return 100 * (1 - ratio * ratio);
    }
}
