/* An example in the form: its figures are marked, and the first figure of one's own asks once
   whether the others shall stay. */

/** @import { Control } from "./dom.mjs" */

import { refreshRow, showChoice } from "./cards.mjs";
import { control, controls, part, parts, plainButton } from "./dom.mjs";

const MARKED = "[data-example]:is(input, select)"; // the form too has the name of one

/** @param {ParentNode} form */
export const isExample = (form) => form.querySelector(MARKED) !== null;

/**
 * A figure was typed over: it is the reader's.  The first time it is asked what becomes of the
 * others; until that is answered nothing is lost.
 *
 * @param {HTMLFormElement} form
 * @param {Control} entry
 */
export function typedOver(form, entry) {
  const { example: name = "" } = form.dataset;
  delete entry.dataset.example;
  entry.closest("[data-example-rows]")?.removeAttribute("data-example-rows");
  if (!name) return;
  if (!isExample(form)) {
    nameExample(form, "");
    part(form, ".example-mark").hidden = true;
    return;
  }
  if (form.dataset.asked !== undefined) return;
  form.dataset.asked = "";
  const place = part(form, ".example-mark");
  const words = document.createElement("p");
  const typed = document.createElement("strong");
  typed.textContent = `You typed ${saidOf(entry)} into an example.`;
  const rest = ` The other figures are of “${form.dataset.exampleLabel}”, invented. Keep them, or start with your own figures only?`;
  words.append(typed, rest);
  const buttons = document.createElement("div");
  buttons.className = "form-end";
  const empty = plainButton("Empty the rest");
  empty.dataset.action = "empty-example";
  const keep = plainButton("Keep them, marked", "button button--quiet");
  keep.dataset.action = "keep-example";
  buttons.append(empty, keep);
  place.replaceChildren(words, buttons);
  place.hidden = false;
}

/** @param {Control} entry */
function saidOf(entry) {
  const unit = entry.parentElement?.querySelector(".affix")?.textContent ?? "";
  if (entry instanceof HTMLTextAreaElement) return "a list";
  return entry.type === "hidden" || entry instanceof HTMLSelectElement
    ? "a figure"
    : `${entry.value.trim()}${unit ? `\u202f${unit}` : ""}`;
}

/**
 * The example's other figures stay; that they are an example's goes on being told.
 *
 * @param {HTMLFormElement} form
 */
export function keepExample(form) {
  const line = document.createElement("p");
  line.textContent = `Figures of the example “${form.dataset.exampleLabel}”, invented, are still here among yours; each is marked.`;
  part(form, ".example-mark").replaceChildren(line);
}

/**
 * Returns the place where it is asked what becomes of the example's figures; null while it is not.
 *
 * @param {ParentNode} card
 * @returns {HTMLElement | null}
 */
export const exampleQuestion = (card) => card.querySelector(".example-mark [data-action=keep-example]");

/**
 * Empties what is the example's.  A row in which nothing was typed goes; of the others what the
 * card was added with stays.
 *
 * @param {HTMLFormElement} form
 */
export function emptyExample(form) {
  part(form, ".example-mark").hidden = true;
  for (const row of parts(form, "[data-example-rows] tbody tr")) row.remove();
  for (const row of parts(form, "[data-row]")) {
    const cells = controls(row, "[data-cell]:not([data-brought])");
    const isOwn = cells.some((each) => each.value.trim() && !isOf(each));
    const isReady = row.closest("[data-skips-blank]") !== null;
    if (!isOwn && !isReady) row.remove();
    else for (const each of controls(row, MARKED)) if (isReady || !isBrought(each)) empty(each);
    if (!isOwn && isReady) for (const each of controls(row, "[data-brought]")) each.value = "";
    if (row.isConnected) refreshRow(row);
  }
  for (const each of controls(form, MARKED)) {
    if (each.closest("[data-row]")) delete each.dataset.example;
    else empty(each);
  }
  nameExample(form, "");
}

/** @param {Control} cell */
const isOf = (cell) =>
  cell.dataset.example !== undefined ||
  cell.closest(".field")?.querySelector("[data-pair][data-example]") !== null;

/** What a card comes with stays: its button would bring it. @param {Control} cell */
const isBrought = (cell) => cell.dataset.kept !== undefined;

/** @param {Control} entry */
function empty(entry) {
  entry.value = "";
  delete entry.dataset.example;
  if (entry.type === "hidden" && entry.closest(".choices")) showChoice(entry);
  if (entry.dataset.pair === undefined) return;
  for (const each of controls(entry.parentElement ?? entry, "input[data-cell]")) each.value = "";
}

/**
 * Tells in the form which example still stands in it.
 *
 * @param {HTMLFormElement} form
 * @param {string} name
 */
function nameExample(form, name) {
  form.dataset.example = name;
  const field = form.querySelector('[data-field="example"]');
  if (field) control(field, "[name]").value = name;
}
