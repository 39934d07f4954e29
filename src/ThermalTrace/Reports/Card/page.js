// Puts the page together: which view is open, and what was looked at last.
function show(view) {
  const known = ["advice", "flights", "tables"];
  state.view = known.includes(view) ? view : "advice";
  document.documentElement.dataset.view = state.view;
  document.querySelectorAll("[data-view]").forEach(b => { if (b !== document.documentElement) { b.setAttribute("aria-current", b.dataset.view === state.view ? "page" : "false"); } });
}

if (state.air) {
  if (Object.hasOwn(units, state.air.unit)) { air.unit = state.air.unit; }
  [["wind", grid.wind_mps], ["lift", grid.lift_mps], ["edr", grid.edr]].forEach(([key, axis]) => {
    if (finite(state.air[key], axis[0], last(axis))) { air[key] = state.air[key]; }
  });
}
document.documentElement.classList.add("js");
startAdvice(() => { state.air = air; store(); });
startFlights();
document.querySelectorAll("nav [data-view]").forEach(b => b.addEventListener("click", () => {
  show(b.dataset.view);
  store();
  window.scrollTo(0, 0);
}));
showAdvice();
showFlights();
show(state.view);
