/* Readings that are typed into the boxes of an answer.  They stay on this device: in the
   browser's storage, under the system's figures, and never in a link.  They are judged while they
   are typed, and kept at once. */

/** @import { Control } from "./dom.mjs" */
/** @import { Reading } from "./messages.ts" */

import { controls } from "./dom.mjs";

const PREFIX = "readings ";
const MOST_SYSTEMS = 20; // the oldest is forgotten

/** @param {Control} box */
const stepOf = (box) => box.dataset.reading ?? "";

/** @param {ParentNode} answer */
const boxesOf = (answer) => controls(answer, "[data-reading]");

/**
 * Returns what stands in the boxes, in their order.
 *
 * @param {ParentNode} answer
 * @returns {Reading[]}
 */
export function readingRows(answer) {
  return rowsOf(boxesOf(answer));
}

/**
 * Returns what is to be judged: all but the one that is being typed, while it is no reading yet.
 *
 * @param {ParentNode} answer
 */
export function judgedRows(answer) {
  return rowsOf(boxesOf(answer).filter((box) => !isHalfTyped(box)));
}

/**
 * @param {Control[]} boxes
 * @returns {Reading[]}
 */
function rowsOf(boxes) {
  return boxes
    .filter((box) => box.value.trim())
    .map((box) => [stepOf(box), box.value.trim()]);
}

/**
 * Where a reading is being typed and has not got its shape; a box that was left is judged.  An
 * answer to a problem may be the beginning of another one, whatever its shape.
 *
 * @param {Control} box
 */
function isHalfTyped(box) {
  if (box !== document.activeElement) return false;
  return box.validity.patternMismatch || box.dataset.open !== undefined;
}

/**
 * A reading that was typed, with what it is a reading of: the step's own words.
 *
 * @typedef {object} Typed
 * @property {string} step
 * @property {string | null} text  null where nothing was typed into the box yet
 * @property {string} words
 * @property {boolean} hasFocus
 */

/**
 * What the step of a box says; its number may be another in another system.
 *
 * @param {Control} box
 */
function wordsOf(box) {
  const place = placeOf(box);
  return (place?.querySelector("[data-asked]") ?? place?.children[1])?.textContent ?? "";
}

/**
 * Returns the step or problem that a box belongs to.
 *
 * @param {Control} box
 */
const placeOf = (box) => box.closest("tr, .exercise");

/**
 * Remembers that a reading was typed here, and not brought back; and whether it may go on.
 *
 * @param {Control} box
 * @param {boolean} [isLeft]
 */
export function markTyped(box, isLeft = true) {
  box.dataset.typed = "";
  if (isLeft || box.dataset.judgedLate === undefined) delete box.dataset.open;
  else box.dataset.open = "";
}

/**
 * What was typed before anybody listened is told by its box, which the page had empty.  Tells
 * whether there was anything.
 *
 * @param {ParentNode} answer
 */
export function markTypedBefore(answer) {
  const typed = boxesOf(answer).filter((box) => box.value);
  for (const box of typed) markTyped(box);
  return typed.length > 0;
}

/**
 * Returns the readings that were typed into this sheet, and the box that the reader is in.
 *
 * @param {ParentNode} answer
 * @returns {Typed[]}
 */
export function typedReadings(answer) {
  /** @param {Control} box */
  const isTyped = (box) => box.dataset.typed !== undefined;
  return boxesOf(answer)
    .filter((box) => isTyped(box) || box === document.activeElement)
    .map((box) => ({
      step: stepOf(box),
      text: isTyped(box) ? box.value.trim() : null,
      words: wordsOf(box),
      hasFocus: box === document.activeElement,
    }));
}

/**
 * Puts readings that were typed into another sheet where this one asks for the very same; returns
 * how many of them it does not ask for.
 *
 * @param {ParentNode} answer
 * @param {Typed[]} typed
 */
export function carryOver(answer, typed) {
  let lost = 0;
  for (const { step, text, words, hasFocus } of typed) {
    const box = boxesOf(answer).find((each) => stepOf(each) === step && wordsOf(each) === words);
    if (!box) {
      if (text) lost += 1;
      continue;
    }
    if (text !== null && box.value.trim() !== text) box.value = text;
    if (text !== null) markTyped(box);
    if (hasFocus && box !== document.activeElement) focusAtEnd(box);
  }
  return lost;
}

/** @param {Control} box */
function focusAtEnd(box) {
  box.focus({ preventScroll: true });
  if (!(box instanceof HTMLSelectElement)) box.setSelectionRange(box.value.length, box.value.length);
}

/**
 * Says how the reading of a box is judged; nothing where it is not.
 *
 * @param {ParentNode} answer
 * @param {Control | null} box
 */
export function judgementOf(answer, box) {
  const shown = boxesOf(answer).find((each) => box && stepOf(each) === stepOf(box));
  const place = shown && placeOf(shown);
  const isProblem = place?.matches(".exercise");
  const told = isProblem ? place?.querySelector("[data-judged]") : place?.lastElementChild;
  const judged = told?.textContent?.trim();
  return judged ? `${shown?.getAttribute("aria-label")}: ${judged}` : "";
}

/**
 * Boxes and blanks rest while the sheet is on its way out: what would be typed there would be lost.
 *
 * @param {ParentNode} answer
 * @param {boolean} isResting
 */
export function restBoxes(answer, isResting) {
  for (const box of controls(answer, "[data-reading], [data-blank]")) box.inert = isResting;
}

/**
 * @param {ParentNode} answer
 * @param {Reading[]} rows
 */
export function fillBoxes(answer, rows) {
  const typed = new Map(rows.map(([step, text]) => [step, text]));
  for (const box of boxesOf(answer)) {
    const text = typed.get(stepOf(box)) ?? "";
    if (box.value.trim() !== text) box.value = text; // the one that is typed in keeps its caret
  }
}

/**
 * @param {string} calculator
 * @param {string} name
 */
function keyOf(calculator, name) {
  return `${PREFIX}${calculator}?${name}`;
}

/**
 * Keeps readings under the name of their system; tells whether the browser does.
 *
 * @param {string} calculator
 * @param {string} name
 * @param {Reading[]} rows
 */
export function keepReadings(calculator, name, rows) {
  try {
    const key = keyOf(calculator, name);
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
 * @param {string} name
 * @returns {Reading[]}
 */
export function keptReadings(calculator, name) {
  try {
    /** @type {unknown[]} */
    const rows = JSON.parse(localStorage.getItem(keyOf(calculator, name)) ?? "null")?.rows ?? [];
    return rows.flatMap((row) => (Array.isArray(row) && row.length === 2 ? [row.map(String)] : []));
  } catch {
    return [];
  }
}
