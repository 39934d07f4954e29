using System.Globalization;
using ScottPlot;
using ThermalTrace.Reports.Page;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports;

/// <summary>How the model's tuning went, as part of a page: best glide and least sink over the sessions, with bands, and the same as a table.</summary>
public static class TuningPictures
{
    private const int WidthPx = 560, HeightPx = 300;
    private const double LabelPx = 86; // "30 Sep 2026" and room beside it

    /// <summary>Markup that is safe to put into a page as it stands: two figures, what changed, and a table behind a fold.</summary>
    public static string Write(SeasonHistoryDocument history)
    {
        ArgumentNullException.ThrowIfNull(history);
        if (history.Points.Count < 2)
        {
            return Html.Of($"<p class=\"note\">{Nothing(history)}</p>").Source;
        }
        string[] changes = [.. history.Changes.Select(c => SuggestionWords.Changed(c) + ".")];
        Html changed = changes.Length == 0
            ? Html.Of($"<p>{(history.Points[^1].Sessions < 2 ? "" : "No change of the model shows in its drag: no repair, dirt or dent that these sessions could tell.")}</p>")
            : Html.Of($"<h4>What changed</h4><ul class=\"changes\">{Html.Join(changes.Select(c => Html.Of($"<li>{Words.Tame(c)}</li>")))}</ul>");
        return Html.Of($"""
            <div class="tuning">
            <p>{Now(history)}</p>
            <div class="grid two">
            {Figure(history, "tuning-glide", "best glide", "best glide ratio", "", p => p.BestGlide, turned: false)}
            {Figure(history, "tuning-sink", "least sink", "least sink, m/s", " m/s", p => p.LeastSinkMps, turned: true)}
            </div>
            {changed}
            {(history.SessionsWithoutDrag > 0 ? Html.Of($"<p class=\"remark\">{Words.Plural(history.SessionsWithoutDrag, "session")} without airspeed {(history.SessionsWithoutDrag == 1 ? "tells" : "tell")} nothing of drag and {(history.SessionsWithoutDrag == 1 ? "is" : "are")} left out here.</p>") : Html.Empty)}
            <details><summary>The same as a table</summary>{Table(history)}</details>
            </div>
            """).Source;
    }

    private static string Nothing(SeasonHistoryDocument history) => history.SessionsWithoutDrag == 0
        ? "There is nothing to draw yet: no session of this model is kept, so all that is known of it is its geometry."
        : $"There is nothing to draw yet: {Words.Plural(history.SessionsWithoutDrag, "session")} {(history.SessionsWithoutDrag == 1 ? "is" : "are")} kept, and none had airspeed, which it takes to tell drag.";

    /// <summary>What is known now against geometry alone, in two sentences.</summary>
    private static string Now(SeasonHistoryDocument history)
    {
        Interval share = history.Points[^1].SinkShare;
        string sinks = !Estimate.Known(share) ? ""
            : share.Low > 0 ? $" It sinks {Share(share, 1)} % more than its geometry lets expect, at the speed of the best glide."
            : share.High < 0 ? $" It sinks {Share(share, -1)} % less than its geometry lets expect, at the speed of the best glide."
            : $" Whether it sinks more than its geometry lets expect is not settled: {Share(share, 1)} % more at the speed of the best glide.";
        return $"After {Words.Plural(history.Points[^1].Sessions, "session")}, with {Words.Ballast(history.BallastG)}: best glide {Estimate.Plain(history.Points[^1].BestGlide)}, least sink {Estimate.Plain(history.Points[^1].LeastSinkMps)} m/s.{sinks}";
    }

    private static string Share(Interval share, int sign)
    {
        (double low, double high) = sign > 0 ? (share.Low!.Value, share.High!.Value) : (-share.High!.Value, -share.Low!.Value);
        return $"{Parts.Number(100 * sign * share.Value!.Value, 0)} ({Parts.Number(100 * low, 0)} to {Parts.Number(100 * high, 0)})";
    }

