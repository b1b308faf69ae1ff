/* What is typed stays while a page is loaded again for a newer version.  The browser keeps it for
   this tab alone, until the page has it back. */

/** @import { Inputs, Reading } from "./messages.ts" */

/**
 * What a reload would lose of a calculator.
 *
 * @typedef {object} Unsaved
 * @property {Inputs} inputs
 * @property {Reading[]} readings
 * @property {string} query
 * @property {boolean} isGuest
 * @property {boolean} isTyped  no answer has been asked for with these inputs, or none has come
 */

const KEY = "over-reload";

/**
 * Keeps the inputs of the calculators shown; tells whether the browser did.
 *
 * @param {{ id: string, unsaved: () => Unsaved | null }[]} calculators
 */
export function keepOverReload(calculators) {
  /** @type {Record<string, Unsaved | null>} */
  const cards = {};
  for (const calculator of calculators) cards[calculator.id] = calculator.unsaved();
  if (Object.values(cards).every((unsaved) => unsaved === null)) return true;
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ path: location.pathname, cards }));
    return true;
  } catch {
    return false;
  }
}

/** @param {unknown} value */
const isText = (value) => typeof value === "string";
/** @param {unknown} row */
const isRow = (row) => Array.isArray(row) && row.every(isText);

/**
 * Tells whether a part of the storage has the shape that was written; what the inputs themselves
 * hold is for Python to read.
 *
 * @param {Partial<Unsaved> | null} stored
 */
function isSound(stored) {
  const { inputs, readings, query } = stored ?? {};
  return (
    inputs !== null && typeof inputs === "object" && isText(query) &&
    Array.isArray(readings) && readings.every((row) => isRow(row) && row.length === 2)
  );
}

/**
 * Gives back what was kept, once: inputs by the calculator's place on the page.
 *
 * @returns {Record<string, Unsaved>}
 */
export function keptOverReload() {
  try {
    const { path, cards } = JSON.parse(sessionStorage.getItem(KEY) ?? "null") ?? {};
    sessionStorage.removeItem(KEY);
    if (path !== location.pathname) return {};
    return Object.fromEntries(Object.entries(cards ?? {}).filter(([, each]) => isSound(each)));
  } catch {
    return {};
  }
}
