using System.Globalization;

namespace ThermalTrace.Reports.Page;

/// <summary>What the session could not tell, what to fly next, how it was computed, and what was found in the logs.</summary>
internal static class ClosingSections
{
    /// <summary>A log can hold thousands; the page shows what a person would read and says where the rest is.</summary>
    private const int MostProblems = 60;

    public static Html Limits(ResultsDocument doc) => Parts.Section("limits", "What this session could not tell",
        doc.Limits.Count == 0
            ? Html.Of($"<p>Nothing that a debrief can tell was left open.</p>")
            : Html.Of($"<ul class=\"limits\">{Html.Join(doc.Limits.Select(l => Html.Of($"<li dir=\"auto\">{Words.Tame(l)}</li>")))}</ul>"));

    public static Html Next(ResultsDocument doc) => string.IsNullOrWhiteSpace(doc.Comparison.FlyNext)
        ? Html.Empty
        : Parts.Section("next", "What to fly next", Html.Of($"<p class=\"next\">{Words.Tame(doc.Comparison.FlyNext)}</p>"));

    public static Html Method(ResultsDocument doc) => Parts.Section("method", "How it was computed", Html.Of($"""
        <ol class="method">
        <li><b>Phases.</b> Each log was split into flights, and each flight into launch, glide, climb and landing, with a probability for every piece.</li>
        <li><b>Air.</b> Turning flight tells the wind from the airspeed. Where no log holds an airspeed, it is ground speed less wind. Turbulence comes from how the air’s motion changes over distance.</li>
        <li><b>Polars.</b> Height and speed together give the energy that drag takes. One drag curve was fitted to all gliding at once, starting from a prediction out of span, area and mass, with a small departure for each ballast. Rising and sinking air is part of the fit, not cut away, because picking calm pieces by their sink would pick lucky air.</li>
        <li><b>Comparison.</b> Every ballast was flown through the same lift, wind and turbulence on paper, many times over, each time with another likely set of values. The chance of being best is the share of those runs that it won.</li>
        <li><b>Intervals.</b> The range beside a value is meant to hold the truth 9 times in 10. A value is never printed finer than its range allows. Polars are for level flight at sea level in the standard atmosphere.</li>
        </ol>
        <p>A difference under 0.01&nbsp;m/s counts as none: no pilot can feel it. The full figures are in results.json beside this page, and the pieces in segments.csv, glides.csv and polars.csv.</p>
        """));

    public static Html Logs(ResultsDocument doc) => Parts.Section("logs", "The logs", Html.Join(doc.Logs.Select(Log)));

    private static Html Log(LogEntry log)
    {
        string rows = log.Rows.ToString("N0", CultureInfo.InvariantCulture);
        Html channels = Html.Join(log.Channels.Select(c => Html.Of(
            $"<li>{c.Quantity.Replace('_', ' ')} <span class=\"where\">from {Html.Foreign(c.Column)}{(string.IsNullOrEmpty(c.Unit) ? Html.Empty : Html.Of($", {Html.Foreign(c.Unit)}"))}</span></li>")));
        Html more = log.Problems.Count > MostProblems
            ? Html.Of($"<li>and {log.Problems.Count - MostProblems} more, all of them in results.json</li>")
            : Html.Empty;
        Html problems = log.Problems.Count == 0
            ? Html.Of($"<p>Nothing had to be repaired.</p>")
            : Html.Of($"<p>Found and repaired, or left out:</p><ul class=\"problems\">{Html.Join(log.Problems.Take(MostProblems).Select(Problem))}{more}</ul>");
        return Html.Of($"""
            <article class="log"><h3>{Html.Foreign(log.File)}</h3>
            <p>{rows} rows, {Parts.Chosen(log.RateHz)} a second. Read as:</p><ul class="channels">{channels}</ul>
            {problems}</article>
            """);
    }

    private static Html Problem(ProblemEntry problem) =>
        Html.Of($"<li dir=\"auto\">{(problem.Line > 0 ? Html.Of($"<span class=\"line\">line {problem.Line}</span> ") : Html.Empty)}{Words.Tame(problem.Text)}</li>");
}
