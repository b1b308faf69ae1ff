/* What the reader types into a calculator's form, and into the boxes of its answer. */

/** @import { Control } from "./dom.mjs" */
/** @import { References } from "./inputs.mjs" */
/** @import { Parts } from "./calculator.mjs" */

import { targetOf } from "./dom.mjs";
import { putText, readPicked, takeFile } from "./files.mjs";
import { clearOthers, follow, renameWith } from "./inputs.mjs";
import { differ } from "./rows.mjs";

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
  card.element.addEventListener("focusin", (event) => {
    references = renameWith(card.form, /** @type {Control} */ (event.target));
  });
  card.element.addEventListener("focusout", (event) => {
    if (targetOf(event).closest("[data-reading]")) questions.answerIfChanged();
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
  if (entry.closest("[data-reading]")) {
    // A half-typed reading is not judged: the box is left first.
    if (isLeft) parts.questions.answerIfChanged();
  } else if (entry instanceof HTMLInputElement && entry.type === "file") {
    if (isLeft) pickFile(entry, parts);
  } else if (entry.closest("form")) edit(entry, isLeft, parts, references);
}

/**
 * @param {HTMLInputElement} picker
 * @param {Parts} parts
 */
async function pickFile(picker, { card, questions }) {
  const say = card.say.bind(card);
  if (picker.dataset.action === "take-file") {
    await takeFile(picker, say);
    return;
  }
  const picked = await readPicked(picker, say);
  if (!picked) return;
  // A spreadsheet is a list of amplifiers, never a system.
  /** @type {HTMLTextAreaElement | null} */
  const list = picked.isTable ? card.form.querySelector(".document textarea") : null;
  if (list) putText(list, picked.text);
  else questions.file(picked.text);
}

/**
 * @param {Control} entry
 * @param {boolean} isLeft
 * @param {Parts} parts
 * @param {References | null} references
 */
function edit(entry, isLeft, { card, keeping, questions, replies }, references) {
  keeping.edited();
  replies.showAside();
  if (entry.dataset.action === "differ") differ(/** @type {HTMLInputElement} */ (entry));
  follow(references, entry);
  clearOthers(card.form, entry);
  card.arranged?.typed(entry);
  // Leaving a field settles it: nothing is waited for.
  questions.answerSoon(isLeft ? 0 : card.arranged ? PAUSE_IN_PARTS_MS : PAUSE_MS);
  if (questions.isTyped) card.arranged?.isEarlier();
}
