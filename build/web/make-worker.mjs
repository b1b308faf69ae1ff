/* How the page gets a worker.  The folder edition has another way: folder-worker.mjs. */

/** @returns {Worker} */
export const makeWorker = () =>
  new Worker(new URL("./runtime/worker.js", import.meta.url), { type: "module" });
