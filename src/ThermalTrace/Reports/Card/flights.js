// The flight sheet: what was fitted, when it was launched, what was spoiled.
const twiceMs = 5000; // two taps so close are one launch
const state = load();
const past = [];
let chosenDay = null;

const dayOf = t => {
  const d = new Date(t), two = n => String(n).padStart(2, "0");
  return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate());
};
const today = () => dayOf(Date.now());
const shownDay = () => chosenDay ?? today();
const shown = () => state.flights.filter(f => dayOf(f.t) === shownDay());
const timeText = t => new Date(t).toTimeString().slice(0, 8);

/** Does something that can be undone, and says what was done. */
function change(said, doIt) {
  past.push({ said, flights: JSON.stringify(state.flights) });
  if (past.length > 30) { past.shift(); }
  doIt();
  state.flights.sort((a, b) => a.t - b.t);
  store();
  showFlights(said);
}

function undo() {
  const before = past.pop();
  if (!before) { return; }
  state.flights = JSON.parse(before.flights);
  store();
  showFlights("Undone: " + before.said);
}

function store() {
  save(state);
  showKept();
}

function showKept() {
  const p = byId("kept");
  p.hidden = kept.works;
  p.textContent = kept.works ? ""
    : "This browser keeps nothing for this page (as in a private window, or a file opened from a mail). The flights are lost when the page is closed: hand them over first.";
}

function launched() {
  const now = Date.now(), previous = last(state.flights);
  if (previous && Math.abs(now - previous.t) < twiceMs) {
    showFlights("Two taps within 5 seconds count once.");
    return;
  }
  chosenDay = null;
  const with_ = state.g === null ? "ballast not noted" : named(state.g) === "none" ? "no ballast" : grams(state.g);
  change("launched " + timeText(now) + ", " + with_, () => state.flights.push({ id: now + "-" + state.flights.length, t: now, g: state.g, spoiled: false, note: "" }));
}

function spoil(flight) {
  change((flight.spoiled ? "not spoiled: " : "spoiled: ") + timeText(flight.t), () => { flight.spoiled = !flight.spoiled; });
}

function element(name, attributes, ...children) {
  const made = document.createElement(name);
  Object.entries(attributes).forEach(([key, value]) => key in made ? made[key] = value : made.setAttribute(key, value));
  made.append(...children);
  return made;
}

function setTime(flight, text) {
  const [h, m, s] = text.split(":").map(Number), t = new Date(flight.t);
  if (![h, m].every(Number.isFinite)) { return; }
  t.setHours(h, m, s || 0, 0);
  if (state.flights.some(f => f !== flight && Math.abs(f.t - t.getTime()) < twiceMs)) {
    showFlights("Another flight was launched at that time.");
    return;
  }
  change("time " + timeText(flight.t) + " to " + timeText(t), () => { flight.t = t.getTime(); });
}

function row(flight, open) {
  const mark = element("button", { type: "button", className: "mark-spoiled", textContent: "Spoiled", onclick: () => spoil(flight) });
  mark.setAttribute("aria-pressed", String(flight.spoiled));
  mark.setAttribute("aria-label", "Spoiled, flight of " + timeText(flight.t));
  const field = (label, input) => element("label", {}, label + " ", input);
  const time = element("input", { type: "time", step: "1", value: timeText(flight.t), onchange: e => setTime(flight, e.target.value) });
  const mass = element("input", { type: "number", min: "0", max: "150000", step: "any", inputMode: "decimal", value: flight.g ?? "",
    onchange: e => change("ballast of " + timeText(flight.t), () => { flight.g = massOf(e.target.value); }) });
  const note = element("input", { type: "text", maxLength: 500, value: flight.note, autocomplete: "off",
    onchange: e => change("note of " + timeText(flight.t), () => { flight.note = e.target.value; }) });
  const remove = element("button", { type: "button", textContent: "Remove",
    onclick: () => change("removed " + timeText(flight.t), () => { state.flights = state.flights.filter(f => f !== flight); }) });
  const details = element("details", { open }, element("summary", {}, element("span", { className: "to-open", textContent: "Edit" }), element("span", { className: "to-close", textContent: "Close" })),
    element("div", { className: "edit" }, field("time", time), field("ballast, g", mass), field("note", note), remove));
  details.dataset.id = flight.id;
  const what = element("span", { className: "what" }, element("b", { textContent: timeText(flight.t) }), " " + (flight.g === null ? "ballast?" : named(flight.g)));
  return element("li", { className: flight.spoiled ? "spoiled" : "" }, what, mark, details,
    ...(flight.note ? [element("p", { className: "note", textContent: flight.note })] : []));
}

function massOf(text) {
  const g = Number(text);
  return text.trim() !== "" && finite(g, 0, 150000) ? g : null;
}

function showMasses() {
  let listed = false;
  document.querySelectorAll("[data-g]").forEach(b => {
    const on = Number(b.dataset.g) === state.g;
    listed = listed || on;
    b.setAttribute("aria-pressed", String(on));
  });
  const other = byId("other");
  if (document.activeElement !== other) { other.value = listed || state.g === null ? "" : state.g; }
  other.closest("label").classList.toggle("on", !listed && state.g !== null);
}

