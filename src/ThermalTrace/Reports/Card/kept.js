// What the phone keeps for this page: a browser may refuse, and then the page says so and goes on without.
const shelf = "thermaltrace-card:" + card.airframe.name;
const kept = { works: true };

function finite(value, low, high) {
  return typeof value === "number" && Number.isFinite(value) && value >= low && value <= high;
}

/** A flight as it may be used, whoever wrote it; null where it is none. */
function asFlight(f) {
  return f && finite(f.t, 0, 8.64e15) ? {
    id: typeof f.id === "string" ? f.id : String(f.t),
    t: f.t,
    g: finite(f.g, 0, 150000) ? f.g : null,
    spoiled: f.spoiled === true,
    note: typeof f.note === "string" ? f.note.slice(0, 500) : "",
  } : null;
}

function load() {
  const empty = { flights: [], g: null, log: "", ahead: 0, air: null, view: "advice" };
  let text = null;
  try {
    text = window.localStorage.getItem(shelf);
    window.localStorage.setItem(shelf + ":trial", "1");
    window.localStorage.removeItem(shelf + ":trial");
  } catch {
    kept.works = false;
  }
  if (text === null) { return empty; }
  try {
    const found = JSON.parse(text);
    return {
      flights: (Array.isArray(found.flights) ? found.flights : []).map(asFlight).filter(f => f !== null).sort((a, b) => a.t - b.t),
      g: finite(found.g, 0, 150000) ? found.g : null,
      log: typeof found.log === "string" ? found.log.slice(0, 200) : "",
      ahead: finite(found.ahead, -1440, 1440) ? found.ahead : 0,
      air: found.air && typeof found.air === "object" ? found.air : null,
      view: typeof found.view === "string" ? found.view : "advice",
    };
  } catch {
    // Not ours, or cut short: kept aside, for it may hold a day's flights.
    try { window.localStorage.setItem(shelf + ":unread", text); } catch { kept.works = false; }
    return empty;
  }
}

function save(state) {
  try {
    window.localStorage.setItem(shelf, JSON.stringify(state));
    kept.works = true;
  } catch {
    kept.works = false;
  }
}
