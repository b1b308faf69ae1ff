/* Blanks of a printed sheet: customer, vehicle, fitter, date, and what is noted at the car.  They are
   typed into the answer, stay on this device under the system's figures, and are in no link and no
   request. */

/** @import { Control } from "./dom.mjs" */

import { controls } from "./dom.mjs";

const KEY = "blanks";
const MOST_SYSTEMS = 20; // the oldest is forgotten
const LONGEST = 60; // as the box has it

/** @typedef {[name: string, texts: Record<string, string>]} Kept */

/** @param {ParentNode} answer */
const blanksOf = (answer) => controls(answer, "[data-blank]");

/** @param {Control} blank */
const nameOf = (blank) => blank.dataset.blank ?? "";

/**
 * Returns what stands in the blanks, by their names; those that are empty are left out.
 *
 * @param {ParentNode} answer
 */
export function blankTexts(answer) {
  const typed = blanksOf(answer).filter((blank) => blank.value.trim());
  return Object.fromEntries(typed.map((blank) => [nameOf(blank), blank.value]));
}

/**
 * Puts texts into the blanks; what none of them asks for waits for a sheet that does.
 *
 * @param {ParentNode} answer
 * @param {Record<string, string>} texts
 */
export function fillBlanks(answer, texts) {
  for (const blank of blanksOf(answer)) {
    const text = Object.hasOwn(texts, nameOf(blank)) ? texts[nameOf(blank)] ?? "" : "";
    if (blank.value !== text) blank.value = text; // the one that is typed in keeps its caret
  }
}

/**
 * All that is kept, the oldest first; what is damaged is left out.
 *
 * @returns {Kept[]}
 */
function stored() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? "[]");
    return Array.isArray(kept) ? kept.filter(isKept).map(([name, texts]) => [name, sound(texts)]) : [];
  } catch {
    return [];
  }
}

/**
 * @param {unknown} entry
 * @returns {entry is Kept}
 */
function isKept(entry) {
  if (!Array.isArray(entry) || typeof entry[0] !== "string") return false;
  return entry[1] !== null && typeof entry[1] === "object" && !Array.isArray(entry[1]);
}

/**
 * @param {Record<string, unknown>} texts
 * @returns {Record<string, string>}
 */
function sound(texts) {
  const pairs = Object.entries(texts).flatMap(([key, text]) => {
    return typeof text === "string" ? [[key, text.slice(0, LONGEST)]] : [];
  });
  return Object.fromEntries(pairs);
}

/**
 * Keeps what stands in the blanks under the name of their system; tells whether the browser does.
 *
 * @param {string} name
 * @param {Record<string, string>} texts
 * @param {string} [before]  the name that the system had before a figure of it was changed: what
 *   stood under that goes along, and is not left behind
 */
export function keepBlanks(name, texts, before = name) {
  try {
    const others = stored().filter(([other]) => other !== name && other !== before);
    const all = Object.keys(texts).length > 0 ? [...others, [name, texts]] : others;
    if (all.length === 0) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, JSON.stringify(all.slice(-MOST_SYSTEMS)));
    return true;
  } catch {
    return false; // a browser that keeps nothing: the sheet prints, and forgets
  }
}

/**
 * @param {string} name
 * @returns {Record<string, string>}
 */
export function keptBlanks(name) {
  return stored().find(([other]) => other === name)?.[1] ?? {};
}
