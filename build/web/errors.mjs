/* What is wrong, at the place where it is.  The place is the error's field, row and column; what
   its message says is for the reader, and nothing is read out of it. */

/** @import { Control } from "./dom.mjs" */
/** @import { FieldError, Raw } from "./messages.ts" */

import { controls, part, parts } from "./dom.mjs";
import { rowsOf } from "./rows.mjs";

/**
 * Opens what hides an element of the form.
 *
 * @param {Element} hidden
 */
export function unfold(hidden) {
  let fold = hidden.closest("details");
  while (fold) {
    fold.open = true;
    fold = fold.parentElement?.closest("details") ?? null;
  }
}

/**
 * Marks a control as wrong, or no longer.
 *
 * @param {Control} control
 * @param {boolean} isWrong
 */
function mark(control, isWrong) {
  if (isWrong) control.setAttribute("aria-invalid", "true");
  else control.removeAttribute("aria-invalid");
}

/**
 * Shows each message at its field and takes away those that no longer hold.
 *
 * @param {HTMLFormElement} form
 * @param {FieldError[]} errors
 */
export function showErrors(form, errors) {
  for (const field of parts(form, "[data-field]")) {
    const all = errors.filter((error) => error.field === field.dataset.field);
    const ofField = showInRows(field, all.filter((error) => !isMissing(form, error)));
    const place = part(field, ".error");
    place.textContent = ofField.map((error) => error.message).join(" ");
    place.hidden = ofField.length === 0;
    field.classList.toggle("field--wrong", ofField.length > 0);
    const wrong = all.filter((error) => !isMissing(form, error)).flatMap((error) => wrongControls(field, error));
    for (const control of controlsOf(field)) mark(control, wrong.includes(control));
    if (ofField.length > 0) unfold(field);
    for (const control of wrong) unfoldCard(control);
  }
}

/** @param {HTMLElement} field */
const controlsOf = (field) => controls(field, "input, select, textarea");

/**
 * Returns what an error is about: a cell, a row where no column is told, or all of the field.
 *
 * @param {HTMLElement} field
 * @param {FieldError} error
 */
function wrongControls(field, { row, column }) {
  const rows = rowsOf(field);
  if (row === null || rows.length === 0) return controlsOf(field);
  const wrong = rows[row - 1];
  const cells = wrong ? controls(wrong, "[data-cell]") : [];
  const named = cells.filter((cell) => cell.dataset.cell === column);
  return (named.length > 0 ? named : cells).map(inSight);
}

/**
 * A cell that a script fills is marked where its text is typed.
 *
 * @param {Control} cell
 * @returns {Control}
 */
function inSight(cell) {
  if (cell.type !== "hidden") return cell;
  return cell.closest(".field")?.querySelector("[data-pair]") ?? cell;
}

/** @param {Control} control */
function unfoldCard(control) {
  if (control.dataset.pair === undefined && control.type === "hidden") return;
  control.closest(".card")?.classList.remove("card--closed");
  unfold(control);
}

/**
 * Tells whether an error is about a figure of a card that was not typed yet: that is the next step
 * and nothing wrong.
 *
 * @param {HTMLFormElement} form
 * @param {FieldError} error
 */
export function isMissing(form, error) {
  const table = form.querySelector(`[data-field="${CSS.escape(error.field)}"] > .rows--arranged`);
  return table !== null && !error.given.trim();
}

/**
 * Shows messages in their rows, where these have a place for them; returns the others.
 *
 * @param {HTMLElement} field
 * @param {FieldError[]} errors
 */
function showInRows(field, errors) {
  const rows = rowsOf(field);
  for (const place of parts(field, "[data-wrong]")) {
    place.hidden = true;
    place.textContent = "";
  }
  return errors.filter(({ row, column, message }) => {
    const at = row === null ? undefined : rows[row - 1];
    const place = column && at ? at.querySelector(`[data-wrong~="${CSS.escape(column)}"]`) : null;
    if (!(place instanceof HTMLElement)) return true;
    // Beside its box neither the field's name nor the row's number tells anything.
    place.textContent = message.replace(/^.*?: /, "").replace(`Row ${row}: `, "");
    place.hidden = false;
    return false;
  });
}

/**
 * Shows what is wrong with a reading beside its box.  An error's row counts the readings as they
 * were read; one without a row was given the key of its step.
 *
 * @param {HTMLElement} answer
 * @param {FieldError[]} errors
 * @param {Raw} [rows]  the readings as they were asked with
 */
export function showReadingErrors(answer, errors, rows = []) {
  const messages = new Map();
  for (const { field, row, given, message } of errors) {
    if (field !== "readings") continue;
    const step = row === null ? given : [...rows][row - 1]?.[0];
    // Beside its box neither the field's name nor the row's number tells anything.
    messages.set(step, message.replace(/^.*?: /, "").replace(`Row ${row}: `, ""));
  }
  for (const box of controls(answer, "[data-reading]")) {
    const text = messages.get(box.dataset.reading) ?? "";
    const place = box.parentElement?.querySelector(".reading__error");
    if (!(place instanceof HTMLElement)) continue;
    place.textContent = text;
    place.hidden = !text;
    mark(box, Boolean(text));
  }
}
