/* What the reader types into a calculator's form, and into the boxes of its answer. */

/** @import { Control } from "./dom.mjs" */
/** @import { References } from "./inputs.mjs" */
/** @import { Parts } from "./calculator.mjs" */

import { around, control, part, targetOf } from "./dom.mjs";
import { putText, readPicked } from "./files.mjs";
import { clearOthers, follow, renameWith } from "./inputs.mjs";
import { priceIsTyped } from "./prices.mjs";
import { markTyped } from "./readings.mjs";
import { skip } from "./next-step.mjs";
import { differ } from "./rows.mjs";
import { withoutUnit } from "./units.mjs";

const PAUSE_IN_PARTS_MS = 300; // where a card asks for several figures
const PAUSE_MS = 150; // of typing, before the inputs are sent

/**
 * Listens to what is typed.
 *
 * @param {Parts} parts
 */
export function listenToTyping(parts) {
  const { card, questions } = parts;
  /** Cells that refer to the name that is being changed. @type {References | null} */
  let references = null;
  for (const kind of ["input", "change"]) {
    card.element.addEventListener(kind, (event) => typed(event, parts, references));
  }
  card.element.addEventListener("focusin", () => questions.practise(), { once: true });
  card.element.addEventListener("focusin", (event) => {
    references = renameWith(card.form, /** @type {Control} */ (event.target));
  });
  card.element.addEventListener("focusout", (event) => {
    if (targetOf(event).closest("[data-reading]")) questions.answerSoon(0);
    if (skip(targetOf(event))) card.arranged?.showBar();
  });
}

/**
 * @param {Event} event
 * @param {Parts} parts
 * @param {References | null} references
 */
function typed(event, parts, references) {
  const entry = /** @type {Control} */ (event.target);
  const isLeft = event.type === "change";
  const { card } = parts;
  if (priceIsTyped(event, card.answer, card.say.bind(card))) return;
  if (entry.closest("[data-blank]")) {
    parts.replies.keepBlanks();
  } else if (entry.closest("[data-reading]")) {
    markTyped(entry, isLeft);
    parts.replies.readingIsTyped(entry);
    parts.questions.answerSoon(isLeft ? 0 : PAUSE_MS);
  } else if (entry instanceof HTMLInputElement && entry.type === "file") {
    if (isLeft) pickFile(entry, parts);
    // A field that is left because the form rests is on its way out.
  } else if (entry.closest("form") && !parts.questions.isComing) edit(entry, isLeft, parts, references);
}

/**
 * Takes the file that was picked: the form's whole system, or the text of a field.
 *
 * @param {HTMLInputElement} picker
 * @param {Parts} parts
 */
export function pickFile(picker, { card, questions }) {
  const reading = readPicked(picker);
  if (!reading) return;
  if (picker.dataset.action !== "take-file") {
    /** @type {HTMLElement | null} */
    const list = card.form.querySelector("[data-field]:has(.document textarea)");
    questions.file(reading, list ? (text) => putInto(card.form, list.dataset.field ?? "", text) : null);
    return;
  }
  const key = around(picker, "[data-field]").dataset.field ?? "";
  questions.fileInto(reading, (text) => putInto(card.form, key, text));
}

/**
 * Puts a file's text into a field, where that stands by now: the form may have been filled
 * meanwhile.
 *
 * @param {HTMLFormElement} form
 * @param {string} key
 * @param {string} text
 */
function putInto(form, key, text) {
  putText(control(part(form, `[data-field="${key}"]`), "textarea"), text);
}

/**
 * @param {Control} entry
 * @param {boolean} isLeft
 * @param {Parts} parts
 * @param {References | null} references
 */
function edit(entry, isLeft, { card, keeping, questions, replies }, references) {
  // In the box it stays as it is typed until that is left.
  const plain = isLeft ? withoutUnit(entry.value, entry.dataset.unit) : entry.value;
  if (plain !== entry.value) entry.value = plain;
  keeping.edited();
  replies.showAside();
  if (entry.dataset.action === "differ") differ(/** @type {HTMLInputElement} */ (entry));
  follow(references, entry);
  clearOthers(card.form, entry);
  card.arranged?.typed(entry);
  replies.answerIsDue();
  // Leaving a field settles it: nothing is waited for.
  questions.answerSoon(isLeft ? 0 : card.arranged ? PAUSE_IN_PARTS_MS : PAUSE_MS);
  if (questions.isTyped) card.arranged?.isEarlier();
}
