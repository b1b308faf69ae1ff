/* Rows of a form as columns beside one another: a further one, and a name. */

import { newRow, refreshRow } from "./cards.mjs";
import { around, controls, part, parts } from "./dom.mjs";
import { giveRoles, setRole, showRoles } from "./roles.mjs";
import { cellOf } from "./rows.mjs";

/**
 * The letter of a column.
 *
 * @param {number} at
 */
export const letter = (at) => String.fromCharCode(65 + at);

/**
 * Does what a column's buttons are for; tells whether the inputs changed.
 *
 * @param {HTMLButtonElement} button
 */
export function pressInColumns(button) {
  const table = around(button, ".rows--arranged, .card--fields");
  switch (button.dataset.action) {
    case "add-column":
      addColumn(table);
      return false; // nothing stands in it yet
    case "name-row":
      nameRow(around(button, "[data-row]"), button);
      return false;
    case "join-row":
    case "put-off-row":
    case "leave-row":
    case "join-rows":
      return setRole(table, button);
    default:
      return false;
  }
}

/** @param {HTMLElement} table */
function addColumn(table) {
  const row = newRow(table);
  part(table, ".columns").append(row);
  giveRoles(table);
  numberColumns(table);
  part(row, "[data-asked]").focus();
}

/**
 * Gives each column its letter, and the buttons their room.
 *
 * @param {HTMLElement} table
 */
export function numberColumns(table) {
  const rows = parts(table, "[data-row]");
  rows.forEach((row, at) => {
    const name = cellOf(row, row.dataset.titleOf ?? "");
    name.dataset.fallback = `${table.dataset.noun} ${letter(at)}`;
    refreshRow(row);
    const code = document.createElement("span");
    code.className = "code";
    code.textContent = `${letter(at)} `;
    if (name.value.trim()) part(row, "strong[data-title]").prepend(code);
  });
  part(table, ".columns").dataset.count = String(rows.length);
  showRoles(table);
  const isFull = rows.length >= Number(table.dataset.byHand);
  part(table, "[data-action=add-column]").hidden = isFull;
  part(table, ".beyond").hidden = !isFull;
}

/**
 * Shows the box of a column's name, or puts it away again.
 *
 * @param {HTMLElement} row
 * @param {HTMLButtonElement} button
 */
function nameRow(row, button) {
  const name = cellOf(row, row.dataset.titleOf ?? "");
  const isShown = name.hidden;
  name.hidden = !isShown;
  part(row, "strong[data-title]").hidden = isShown;
  button.textContent = isShown ? "Done" : "Name";
  numberColumns(around(row, ".rows"));
  if (isShown) name.focus();
}

/**
 * Gets the columns of a form ready.
 *
 * @param {ParentNode} form
 */
export function startColumns(form) {
  for (const table of parts(form, "[data-skips-blank]")) {
    giveRoles(table);
    numberColumns(table);
  }
}

/**
 * Tells what a column lacks before anything can be said of it.
 *
 * @param {HTMLElement} row
 */
export const needed = (row) =>
  controls(row, "[data-needed]").find((each) => !each.value.trim()) ?? null;
