// The answer at any wind, lift and turbulence: straight lines between the grid's own points, so that on a point it is the point's.
const card = JSON.parse(document.getElementById("card-data").textContent);
const grid = card.grid;
const felt = 0.01, sure = 0.9;

/** Lower neighbour on an axis and the share of the way to the upper one. */
function place(axis, value) {
  if (axis.length < 2) { return [0, 0]; }
  let i = 0;
  while (i < axis.length - 2 && value >= axis[i + 1]) { i++; }
  return [i, Math.min(1, Math.max(0, (value - axis[i]) / (axis[i + 1] - axis[i])))];
}

/** Places in the lists with their weights; those of no weight are left out, so that an unknown neighbour does no harm. */
function corners(axes, values) {
  let found = [[0, 1]];
  axes.forEach((axis, a) => {
    const [low, share] = place(axis, values[a]);
    found = found.flatMap(([at, weight]) => [
      [at * axis.length + low, weight * (1 - share)],
      [at * axis.length + low + 1, weight * share],
    ]).filter(([, weight]) => weight > 0);
  });
  return found;
}

/** Weighted mean of a list; null where a part of it is not known. */
function mix(list, at) {
  let sum = 0;
  for (const [i, weight] of at) {
    if (list[i] === null) { return null; }
    sum += weight * list[i];
  }
  return sum;
}

/** What the card says of an air. The best has the highest expectation, the lightest of equals. */
function answer(wind, lift, edr) {
  const at = corners([grid.wind_mps, grid.lift_mps, grid.edr], [wind, lift, edr]);
  const options = grid.options.map((o, index) => ({
    index,
    ballast: o.ballast_g,
    trip: mix(o.round_trip_climb_mps, at), low: mix(o.round_trip_climb_mps_low, at), high: mix(o.round_trip_climb_mps_high, at),
    best: mix(o.probability_best, at), good: mix(o.probability_as_good, at),
    climb: { value: mix(o.climb_mps, at), low: mix(o.climb_mps_low, at), high: mix(o.climb_mps_high, at) },
  }));
  const known = options.filter(o => o.trip !== null);
  const ranked = known.slice().sort((a, b) => b.trip - a.trip || a.index - b.index);
  const flat = known.length === options.length && known.length > 1 && ranked[0].trip - ranked[ranked.length - 1].trip <= felt;
  const alike = mix(grid.probability_alike, at);
  const verdict = ranked.length === 0 || options.length < 2 ? "unknown"
    : alike >= sure ? "no_difference" : ranked[0].good >= sure ? "clear" : "leaning";
  return { options, ranked, flat, verdict, at };
}

/** By how much option a is ahead of option b, with the bounds of 90 %. */
function ahead(result, a, b) {
  const value = a.trip - b.trip;
  const pair = grid.differences.find(d => d.ballast_g === Math.max(a.ballast, b.ballast) && d.than_ballast_g === Math.min(a.ballast, b.ballast));
  let low = mix(pair.ahead_mps_low, result.at), high = mix(pair.ahead_mps_high, result.at);
  if (a.ballast < b.ballast) { [low, high] = [-high, -low]; }
  return { value, low, high };
}
