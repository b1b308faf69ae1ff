/* Reading and writing a calculator's form.  It moves texts and knows no field by name. */

/** @import { Control } from "./dom.mjs" */
/** @import { Inputs } from "./messages.ts" */

import { choose, pressInCards } from "./cards.mjs";
import { pressInColumns } from "./columns.mjs";
import { around, control, controls, parts, textOf } from "./dom.mjs";
import { judgedRows } from "./readings.mjs";
import { changeRows, readRows } from "./rows.mjs";

/**
 * Returns what every field holds.
 *
 * @param {HTMLFormElement} form
 */
export function readInputs(form) {
  /** @type {Inputs} */
  const inputs = {};
  for (const field of parts(form, "[data-field]")) inputs[keyOf(field)] = read(form, field);
  return inputs;
}

/**
 * Returns what every field holds but for readings, which are of one system and go into no other.
 *
 * @param {HTMLFormElement} form
 */
export function readFigures(form) {
  const inputs = readInputs(form);
  for (const field of parts(form, "[data-field]").filter(isRead)) delete inputs[keyOf(field)];
  return inputs;
}

/** @param {HTMLElement} field */
const isRead = (field) => field.querySelector("[data-action=clear-readings]") !== null;

/**
 * Tells whether the form holds something else than the page brought: typed before anybody listened.
 *
 * @param {HTMLFormElement} form
 */
export function isTypedBefore(form) {
  return controls(form, "input, select, textarea").some((control) => {
    if (control instanceof HTMLSelectElement) {
      return [...control.options].some((option) => option.selected !== option.defaultSelected);
    }
    if (control.type === "checkbox") {
      const box = /** @type {HTMLInputElement} */ (control);
      return box.checked !== box.defaultChecked;
    }
    return control.type !== "file" && control.value !== control.defaultValue;
  });
}

/** @param {HTMLElement} field */
const keyOf = (field) => field.dataset.field ?? "";

/**
 * @param {HTMLFormElement} form
 * @param {HTMLElement} field
 */
function read(form, field) {
  if (isRead(field)) {
    return judgedRows(around(form, ".calculator"));
  }
  /** @type {HTMLElement | null} */
  const table = field.querySelector(".rows");
  return table ? readRows(table) : textOf(control(field, "[name]"));
}

/**
 * Handles a click on one of the form's own buttons; tells whether the inputs changed.
 *
 * @param {HTMLFormElement} form
 * @param {HTMLButtonElement} button
 */
export function handleClick(form, button) {
  if (button.dataset.choose !== undefined) return choose(button);
  if (button.closest(".rows--arranged, .card--fields")) {
    return pressInCards(button) || pressInColumns(button);
  }
  if (button.dataset.set === undefined) return changeRows(button);
  const preset = control(around(button, "[data-field]"), "[name]");
  preset.value = button.dataset.set;
  clearOthers(form, preset);
  return true;
}

/**
 * Of fields that stand for one another, the one that is filled clears the others.
 *
 * @param {HTMLFormElement} form
 * @param {Control} filled
 */
export function clearOthers(form, filled) {
  /** @type {HTMLElement | null} */
  const kept = filled.closest("[data-alternative]");
  if (!kept || !filled.value.trim()) return;
  for (const field of parts(form, "[data-alternative]")) {
    if (field.dataset.alternative !== kept.dataset.alternative) control(field, "[name]").value = "";
  }
}

/**
 * Cells that refer to the name in a cell, to be changed with it.
 *
 * @typedef {object} References
 * @property {Control} cell  where the name is typed
 * @property {string} name  as it was before
 * @property {Control[]} others  where the other rows have their names
 * @property {Control[]} referring
 */

/**
 * Returns the cells that refer to the name in a cell; null where another row has the same name:
 * whose they are cannot be told then.
 *
 * @param {HTMLFormElement} form
 * @param {Control} cell
 * @returns {References | null}
 */
export function renameWith(form, cell) {
  const { names } = cell.dataset;
  const name = cell.value;
  if (!names || !name) return null;
  const others = controls(form, `[data-names="${names}"]`).filter((other) => other !== cell);
  if (others.some((other) => other.value === name)) return null;
  const cells = controls(form, `[data-refers="${names}"]`);
  return { cell, name, others, referring: cells.filter((each) => each.value === name) };
}

/**
 * Changes what refers to a name.  A name that another row has already is no new one: what refers
 * keeps the name before.
 *
 * @param {References | null} references
 * @param {Control} cell
 */
export function follow(references, cell) {
  if (references?.cell !== cell) return;
  const { others, referring, name } = references;
  const isTaken = others.some((other) => other.value === cell.value);
  for (const each of referring) each.value = isTaken ? name : cell.value;
}
