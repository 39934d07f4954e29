"use strict";
// The few things that a page cannot do without a script of its own.
window.thermalTrace = {};

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
