"use strict";
// The few things that a page cannot do without a script of its own.
window.thermalTrace = {};