function showDays() {
  const days = [...new Set([today(), ...state.flights.map(f => dayOf(f.t))])].sort().reverse();
  byId("day").replaceChildren(...days.map(d => element("option", { value: d, textContent: d === today() ? "today" : d, selected: d === shownDay() })));
  byId("day-box").hidden = days.length < 2;
  const count = shown().length;
  byId("day-head").textContent = count === 0 ? "No flight yet" : count + (count === 1 ? " flight" : " flights");
}

function showFlights(said) {
  const flights = shown(), open = new Set([...document.querySelectorAll("#list details[open]")].map(d => d.dataset.id));
  showMasses();
  showDays();
  showKept();
  byId("list").replaceChildren(...flights.map(f => row(f, open.has(f.id))).reverse());
  const newest = last(flights);
  byId("spoiled").disabled = !newest;
  byId("spoiled").setAttribute("aria-pressed", String(!!newest && newest.spoiled));
  byId("undo").disabled = past.length === 0;
  ["save", "share", "copy", "clear"].forEach(id => { byId(id).disabled = flights.length === 0; });
  byId("csv").value = flights.length === 0 ? "" : csv(flights, state.log, state.ahead);
  if (said !== undefined) { byId("said").textContent = said.charAt(0).toUpperCase() + said.slice(1) + (/[.?]$/.test(said) ? "" : "."); }
}

function handed(text) {
  byId("handed").textContent = text + (state.log.trim() === "" ? " The log's file name is still missing: write it above, or into the first column later." : "");
}

function copyText() {
  const box = byId("csv"), done = ok => handed(ok ? "Copied." : "This browser does not copy: the text below is marked, copy it by hand.");
  const byHand = () => {
    box.focus();
    box.select();
    try { return document.execCommand("copy"); } catch { return false; }
  };
  if (navigator.clipboard && window.isSecureContext) {
    navigator.clipboard.writeText(box.value).then(() => done(true), () => done(byHand()));
  } else {
    done(byHand());
  }
}

function startFlights() {
  byId("launched").addEventListener("click", launched);
  byId("spoiled").addEventListener("click", () => { const newest = last(shown()); if (newest) { spoil(newest); } });
  byId("undo").addEventListener("click", undo);
  document.querySelectorAll("[data-g]").forEach(b => b.addEventListener("click", () => { state.g = Number(b.dataset.g); store(); showFlights(); }));
  byId("other").addEventListener("input", e => { state.g = massOf(e.target.value); store(); showMasses(); });
  byId("day").addEventListener("change", e => { chosenDay = e.target.value; showFlights(); });
  byId("log").value = state.log;
  byId("log").addEventListener("input", e => { state.log = e.target.value.trim(); store(); showFlights(); });
  byId("ahead").value = state.ahead;
  const setAhead = minutes => { state.ahead = finite(minutes, -1440, 1440) ? minutes : 0; store(); showFlights(); };
  const writeAhead = minutes => { byId("ahead").value = minutes; setAhead(minutes); };
  byId("ahead").addEventListener("input", e => setAhead(Number(e.target.value)));
  // Some phones' keys for numbers have no minus.
  byId("sign").addEventListener("click", () => writeAhead(state.ahead === 0 ? 0 : -state.ahead));
  byId("utc").addEventListener("click", () => writeAhead(new Date().getTimezoneOffset()));
  byId("save").addEventListener("click", () => {
    const link = element("a", { href: URL.createObjectURL(new Blob([byId("csv").value], { type: "text/csv" })), download: "flights.csv" });
    link.click();
    window.setTimeout(() => URL.revokeObjectURL(link.href), 60000);
    handed("Saved as flights.csv.");
  });
  byId("copy").addEventListener("click", copyText);
  byId("share").hidden = !navigator.share;
  byId("share").addEventListener("click", () => {
    const file = new File([byId("csv").value], "flights.csv", { type: "text/csv" });
    const what = navigator.canShare && navigator.canShare({ files: [file] }) ? { files: [file] } : { title: "flights.csv", text: byId("csv").value };
    navigator.share(what).then(() => handed("Shared."), error => { if (error.name !== "AbortError") { handed("Sharing was refused: save or copy instead."); } });
  });
  byId("clear").addEventListener("click", () => change("cleared " + shown().length + " of " + shownDay() + "; Undo brings them back",
    () => { const day = shownDay(); state.flights = state.flights.filter(f => dayOf(f.t) !== day); }));
  window.addEventListener("beforeunload", e => { if (!kept.works && state.flights.length > 0) { e.preventDefault(); } });
  // The same card in a second window: both show one list.
  window.addEventListener("storage", e => {
    if (e.key === shelf) {
      Object.assign(state, load());
      past.length = 0;
      showFlights();
    }
  });
  // A page left open over night begins a new day.
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { showFlights(); } });
}
