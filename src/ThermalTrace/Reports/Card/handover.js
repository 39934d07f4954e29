// The flight sheet as flights.csv: every launch becomes a range of time of day on the log's own clock.
const reachS = 120, dayS = 86400; // a tap and the launch it stands for lie closer than this; common practice, no source

const secondsOfDay = t => {
  const d = new Date(t);
  return d.getHours() * 3600 + d.getMinutes() * 60 + d.getSeconds();
};

function clock(seconds) {
  const s = ((Math.round(seconds) % dayS) + dayS) % dayS, two = n => String(n).padStart(2, "0");
  const text = two(Math.floor(s / 3600)) + ":" + two(Math.floor(s / 60) % 60);
  return s % 60 ? text + ":" + two(s % 60) : text;
}

/** From and to of each launch, seconds: whole minutes where there is room, half way to a neighbour where there is not. */
function ranges(flights, aheadMinutes) {
  const at = flights.map(f => secondsOfDay(f.t) + Math.round(aheadMinutes * 60));
  return at.map((s, i) => {
    const before = i > 0 ? s - at[i - 1] : Infinity, after = i < at.length - 1 ? at[i + 1] - s : Infinity;
    const room = 2 * reachS + 120; // two reaches, each let out to a whole minute
    return [
      before < room ? Math.round((at[i - 1] + s) / 2) : Math.floor((s - reachS) / 60) * 60,
      after < room ? Math.round((s + at[i + 1]) / 2) : Math.ceil((s + reachS) / 60) * 60,
    ];
  });
}

/** A cell: what a spreadsheet would run gets an apostrophe in front, which the reader takes off. */
function cell(text) {
  const tame = text.replace(/[\u0000-\u001f\u007f]+/g, " ").trim();
  const bare = tame.replace(/^'+/, "");
  const safe = /^[=+\-@]/.test(bare) ? "'" + tame : tame;
  return /[",;#]|^\s|\s$/.test(safe) ? '"' + safe.replace(/"/g, '""') + '"' : safe;
}

function csv(flights, log, aheadMinutes) {
  const spans = ranges(flights, aheadMinutes);
  const rows = flights.map((f, i) => [
    cell(log), clock(spans[i][0]) + "-" + clock(spans[i][1]), f.g === null ? "" : String(f.g), f.spoiled ? "yes" : "", cell(f.note),
  ].join(","));
  return ["log,flight,ballast_g,spoiled,notes", ...rows].join("\n") + "\n";
}
