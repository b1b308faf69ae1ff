/* The same sources make the same files, byte for byte: neither chance nor the clock takes part. */

import crypto from "node:crypto";

/**
 * Settles both for a Python that this Node starts; returns the environment to start it with.
 *
 * Python seeds its hashes and its random numbers by chance, and the memory's keeper seeds itself from
 * the clock.  Files must have times of their own: a folder that changed is known by its time.  Where the
 * project lies, which the runtime takes for its program's name, is nobody's business either.
 */
export function settled() {
  crypto.randomFillSync = /** @type {any} */ ((/** @type {Uint8Array} */ view) => view.fill(1));
  process.argv[1] = "/handbook";
  let now = 315_532_800_000;
  Date.now = () => (now += 1000);
  performance.now = () => 1;
  return { HOME: "/home/pyodide", PYTHONHASHSEED: "0" };
}
