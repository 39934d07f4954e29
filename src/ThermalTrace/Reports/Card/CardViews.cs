using System.Globalization;
using ThermalTrace.Reports.Page;

namespace ThermalTrace.Reports.Card;

/// <summary>The card on a phone: the sliders with their answer, and the flight sheet. The page's script fills them in.</summary>
internal static class CardViews
{
    /// <summary>Three sliders and the answer.</summary>
    public static Html Advice(CardDocument doc) => Html.Of($"""
        <section id="advice" class="live" aria-label="Ballast">
        <div id="answer" role="status" aria-live="polite" aria-atomic="true">
        <p id="mass">&nbsp;</p>
        <p id="certainty">&nbsp;</p>
        <p id="margin">&nbsp;</p>
        </div>
        <ul id="bars" aria-label="How far off the other choices are"></ul>
        <div class="sliders">
        <div class="slider"><label for="wind">Wind <span>at flying height</span></label><output id="wind-said" for="wind"></output><input type="range" id="wind"></div>
        <div class="slider"><label for="lift">Lift <span>at its core</span></label><output id="lift-said" for="lift"></output><input type="range" id="lift"></div>
        <div class="slider"><label for="edr">Turbulence</label><output id="edr-said" for="edr"></output><input type="range" id="edr"></div>
        <div class="words" role="group" aria-label="Turbulence in words">{Html.Join(doc.Turbulence.Select(t => Html.Of($"<button type=\"button\" data-edr=\"{t.Edr.ToString("0.##", CultureInfo.InvariantCulture)}\">{t.Word}</button>")))}</div>
        </div>
        <p id="net" class="small">&nbsp;</p>
        <p id="rests" class="small">&nbsp;</p>
        </section>
        """);

    /// <summary>The flight sheet.</summary>
    public static Html Flights(CardDocument doc) => Html.Of($"""
        <section id="flights" class="live" aria-label="Flight sheet">
        <p id="kept" role="alert" hidden></p>
        <fieldset>
        <legend>Ballast fitted</legend>
        <div id="masses">
        {Html.Join(doc.Options.Select(o => Html.Of($"<button type=\"button\" data-g=\"{o.BallastG.ToString("R", CultureInfo.InvariantCulture)}\" aria-pressed=\"false\">{(o.BallastG == 0 ? "none" : Words.Grams(o.BallastG))}</button>")))}
        <label class="other">other <input type="number" id="other" inputmode="decimal" min="0" max="150000" step="any" autocomplete="off"> g</label>
        </div>
        </fieldset>
        <div class="taps">
        <button type="button" id="launched">Launched</button>
        <button type="button" id="spoiled">Spoiled</button>
        <button type="button" id="undo">Undo</button>
        </div>
        <p id="said" role="status" aria-live="polite">&nbsp;</p>
        <div class="row">
        <h2 id="day-head">Flights</h2>
        <label id="day-box" hidden>day <select id="day"></select></label>
        </div>
        <ol id="list" aria-labelledby="day-head"></ol>
        <h2>Hand over</h2>
        <div class="fields">
        <label for="log">Log's file name</label><input type="text" id="log" autocomplete="off" autocapitalize="off" spellcheck="false" placeholder="log-01.csv" maxlength="200">
        <label for="ahead">Log's clock ahead of this phone's, minutes (minus: behind)</label>
        <div class="row"><input type="number" id="ahead" inputmode="decimal" step="any" min="-1440" max="1440"><button type="button" id="sign" aria-label="Change ahead to behind">&plusmn;</button><button type="button" id="utc">Log runs on UTC</button></div>
        </div>
        <div class="taps">
        <button type="button" id="save">Save flights.csv</button>
        <button type="button" id="share">Share</button>
        <button type="button" id="copy">Copy text</button>
        </div>
        <p id="handed" role="status" aria-live="polite">&nbsp;</p>
        <textarea id="csv" readonly rows="6" wrap="off" spellcheck="false" aria-label="flights.csv as text"></textarea>
        <div class="row"><button type="button" id="clear">Clear this day</button></div>
        </section>
        """);

    /// <summary>The way from one view to another.</summary>
    public static Html Views() => Html.Of($"""
        <nav class="live" aria-label="Views">
        <button type="button" data-view="advice">Ballast</button><button type="button" data-view="flights">Flights</button><button type="button" data-view="tables">Tables</button>
        </nav>
        """);
}