    private static Html Figure(SeasonHistoryDocument history, string id, string name, string axis, string unit, Func<TuningPointEntry, Interval> of, bool turned)
    {
        TuningPointEntry[] points = [.. history.Points.Where(p => Estimate.Known(of(p)))];
        TuningPointEntry[] tuned = [.. points.Where(p => p.Sessions > 0)];
        (double[] at, (double, string)[] ticks, string along) = Along(tuned);
        double span = Math.Max(at[^1] - at[0], 1), before = at[0] - 0.14 * span;
        Interval predicted = of(points[0]);
        double low = points.Min(p => of(p).Low!.Value), high = points.Max(p => of(p).High!.Value), margin = 0.08 * (high - low);
        AxisRange x = new(before - 0.07 * span, at[^1] + 0.05 * span);
        AxisRange y = turned ? new AxisRange(high + margin, low - margin) : new AxisRange(low - margin, high + margin);
        using var picture = new Picture(WidthPx, HeightPx, x, y);
        picture.Axes(along, ticks, axis, Picture.Ticks(y, 5));
        Ink ink = Inks.Series[0];
        foreach (double change in Changes(history, tuned, at))
        {
            picture.Line([change, change], [y.Low, y.High], Inks.Caution, 1.6f, "2 4");
        }
        picture.Line([before, x.High], [predicted.Value!.Value, predicted.Value!.Value], Inks.Text, 1.4f, "6 4");
        picture.Line([before, before], [predicted.Low!.Value, predicted.High!.Value], Inks.Text, 3);
        picture.Points([before], [predicted.Value!.Value], Inks.Text, MarkerShape.FilledDiamond, 11);
        picture.Band(at, [.. tuned.Select(p => of(p).Low!.Value)], [.. tuned.Select(p => of(p).High!.Value)], ink, 0.2);
        if (tuned.Length == 1)
        {
            // A band of one session has no width.
            picture.Line([at[0], at[0]], [of(tuned[0]).Low!.Value, of(tuned[0]).High!.Value], ink, 3);
        }
        picture.Line(at, [.. tuned.Select(p => of(p).Value!.Value)], ink, 2.2f);
        picture.Points(at, [.. tuned.Select(p => of(p).Value!.Value)], ink, MarkerShape.FilledCircle, tuned.Length > 25 ? 6 : 9);
        string words = $"From geometry alone: {Estimate.Plain(predicted)}{unit}. " + $"After {Words.Plural(tuned[^1].Sessions, "session")}: {Estimate.Plain(of(tuned[^1]))}{unit}.";
        List<(Html, Html)> key =
        [
            (SeriesKey.Line(Inks.Text, "6 4"), Html.Of($"from geometry alone")),
            (SeriesKey.Line(ink), Html.Of($"tuned by the sessions so far; shaded, 90&nbsp;% sure")),
        ];
        if (history.Changes.Count > 0)
        {
            key.Add((SeriesKey.Line(Inks.Caution, "2 4"), Html.Of($"the model changed")));
        }
        return Parts.Figure(picture.Svg(id, $"{Words.Capital(name)} as known after each session", words),
            Html.Of($"{Words.Capital(name)} in still air with {Words.Ballast(history.BallastG)}, as it was known after each session.{(turned ? " Lower on the picture is worse." : "")}"), Parts.Key(key), "wide");
    }

    /// <summary>Places along the axis: days where every session has one, else sessions in order.</summary>
    private static (double[] At, (double, string)[] Ticks, string Name) Along(TuningPointEntry[] tuned)
    {
        DateOnly?[] days = [.. tuned.Select(p => Day(p.Day))];
        if (days.Any(d => d is null) || days.Distinct().Count() < 2)
        {
            double[] order = [.. tuned.Select(p => (double)p.Sessions)];
            int step = Math.Max(1, (int)Math.Ceiling(tuned[^1].Sessions / 12.0));
            return (order, [.. Enumerable.Range(1, tuned[^1].Sessions).Where(k => k % step == 0 || tuned[^1].Sessions == 1).Select(k => ((double)k, k.ToString(CultureInfo.InvariantCulture)))], "session");
        }
        DateOnly first = days[0]!.Value, last = days[^1]!.Value;
        double[] at = [.. days.Select(d => (double)(d!.Value.DayNumber - first.DayNumber))];
        string format = first.Year == last.Year ? "d MMM" : "d MMM yyyy";
        int gaps = Math.Clamp(Math.Min((int)(Picture.Inside(WidthPx, HeightPx).WidthPx * 0.8 / LabelPx), last.DayNumber - first.DayNumber), 1, 5);
        (double, string)[] ticks = [.. Enumerable.Range(0, gaps + 1).Select(k => (int)Math.Round((double)k * (last.DayNumber - first.DayNumber) / gaps)).Distinct()
            .Select(d => ((double)d, first.AddDays(d).ToString(format, CultureInfo.InvariantCulture)))];
        return (at, ticks, first.Year == last.Year ? first.Year.ToString(CultureInfo.InvariantCulture) : "");
    }

    private static DateOnly? Day(string? day) => DateOnly.TryParseExact(day, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly known) ? known : null;

    private static IEnumerable<double> Changes(SeasonHistoryDocument history, TuningPointEntry[] tuned, double[] at) => history.Changes
        .Select(c => Array.FindIndex(tuned, p => p.Session == c.Session)).Where(i => i >= 0).Select(i => i > 0 ? (at[i] + at[i - 1]) / 2 : at[i]);

    private static Html Table(SeasonHistoryDocument history)
    {
        int Decimals(Func<TuningPointEntry, Interval> of) => Estimate.Decimals(history.Points.Select(of));
        (int glide, int sink, int parasite, int induced) = (Decimals(p => p.BestGlide), Decimals(p => p.LeastSinkMps), Decimals(p => p.ParasiteDrag), Decimals(p => p.InducedDrag));
        return Parts.Table($"As known after each session, with {Words.Ballast(history.BallastG)}",
            [Parts.Head("After"), Parts.Head("Day"), Parts.Head("Best glide"), Parts.Head("Least sink", "m/s"), Parts.Head("Sinks more than predicted", "%"), Parts.Head("Parasite drag coefficient"), Parts.Head("Induced drag over the ideal wing’s")],
            history.Points.Select((p, i) => (i == history.Points.Count - 1, (IReadOnlyList<Html>)
            [
                Html.Of($"{(p.Sessions == 0 ? "geometry alone" : Words.Plural(p.Sessions, "session"))}"),
                Html.Of($"{p.Day ?? Parts.Dash}"),
                Parts.Estimated(p.BestGlide, glide), Parts.Estimated(p.LeastSinkMps, sink),
                Parts.Estimated(new Interval(100 * p.SinkShare.Value, 100 * p.SinkShare.Low, 100 * p.SinkShare.High), 0),
                Parts.Estimated(p.ParasiteDrag, parasite), Parts.Estimated(p.InducedDrag, induced),
            ])));
    }
}
