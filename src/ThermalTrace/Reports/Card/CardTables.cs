using System.Globalization;
using ThermalTrace.Advice;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Card;

/// <summary>The card on paper: the best ballast over wind and turbulence for three lifts, how to read it, what it rests on.</summary>
internal static class CardTables
{
    private const double Guess = 0.6; // less certain than this is marked as a guess; common practice, no source
    private const int Tints = 5;

    public static Html Write(CardDocument doc) => Html.Of($"""
        <section id="tables" aria-label="Tables">
        <h2>Best ballast, grams</h2>
        <div class="three">
        {Html.Join(doc.Lifts.Select(lift => Table(doc, lift)))}
        <div>
        <ul class="legend">
        <li><b>Bold</b>: clear, 9 chances in 10 or better to be best or as good, within {Speed(0.01)}</li>
        <li><span class="guess">?</span>: a guess, less than 6 chances in 10</li>
        <li><span class="flat">~</span>: hardly matters, no two choices differ by more than {Speed(0.01)}</li>
        </ul>
        <p class="basis">{Basis(doc)}</p>
        <p class="small">{Html.Join(doc.Limits.Select(l => Html.Of($"{l} ")))}</p>
        <p class="small cautions"><b>Mind:</b> {Html.Join(doc.Cautions.Select(c => Html.Of($"{c} ")))}</p>
        </div>
        </div>
        </section>
        """);

    private static Html Basis(CardDocument doc)
    {
        string basis = CardPage.Basis(doc);
        string made = doc.Made is { } day ? $" Made on {day}." : "";
        return Html.Of($"{Words.Capital(basis)}.{made} Each number is the ballast with the highest expected net climb after coming home, out of {Words.Plural(doc.Options.Count, "choice")}: {string.Join(", ", doc.Options.Select(o => Words.Grams(o.BallastG)))}.");
    }

    private static Html Table(CardDocument doc, CardLift lift)
    {
        CardGrid grid = doc.Grid;
        int l = Index(grid.LiftMps, lift.LiftMps);
        // What a pilot sees of the lift is how the model climbs in it.
        CardOptionGrid lightest = grid.Options[0];
        int circle = (Index(grid.WindMps, doc.PrintedWindsMps[1]) * grid.LiftMps.Count + l) * grid.Edr.Count + Index(grid.Edr, doc.Turbulence[1].Edr);
        string with = lightest.BallastG == 0 ? "without ballast" : "with " + Words.Grams(lightest.BallastG);
        Html climbs = lightest.ClimbMps[circle] is { } climb && climb > 0
            ? Html.Of($": climb {Speed(climb, "0.00")} ({Speed(lightest.ClimbMpsLow[circle]!.Value, "0.00")} to {Speed(lightest.ClimbMpsHigh[circle]!.Value, "0.00")}) {with}")
            : Html.Of($": too weak to climb in {with}");
        Html heads = Html.Join(doc.Turbulence.Select(t => Html.Of($"<th scope=\"col\">{t.Word}<span class=\"edr\">{t.Edr.ToString("0.00", CultureInfo.InvariantCulture)}</span></th>")));
        return Html.Of($"""
            <table>
            <caption><b>{Words.Capital(lift.Word)} lift</b>, core {Speed(lift.LiftMps)}{climbs}</caption>
            <thead><tr><th scope="col">wind<span class="edr unit-name">m/s</span></th>{heads}</tr></thead>
            <tbody>
            {Html.Join(doc.PrintedWindsMps.Select(wind => Row(doc, wind, l)))}
            </tbody>
            </table>
            """);
    }

    private static Html Row(CardDocument doc, double wind, int lift)
    {
        int w = Index(doc.Grid.WindMps, wind);
        Html cells = Html.Join(doc.Turbulence.Select(t => Cell(doc, (w * doc.Grid.LiftMps.Count + lift) * doc.Grid.Edr.Count + Index(doc.Grid.Edr, t.Edr))));
        return Html.Of($"<tr><th scope=\"row\" data-wind=\"{Plain(wind)}\">{Plain(wind)}</th>{cells}</tr>\n");
    }

    private static Html Cell(CardDocument doc, int cell)
    {
        CardGrid grid = doc.Grid;
        if (grid.BestBallastG[cell] is not { } best)
        {
            return Html.Of($"<td class=\"none\" title=\"no way against this wind\">&ndash;</td>");
        }
        int k = doc.Options.ToList().FindIndex(o => o.BallastG == best);
        double certainty = grid.Options[k].ProbabilityAsGood[cell];
        string tint = "t" + (doc.Options.Count < 2 ? 0 : k * (Tints - 1) / (doc.Options.Count - 1)).ToString(CultureInfo.InvariantCulture);
        string mass = Plain(best);
        if (doc.Options.Count < 2)
        {
            return Html.Of($"<td class=\"{tint}\">{mass}</td>");
        }
        return grid.HardlyMatters[cell] || grid.Verdict[cell] == "no_difference" ? Html.Of($"<td class=\"flat\">{mass}<span class=\"mark\">~</span></td>")
            : certainty >= AdviceGrid.Sure ? Html.Of($"<td class=\"{tint} clear\">{mass}</td>")
            : certainty < Guess ? Html.Of($"<td class=\"{tint}\">{mass}<span class=\"mark\">?</span></td>")
            : Html.Of($"<td class=\"{tint}\">{mass}</td>");
    }

    /// <summary>A speed that the page can show in another unit.</summary>
    private static Html Speed(double mps, string format = "0.##") =>
        Html.Of($"<span class=\"speed{(format == "0.00" ? " fixed" : "")}\" data-mps=\"{mps.ToString("0.####", CultureInfo.InvariantCulture)}\">{Pictures.Picture.Minus(mps.ToString(format, CultureInfo.InvariantCulture))}&nbsp;m/s</span>");

    private static string Plain(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);

    private static int Index(IReadOnlyList<double> axis, double value) => axis.ToList().FindIndex(a => Math.Abs(a - value) < 1e-9);
}
