using ThermalTrace.Advice;
using ThermalTrace.Reports.Pictures;

namespace ThermalTrace.Reports.Page;

/// <summary>The first screen: the answer, how sure it is, the conditions, the polars, the options.</summary>
internal static class AnswerSection
{
    public static Html Write(ResultsDocument doc, SeriesKey key)
    {
        ComparisonEntry comparison = doc.Comparison;
        int ballasts = doc.Flights.Select(f => f.BallastG).OfType<double>().Distinct().Count();
        Html best = Words.Best(comparison) is { } option && Estimate.Known(Words.Measured(comparison, option)) && comparison.Options.Count > 1
            ? Html.Of($"<p class=\"gain\">{Words.MeasureName(comparison)} with {Words.Ballast(option.BallastG)}: {Parts.Estimated(Words.Measured(comparison, option), unit: Words.MeasureUnit(comparison))}</p>")
            : Html.Empty;
        string certainty = Words.Certainty(comparison);
        return Html.Of($"""
            <header class="answer">
            <p class="eyebrow"><span>Session debrief</span> <b>{Html.Foreign(doc.Airframe.Name)}</b> <span>{Words.Plural(doc.Flights.Count, "flight")}, {Words.Plural(ballasts, "ballast")} flown</span> <span>all-up weight without ballast {Words.Grams(Math.Round(doc.Airframe.UnballastedMassG, 1))}</span></p>
            <h1>{Words.Answer(comparison)}</h1>
            <p class="certainty">{certainty}{(certainty.Length > 0 ? " " : "")}{Words.Tame(comparison.Why)}</p>
            {best}
            {Conditions(doc)}
            </header>
            <div class="first">
            {PolarPictures.Together(doc, key)}
            <div>
            {Options(comparison, key, "The choices, at the conditions of this session")}
            {Caution(doc)}
            </div>
            </div>
            """);
    }

    private static Html Conditions(ResultsDocument doc)
    {
        ConditionsEntry c = doc.Comparison.Conditions;
        var cells = new List<Html>
        {
            Cell("Wind", c.WindMps is null ? Unknown : Beside(c.WindMps, c.WindMpsLow, c.WindMpsHigh, "m/s"), Html.Of($"{(doc.Flights.Any(f => f.Wind.SpeedMps is not null) ? "mean over the flights" : "your own estimate")}")),
            Cell("Lift at the core", Beside(c.LiftMps, c.LiftMpsLow, c.LiftMpsHigh, "m/s"), Html.Of($"{(c.LiftMps is null ? "no lift was worked" : "air rising")}")),
        };
        if (c.LiftMps is not null)
        {
            cells.Add(Cell("Radius of the lift", Beside(c.ThermalRadiusM, c.ThermalRadiusMLow, c.ThermalRadiusMHigh, "m"), Html.Of($"where a third of it is left")));
        }

        cells.Add(Cell("Turbulence", c.Edr is { } edr ? Html.Of($"<b>{Words.Turbulence(edr)}</b>") : Unknown,
            c.Edr is { } rate ? Html.Of($"{Parts.Significant(rate)}&nbsp;{Parts.EdrUnit}") : Html.Empty));
        if (c.AirSinkMps is { } sink && c.LiftMps is not null)
        {
            cells.Add(Cell("Air on the way home",
                Math.Abs(sink) < 0.005 ? Html.Of($"<b>still</b>") : Html.Of($"<b>{(sink > 0 ? "sinking" : "rising")} {Parts.Significant(Math.Abs(sink))}&nbsp;m/s</b>"), Html.Empty));
        }

        return Html.Of($"<dl class=\"conditions\">{Html.Join(cells)}</dl>");
    }

    private static Html Unknown => Html.Of($"<b class=\"none\">not known</b>");

    private static Html Beside(double? value, double? low, double? high, string unit) => value is not { } known || !double.IsFinite(known)
        ? Unknown
        : low is not null && high is not null
            ? Parts.Estimated(new Interval(value, low, high), unit: unit)
            : Html.Of($"<b>{Parts.Significant(known)}&nbsp;{unit}</b>");

    private static Html Cell(string name, Html value, Html remark) =>
        Html.Of($"<div><dt>{name}</dt><dd>{value}{(remark.Source.Length > 0 ? Html.Of($" <span class=\"remark\">{remark}</span>") : Html.Empty)}</dd></div>");

    /// <summary>The choices in figures.</summary>
    public static Html Options(ComparisonEntry comparison, SeriesKey key, string caption)
    {
        int decimals = Estimate.Decimals(comparison.Options.Select(o => Words.Measured(comparison, o)));
        return Parts.Table(caption,
            [Parts.Head("Ballast"), Parts.Head(Words.MeasureName(comparison), Words.MeasureUnit(comparison)), Parts.Head("Chance of being best"), Parts.Head("Rests on")],
            comparison.Options.Select(o => (IsBest(comparison, o), (IReadOnlyList<Html>)
            [
                Html.Of($"{key.Name(o.BallastG)}{(IsBest(comparison, o) ? Html.Of($" <span class=\"tag\">ahead</span>") : Html.Empty)}"),
                Parts.Estimated(Words.Measured(comparison, o), decimals),
                comparison.Options.Count > 1 && o.ProbabilityBest is { } share ? Html.Of($"{Words.Percent(share)}") : Html.Of($"{Parts.Dash}"),
                Html.Of($"{(o is LiveOptionEntry { Refusal: not Refusal.None } never ? Never(never.Refusal) : Words.Support(o.Support))}"),
            ])));
    }

    private static string Never(Refusal refusal) => refusal == Refusal.Mass ? "too heavy, never suggested" : "out of balance, never suggested";

    public static bool IsBest(ComparisonEntry comparison, OptionEntry option) =>
        comparison.Options.Count > 1 && comparison.Verdict != "unknown" && option.BallastG == comparison.BestBallastG;

    private static Html Caution(ResultsDocument doc) => Html.Of($"""
        <p class="caution"><b>Before you fly heavier.</b> Secure the ballast so that it cannot move, check the centre of gravity with it fitted,
        stay within the mass and balance limits of the model’s maker{(doc.Airframe.MaxFlyingMassG is { } most ? $" (here at most {Words.Grams(most)} all up)" : "")}, and follow the rules of your field.</p>
        """);
}
