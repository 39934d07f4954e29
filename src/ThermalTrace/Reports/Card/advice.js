// The sliders, and the answer in words.
const units = {
  "m/s": { of: 1, wind: 0.5, lift: 0.05, said: "metres per second" },
  "km/h": { of: 3.6, wind: 1, lift: 0.2, said: "kilometres per hour" },
  "kn": { of: 3600 / 1852, wind: 1, lift: 0.1, said: "knots" },
};
const last = list => list[list.length - 1];
const air = { unit: "m/s", wind: 4, lift: 1.5, edr: 0.08 };
const byId = id => document.getElementById(id);

/** A speed in the unit chosen. */
function speed(mps, decimals) {
  const text = (mps * units[air.unit].of).toFixed(decimals);
  return (Number(text) === 0 ? text.replace("-", "") : text.replace("-", "\u2212"));
}
const withUnit = (mps, decimals) => speed(mps, decimals) + "\u00a0" + air.unit;
const grams = g => (Math.round(g * 10) / 10) + "\u00a0g";
const named = g => g === 0 ? "none" : grams(g);

/** The word whose number is nearest, by ratio. */
function word(edr) {
  return card.turbulence.reduce((near, t) => Math.abs(Math.log(edr / t.edr)) < Math.abs(Math.log(edr / near.edr)) ? t : near).word;
}

/** Chances as people count them; the ends are never called certain. */
function odds(p) {
  const tenths = Math.round(p * 10);
  return p >= 0.985 ? "better than 98 chances in 100" : p < 0.05 ? "less than 1 chance in 20"
    : tenths >= 10 ? "more than 9 chances in 10" : "about " + Math.max(1, tenths) + (tenths <= 1 ? " chance" : " chances") + " in 10";
}

const band = d => "(" + speed(d.low, 2) + " to " + speed(d.high, 2) + ")";
const listed = names => names.length < 2 ? names.join("") : names.slice(0, -1).join(", ") + " and " + last(names);

function certainty(result) {
  const best = result.ranked[0];
  if (card.options.length < 2) { return "The only choice there is."; }
  const chance = odds(best.good) + " to be best or as good";
  if (result.flat || result.verdict === "no_difference") {
    return "Hardly matters: no two choices differ by more than " + withUnit(felt, 2) + ".";
  }
  return result.verdict === "clear" ? "Clear: " + chance + "." : best.good < 0.6 ? "A guess: " + chance + "." : "Leaning: " + chance + ".";
}

/** Two lines: who is as good, or how far ahead of the next; then how far ahead of none, or of the first that is not as good. */
function margin(result) {
  const [best, ...others] = result.ranked;
  const close = others.filter(o => best.trip - o.trip <= felt), rest = others.filter(o => !close.includes(o));
  const none = rest.find(o => o.ballast === 0);
  const lead = o => {
    const off = ahead(result, best, o);
    return withUnit(off.value, 2) + " " + band(off) + " ahead of " + named(o.ballast);
  };
  if (close.length > 0) {
    const as = "As good: " + (close.length > 3 ? close.length + " others" : listed(close.map(o => named(o.ballast))));
    return rest.length > 0 ? [as, lead(none ?? rest[0])] : [as];
  }
  return [...new Set([rest[0], none])].filter(o => o).map(lead);
}

/** Where the winds that a ballast was flown in do not reach, physics speaks. */
function rests(best) {
  const option = card.options[best.index], far = 1.5;
  if (option.support === "predicted") { return "Rests on physics: nothing flown stands behind it."; }
  if (option.flights === 0) { return named(best.ballast) === "none" ? "Rests on flights of other weights." : grams(best.ballast) + " was not flown: flights of other weights and physics."; }
  const [low, high] = option.flown_wind_mps;
  const name = best.ballast === 0 ? "The model without ballast" : grams(best.ballast);
  if (low !== undefined && (air.wind < low - far || air.wind > high + far)) {
    return name + " was flown in " + speed(low, 0) + " to " + withUnit(high, 0) + " of wind only: here physics speaks.";
  }
  return name + ": " + option.flights + (option.flights === 1 ? " flight" : " flights") + (low === undefined ? "." : ", in " + speed(low, 0) + " to " + withUnit(high, 0) + " of wind.");
}

function bar(result, option, scale) {
  const row = document.createElement("li"), name = document.createElement("b"), track = document.createElement("span"), text = document.createElement("span");
  name.textContent = named(option.ballast);
  track.className = "track";
  text.className = "off";
  row.append(name, track, text);
  const best = result.ranked[0];
  if (option === best) {
    row.className = "best";
    text.textContent = result.options.length > 1 ? "best" : "";
    return row;
  }
  if (option.trip === null) {
    text.textContent = "no way upwind";
    return row;
  }
  const off = ahead(result, best, option), filled = document.createElement("i"), open = document.createElement("i");
  const share = mps => Math.min(100, Math.max(0, 100 * mps / scale)) + "%";
  filled.className = "filled";
  filled.style.width = share(off.value);
  open.className = "open";
  open.style.left = share(off.low);
  open.style.width = "calc(" + share(off.high) + " - " + share(off.low) + ")";
  track.append(filled, open);
  text.textContent = off.value <= felt ? "as good" : "\u2212" + speed(off.value, 2);
  row.setAttribute("aria-label", named(option.ballast) + ": " + withUnit(off.value, 2) + " less, " + band(off));
  return row;
}

