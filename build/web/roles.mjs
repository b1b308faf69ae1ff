/* What the columns of a form are for: one is planned or several together, one is for later, the
   others are compared.  Of these the buttons are shown that apply. */

import { around, controls, part, parts } from "./dom.mjs";
import { newRow } from "./cards.mjs";
import { cellOf, isBlank, rowsOf } from "./rows.mjs";

const COUNTS = ["", "", "both", "all three"];

/** @param {HTMLElement} row */
const roleOf = (row) => (row.dataset.role ? cellOf(row, row.dataset.role).value : "");

/** It is planned, alone or with others. @param {HTMLElement} row */
export const isChosen = (row) => roleOf(row) === row.dataset.chosen;

/** @param {HTMLElement} row */
const isLater = (row) => roleOf(row) === row.dataset.later;

/**
 * @param {HTMLElement} row
 * @param {string | undefined} word
 */
function give(row, word) {
  const { role } = row.dataset;
  if (role && word !== undefined) cellOf(row, role).value = word;
}

/** @param {HTMLElement} table */
const isJudged = (table) => table.querySelector("[data-role]") !== null;

/**
 * Chooses rows, and no others; one that is for later stays so.
 *
 * @param {HTMLElement} table
 * @param {HTMLElement[]} rows
 */
export function chooseRows(table, rows) {
  for (const row of parts(table, "[data-row]")) {
    const { chosen, other } = row.dataset;
    if (rows.includes(row)) give(row, chosen);
    else if (!isLater(row)) give(row, isBlank(row) ? "" : other);
  }
}

/**
 * Returns the rows that the answer would install together; one that it names twice is copied.
 *
 * @param {HTMLElement} table
 */
export function rowsTogether(table) {
  const numbers = (part(table, "[data-together]").dataset.rows ?? "").split(" ").map(Number);
  const filled = rowsOf(table);
  return numbers.flatMap((number, at) => {
    const row = filled[number - 1];
    if (!row) return [];
    return numbers.indexOf(number) === at ? [row] : [copied(table, row)];
  });
}

/**
 * Puts a copy of a row behind the others: where one stands ready and empty, in its place.
 *
 * @param {HTMLElement} table
 * @param {HTMLElement} row
 */
function copied(table, row) {
  const ready = parts(table, "[data-row]").find(isBlank);
  const copy = ready ?? newRow(table);
  const cells = controls(copy, "[data-cell]");
  for (const cell of cells) cell.value = cellOf(row, cell.dataset.cell ?? "").value;
  if (!ready) part(table, ".columns").append(copy);
  return copy;
}

/**
 * The names of the columns that are planned.
 *
 * @param {HTMLElement} table
 */
export const namesOfChosen = (table) =>
  rowsOf(table)
    .filter(isChosen)
    .map((row) => part(row, "strong[data-title]").textContent ?? "");

/**
 * Takes a row in, out, or leaves it for later; tells whether the inputs changed.
 *
 * @param {HTMLElement} table
 * @param {HTMLButtonElement} button
 */
export function setRole(table, button) {
  const { action } = button.dataset;
  if (action === "join-rows") chooseRows(table, rowsOf(table));
  else {
    const row = around(button, "[data-row]");
    const { chosen, other, later } = row.dataset;
    give(row, action === "join-row" ? chosen : action === "leave-row" ? other : later);
  }
  showRoles(table);
  // Where the button has gone, its place has the focus.
  if (button.hidden) focusNear(button);
  return true;
}

/** @param {HTMLButtonElement} button */
function focusNear(button) {
  /** @type {HTMLElement | null} */
  const row = button.closest("[data-row]");
  const near = row
    ? parts(row, ".roles button:not([hidden])")[0] ?? part(row, "[data-result]")
    : parts(around(button, ".rows"), ".roles button:not([hidden])")[0];
  near?.focus({ preventScroll: true });
}

/**
 * A column that is begun is to be compared with the others until one of them is chosen.
 *
 * @param {HTMLElement} table
 */
export function giveRoles(table) {
  for (const row of parts(table, "[data-row]")) {
    if (isBlank(row)) give(row, "");
    else if (!roleOf(row)) give(row, row.dataset.other);
  }
}

/**
 * Shows the buttons that apply: beside one that is planned others can be installed too, as many as
 * a plan takes.
 *
 * @param {HTMLElement} table
 */
export function showRoles(table) {
  if (!isJudged(table)) return;
  const filled = rowsOf(table);
  const chosen = filled.filter(isChosen).length;
  const later = filled.filter(isLater).length;
  const most = Number(table.dataset.mostChosen);
  const hasRoom = chosen > 0 && chosen + later < most;
  for (const row of parts(table, "[data-row]")) {
    const is = isBlank(row) ? "" : isLater(row) ? "later" : isChosen(row) ? "chosen" : "other";
    show(row, "join", is === "later" ? chosen > 0 : is === "other" && hasRoom);
    show(row, "put-off", is === "other" ? hasRoom : is === "chosen" && chosen > 1);
    show(row, "leave", is === "later" || (is === "chosen" && chosen > 1));
    part(row, "[data-says-later]").hidden = is !== "later";
    part(row, "[data-result]").hidden = is === "later";
  }
  const all = part(table, "[data-action=join-rows]");
  const count = filled.length;
  const isOffered = chosen + later === 0 && count > 1 && count <= most;
  all.hidden = !isOffered || !part(table, "[data-together]").hidden;
  all.textContent = (all.dataset.words ?? "").replace("{count}", COUNTS[count] ?? "");
}

/**
 * @param {HTMLElement} row
 * @param {string} way
 * @param {boolean} applies
 */
function show(row, way, applies) {
  part(row, `[data-action=${way}-row]`).hidden = !applies;
}
