/* Stands in for the theme's search worker and becomes it a moment later: building the search
   index takes a core that the first answer needs.  What is asked meanwhile is not lost. */

/** @type {unknown[]} */
const early = [];
/** @param {MessageEvent} event */
const keep = (event) => early.push(event.data);
self.addEventListener("message", keep);

setTimeout(() => {
  self.removeEventListener("message", keep);
  importScripts("SEARCH_WORKER");
  for (const data of early) self.dispatchEvent(new MessageEvent("message", { data }));
}, 1500);