function showAnswer() {
  const result = answer(air.wind, air.lift, air.edr), best = result.ranked[0];
  const mass = byId("mass");
  if (!best) {
    mass.textContent = "Stay down";
    byId("certainty").textContent = "No ballast here makes way against this wind.";
    ["margin", "net", "rests"].forEach(id => { byId(id).textContent = ""; });
    byId("bars").replaceChildren(...result.options.map(o => bar(result, o, 1)));
    return;
  }
  mass.textContent = best.ballast === 0 ? "No ballast" : grams(best.ballast);
  byId("certainty").textContent = certainty(result);
  const lines = margin(result);
  byId("margin").replaceChildren(...[0, 1].map(i => {
    const line = document.createElement("span");
    line.textContent = (lines[i] ?? "\u00a0") + " ";
    return line;
  }));
  const scale = Math.max(0.05, ...result.ranked.slice(1).map(o => ahead(result, best, o).high));
  byId("bars").replaceChildren(...result.options.map(o => bar(result, o, scale)));
  byId("net").textContent = "Net climb after coming home " + withUnit(best.trip, 2) + " " + band(best)
    + (best.climb.value > 0 ? "; climb in the lift " + withUnit(best.climb.value, 2) + " " + band(best.climb) + "." : "; this lift is too weak to climb in.");
  byId("rests").textContent = rests(best);
}

function showSliders() {
  const unit = units[air.unit];
  const set = (id, axis, step) => {
    const slider = byId(id), whole = v => Math.round(v * unit.of / step) * step;
    let low = whole(axis[0]), high = whole(last(axis));
    if (low / unit.of < axis[0] - 1e-9) { low += step; }
    if (high / unit.of > last(axis) + 1e-9) { high -= step; }
    [slider.min, slider.max, slider.step] = [low.toFixed(2), high.toFixed(2), String(step)];
    slider.value = (air[id] * unit.of).toFixed(2);
    const shown = (air[id] * unit.of).toFixed(step === 1 ? 0 : step < 0.1 ? 2 : 1);
    byId(id + "-said").textContent = shown + "\u00a0" + air.unit;
    slider.setAttribute("aria-valuetext", shown + " " + unit.said);
  };
  set("wind", grid.wind_mps, unit.wind);
  set("lift", grid.lift_mps, unit.lift);
  const slider = byId("edr");
  [slider.min, slider.max, slider.step, slider.value] = [grid.edr[0], last(grid.edr), 0.01, air.edr];
  const said = word(air.edr) + " " + air.edr.toFixed(2);
  byId("edr-said").textContent = said;
  slider.setAttribute("aria-valuetext", said);
  document.querySelectorAll("[data-edr]").forEach(b => b.setAttribute("aria-pressed", String(Number(b.dataset.edr) === air.edr)));
}

function showUnits() {
  document.querySelectorAll("[data-unit]").forEach(b => b.setAttribute("aria-pressed", String(b.dataset.unit === air.unit)));
  document.querySelectorAll("[data-mps]").forEach(s => {
    const mps = Number(s.dataset.mps);
    // A number that was chosen has no more digits than it needs; an estimate keeps its two.
    s.textContent = s.classList.contains("fixed") ? withUnit(mps, 2)
      : Number((mps * units[air.unit].of).toFixed(mps < 0.05 || air.unit === "m/s" ? 2 : 1)) + "\u00a0" + air.unit;
  });
  document.querySelectorAll("[data-wind]").forEach(s => { s.textContent = speed(Number(s.dataset.wind), 0); });
  document.querySelectorAll(".unit-name").forEach(s => { s.textContent = air.unit; });
}

function showAdvice() {
  showUnits();
  showSliders();
  showAnswer();
}

function startAdvice(changed) {
  ["wind", "lift"].forEach(id => byId(id).addEventListener("input", e => {
    const axis = grid[id + "_mps"];
    air[id] = Math.min(last(axis), Math.max(axis[0], Number(e.target.value) / units[air.unit].of));
    showSliders();
    showAnswer();
    changed();
  }));
  const rough = edr => {
    air.edr = edr;
    showSliders();
    showAnswer();
    changed();
  };
  byId("edr").addEventListener("input", e => rough(Number(e.target.value)));
  document.querySelectorAll("[data-edr]").forEach(b => b.addEventListener("click", () => rough(Number(b.dataset.edr))));
  document.querySelectorAll("[data-unit]").forEach(b => b.addEventListener("click", () => {
    air.unit = b.dataset.unit;
    showAdvice();
    changed();
  }));
}
