"use strict";
// The few things that a page cannot do without a script of its own.
window.thermalTrace = {};
// Flights: a ballast dragged over rows. Says from which flight to which; nothing is changed here.
window.thermalTrace.fillRows = (list, page) => {
  list.addEventListener("pointerdown", down => {
    const handle = down.target.closest(".fill");
    if (!handle || handle.disabled || down.button !== 0) return;
    const rows = [...list.querySelectorAll("[data-flight]")];
    const from = rows.indexOf(handle.closest("[data-flight]"));
    let to = from, over = false;
    const mark = () => rows.forEach((row, i) => row.classList.toggle("filling", over && i >= Math.min(from, to) && i <= Math.max(from, to)));
    const move = e => {
      if (e.clientY > innerHeight - 40) scrollBy(0, 12);
      if (e.clientY < 40) scrollBy(0, -12);
      const at = rows.findIndex(row => e.clientY < row.getBoundingClientRect().bottom);
      to = at < 0 ? rows.length - 1 : at;
      over = over || to !== from;
      mark();
    };
    const key = e => { if (e.key === "Escape") end(e); };
    const end = e => {
      handle.removeEventListener("pointermove", move);
      handle.removeEventListener("pointerup", end);
      handle.removeEventListener("pointercancel", end);
      removeEventListener("keydown", key);
      // The press that ended a drag is no press on the handle.
      if (over) list.addEventListener("click", c => c.stopPropagation(), { capture: true, once: true });
      if (over) setTimeout(() => list.dispatchEvent(new Event("click")), 0);
      over = false;
      mark();
      if (e.type === "pointerup" && to !== from) page.invokeMethodAsync("Filled", +rows[from].dataset.flight, +rows[to].dataset.flight).catch(() => {});
    };
    handle.setPointerCapture(down.pointerId);
    handle.addEventListener("pointermove", move);
    handle.addEventListener("pointerup", end);
    handle.addEventListener("pointercancel", end);
    addEventListener("keydown", key);
  });
};
// A flight's height: boundaries dragged, a stretch drawn, the wheel with the control key, the room there is. All as shares of the width.
window.thermalTrace.trace = (box, page) => {
  const say = (...what) => page.invokeMethodAsync(...what).catch(() => {});
  const share = e => { const r = box.getBoundingClientRect(); return (e.clientX - r.left) / r.width; };
  box.addEventListener("keydown", e => {
    if (["ArrowLeft", "ArrowRight", "ArrowUp", "ArrowDown", "Home", "End"].includes(e.key) && !e.altKey && !e.ctrlKey && !e.metaKey) e.preventDefault();
  });
  box.addEventListener("wheel", e => {
    if (!e.ctrlKey) return;
    e.preventDefault();
    say("Wheeled", share(e), e.deltaY < 0);
  }, { passive: false });
  box.addEventListener("pointerdown", down => {
    if (down.button !== 0) return;
    const handle = down.target.closest(".boundary");
    const begun = share(down);
    let last = begun, asked = null, busy = false, frame = null;
    const send = async () => {
      if (busy) return;
      busy = true;
      while (asked !== null) {
        const next = asked;
        asked = null;
        await say("Dragged", +handle.dataset.boundary, next);
      }
      busy = false;
    };
    const move = e => {
      last = share(e);
      if (handle) {
        asked = last;
        send();
        return;
      }
      if (!frame && Math.abs(last - begun) * box.clientWidth > 8) {
        frame = document.createElement("div");
        frame.className = "stretch";
        box.append(frame);
      }
      if (frame) {
        frame.style.left = 100 * Math.min(begun, last) + "%";
        frame.style.width = 100 * Math.abs(last - begun) + "%";
      }
    };
    const end = async e => {
      box.removeEventListener("pointermove", move);
      box.removeEventListener("pointerup", end);
      box.removeEventListener("pointercancel", end);
      const drawn = frame !== null;
      frame?.remove();
      if (handle) {
        while (busy) await new Promise(done => setTimeout(done, 5));
        say(e.type === "pointerup" ? "Dropped" : "Lost");
      } else if (drawn && e.type === "pointerup") {
        say("Chosen", begun, last);
      }
    };
    if (handle) {
      down.preventDefault();
      handle.focus();
    }
    box.setPointerCapture(down.pointerId);
    box.addEventListener("pointermove", move);
    box.addEventListener("pointerup", end);
    box.addEventListener("pointercancel", end);
  });
  let width = 0;
  new ResizeObserver(() => {
    if (Math.abs(box.clientWidth - width) >= 4) say("Sized", width = box.clientWidth);
  }).observe(box);
};

// Links within a page: the address that they are reckoned from is the first page's, so they are followed here.
document.addEventListener("click", event => {
    const link = event.target.closest('a[href^="#"]');
    const target = link && document.getElementById(link.getAttribute("href").slice(1));
    if (!target) {
        return;
    }
    event.preventDefault();
    event.stopPropagation();
    target.scrollIntoView();
    const heading = target.matches("h1,h2,h3") ? target : target.querySelector("h2,h3") ?? target;
    heading.tabIndex = -1;
    heading.focus({ preventScroll: true });
}, true);

// Where arrow keys choose, they do not scroll as well.
document.addEventListener("keydown", event => {
    if (/^(Arrow|Home|End)/.test(event.key) && event.target.closest("[data-arrows]")) {
        event.preventDefault();
    }
});
