/* The system that the pages of choosing and planning share.  It stays on this device, in the
   browser's storage, as the texts of the form's fields. */

/** @import { Inputs, Raw } from "./messages.ts" */

import { plainButton } from "./dom.mjs";

const KEY = "system";
const LINKS = "system-links"; // what the address of each page was when it was kept

/**
 * A text, or rows of texts: all that a field holds.  What else is stored is damaged, and however
 * deep it lies within itself, no more than this is looked at.
 *
 * @param {unknown} raw
 * @returns {raw is Raw}
 */
function isInput(raw) {
  /** @param {unknown} row */
  const isRow = (row) => Array.isArray(row) && row.every((cell) => typeof cell === "string");
  return typeof raw === "string" || (Array.isArray(raw) && raw.every(isRow));
}

/**
 * @param {string} key
 * @returns {Inputs | null}
 */
function stored(key) {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "null");
    if (!kept || typeof kept !== "object" || Array.isArray(kept)) return null;
    return Object.fromEntries(Object.entries(kept).filter(([, raw]) => isInput(raw)));
  } catch {
    return null;
  }
}

export function keptSystem() {
  return stored(KEY);
}

/**
 * Keeps what this page has of it, and leaves what only another page has; tells whether the
 * browser does.
 *
 * @param {Inputs} inputs
 * @param {string} [calculator]
 * @param {string} [query]
 */
export function keepSystem(inputs, calculator = "", query = "") {
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...keptSystem(), ...inputs }));
    localStorage.setItem(LINKS, JSON.stringify({ ...stored(LINKS), [calculator]: query }));
    return true;
  } catch {
    return false; // a browser that keeps nothing: the page works, and forgets
  }
}

/**
 * Remembers that an address holds the system that is kept.
 *
 * @param {string} calculator
 * @param {string} query
 */
export function keepLink(calculator, query) {
  try {
    const plain = query.replace(/^\?/, "");
    localStorage.setItem(LINKS, JSON.stringify({ ...stored(LINKS), [calculator]: plain }));
  } catch {
    // nothing is kept: the page opens like any link
  }
}

/**
 * Tells whether an address holds the system that is kept.
 *
 * @param {string} calculator
 * @param {string} query
 */
export function isKeptLink(calculator, query) {
  return isSame(query.replace(/^\?/, ""), stored(LINKS)?.[calculator]);
}

/**
 * Tells whether a link brought another system than the one that is kept.
 *
 * @param {Inputs} inputs
 * @param {string} calculator
 * @param {string} query
 */
export function isGuest(inputs, calculator, query) {
  const kept = keptSystem();
  if (!kept || !query.replace(/^\?/, "") || isKeptLink(calculator, query)) return false;
  return Object.entries(inputs).some(
    ([key, raw]) => kept[key] !== undefined && JSON.stringify(kept[key]) !== JSON.stringify(raw),
  );
}

/**
 * An address may spell a sign in two ways.
 *
 * @param {string} query
 * @param {Raw | undefined} other
 */
function isSame(query, other) {
  /** @param {Raw} [text] */
  const spelt = (text) => new URLSearchParams(typeof text === "string" ? text : "").toString();
  return spelt(query) === spelt(other);
}

/** Tells whether figures of a system are kept, and not the stock list alone. */
export function keepsFigures() {
  return Object.keys(keptSystem() ?? {}).some((key) => key !== "shelf");
}

/** Forgets the figures; the stock list is of no one system, and stays. */
export function forgetFigures() {
  const list = keptSystem()?.shelf;
  forgetSystem();
  if (list) keepSystem({ shelf: list });
}

export function forgetSystem() {
  try {
    localStorage.removeItem(KEY);
    localStorage.removeItem(LINKS);
  } catch {
    // nothing was kept
  }
}

/**
 * Buttons for what can be taken of the system, where its plan asks a calculator more than once.
 *
 * @param {HTMLElement} place
 * @param {string[]} abouts
 * @param {number} about  the one that was taken
 */
export function showAbouts(place, abouts, about) {
  const buttons = abouts.length < 2 ? [] : abouts.map((whom, at) => {
    const button = plainButton(whom, "button button--quiet");
    Object.assign(button.dataset, { exchange: "take", about: at });
    button.setAttribute("aria-pressed", String(at === about));
    return button;
  });
  place.replaceChildren(...buttons);
}
