/* Readings that are typed into the boxes of an answer.  They stay on this device: in the
   browser's storage, under the system's figures, and never in a link. */

/** @import { Control } from "./dom.mjs" */
/** @import { Reading } from "./messages.ts" */

import { controls } from "./dom.mjs";

const PREFIX = "readings ";
const MOST_SYSTEMS = 20; // the oldest is forgotten

/** @param {Control} box */
const stepOf = (box) => box.dataset.reading ?? "";

/**
 * Returns what stands in the boxes, in their order.
 *
 * @param {ParentNode} answer
 * @returns {Reading[]}
 */
export function readingRows(answer) {
  return controls(answer, "[data-reading]")
    .filter((box) => box.value.trim())
    .map((box) => [stepOf(box), box.value.trim()]);
}

/**
 * @param {ParentNode} answer
 * @param {Reading[]} rows
 */
export function fillBoxes(answer, rows) {
  const typed = new Map(rows.map(([step, text]) => [step, text]));
  for (const box of controls(answer, "[data-reading]")) box.value = typed.get(stepOf(box)) ?? "";
}

/**
 * @param {string} calculator
 * @param {string} query
 */
function keyOf(calculator, query) {
  return `${PREFIX}${calculator}?${query}`;
}

/**
 * Keeps readings for the system of a query; tells whether the browser does.
 *
 * @param {string} calculator
 * @param {string} query
 * @param {Reading[]} rows
 */
export function keepReadings(calculator, query, rows) {
  try {
    const key = keyOf(calculator, query);
    localStorage.removeItem(key);
    if (rows.length === 0) return true;
    const keys = Object.keys(localStorage).filter((each) => each.startsWith(PREFIX));
    /** @param {string} each */
    const age = (each) => JSON.parse(localStorage.getItem(each) ?? "null").at ?? 0;
    keys.sort((each, other) => age(each) - age(other));
    for (const oldest of keys.slice(0, Math.max(0, keys.length - MOST_SYSTEMS + 1))) {
      localStorage.removeItem(oldest);
    }
    localStorage.setItem(key, JSON.stringify({ at: Date.now(), rows }));
    return true;
  } catch {
    return false; // a browser that keeps nothing: the sheet works, and forgets
  }
}

/**
 * @param {string} calculator
 * @param {string} query
 * @returns {Reading[]}
 */
export function keptReadings(calculator, query) {
  try {
    /** @type {unknown[]} */
    const rows = JSON.parse(localStorage.getItem(keyOf(calculator, query)) ?? "null")?.rows ?? [];
    return rows.flatMap((row) => (Array.isArray(row) && row.length === 2 ? [row.map(String)] : []));
  } catch {
    return [];
  }
}
