/* Tables of a form: rows that are added, removed and moved, or all alike. */

import { around, control, controls, named, part, parts, textOf } from "./dom.mjs";
import { withoutUnit } from "./units.mjs";

/**
 * Returns the texts of a table's cells, or the number of rows that are all alike.
 *
 * @param {HTMLElement} table
 */
export function readRows(table) {
  const { columns } = table.dataset;
  if (columns !== undefined) {
    const keys = columns.split(" ");
    const all = parts(table, "[data-row]");
    // A name by its letter is told only where an empty column before it would give it another.
    return rowsOf(table).map((row, at) =>
      readRow(row, keys).map((text, column) => {
        if (text || all[at] === row) return text;
        return cellOf(row, keys[column] ?? "").dataset.fallback ?? "";
      }),
    );
  }
  const count = table.querySelector(".rows__count");
  if (count && !isTicked(part(table, "[data-action=differ]"))) {
    return control(table, ".rows__count").value;
  }
  return parts(table, "tbody tr").map((row) =>
    controls(row, "[data-cell]").map((cell) => withoutUnit(cell.value, cell.dataset.unit)),
  );
}

/**
 * Returns the texts of a row's cells.
 *
 * @param {HTMLElement} row
 * @param {string[]} keys
 */
export const readRow = (row, keys) => keys.map((key) => textOf(cellOf(row, key)));

/**
 * Returns the rows of a table that are sent; a column in which nothing stands is none.
 *
 * @param {ParentNode} table
 */
export function rowsOf(table) {
  const rows = parts(table, "[data-row]");
  if (rows.length === 0) return parts(table, "tbody tr");
  return rows.filter((row) => !isBlank(row));
}

/**
 * Tells whether nothing was said in a row that stands ready to be filled.
 *
 * @param {HTMLElement} row
 */
export function isBlank(row) {
  if (!row.closest("[data-skips-blank]")) return false;
  return controls(row, "[data-cell]:not([data-brought])").every((cell) => !cell.value.trim());
}

/**
 * @param {HTMLElement} row
 * @param {string} key
 */
export const cellOf = (row, key) => control(row, `[data-cell="${key}"]`);

/** @param {HTMLElement} box */
const isTicked = (box) => /** @type {HTMLInputElement} */ (box).checked;

/** @param {HTMLElement} table */
const least = (table) => Number(table.dataset.least);

/** @param {HTMLElement} table */
const most = (table) => Number(table.dataset.most);

/**
 * Handles a click on a table's button; tells whether the inputs changed.
 *
 * @param {HTMLButtonElement} button
 */
export function changeRows(button) {
  const table = /** @type {HTMLElement | null} */ (button.closest(".rows"));
  if (!table) return false;
  switch (button.dataset.action) {
    case "add-row":
      addRow(table);
      part(lastRow(table), "[data-cell]").focus();
      return true;
    case "row-up":
    case "row-down":
      moveRow(table, button);
      return true;
    case "remove-row":
      if (parts(table, "tbody tr").length <= least(table)) return false;
      removeRow(table, around(button, "tr"));
      return true;
    default:
      return false;
  }
}

/** @param {HTMLElement} table */
const lastRow = (table) => part(table, "tbody tr:last-child");

/**
 * @param {HTMLElement} table
 * @param {HTMLButtonElement} button
 */
function moveRow(table, button) {
  const row = around(button, "tr");
  const isUp = button.dataset.action === "row-up";
  if (isUp) row.previousElementSibling?.before(row);
  else row.nextElementSibling?.after(row);
  number(table);
  // At the table's end the button rests: its counterpart takes the focus.
  const next = button.disabled ? part(row, `[data-action=row-${isUp ? "down" : "up"}]`) : button;
  next.focus();
}

/**
 * @param {HTMLElement} table
 * @param {HTMLElement} row
 */
function removeRow(table, row) {
  const neighbour = row.nextElementSibling ?? row.previousElementSibling;
  row.remove();
  number(table);
  if (neighbour) part(neighbour, "[data-action=remove-row]").focus();
  else part(table, "[data-action=add-row]").focus();
}

/**
 * Switches between “all alike” and “each its own row”.
 *
 * @param {HTMLInputElement} tick
 */
export function differ(tick) {
  const table = around(tick, ".rows");
  part(table, ".rows__table").hidden = !tick.checked;
  const count = control(table, ".rows__count");
  around(count, ".entry").hidden = tick.checked;
  const wanted = Math.max(1, Number(count.value) || 2);
  const rows = () => parts(table, "tbody tr").length;
  if (!tick.checked && !count.value) count.value = String(Math.max(1, rows()));
  while (tick.checked && rows() < Math.min(wanted, most(table))) addRow(table);
}

/** @param {HTMLElement} table */
function addRow(table) {
  const body = part(table, "tbody");
  if (body.children.length >= most(table)) return;
  const template = /** @type {HTMLTemplateElement} */ (part(table, "template"));
  body.append(template.content.cloneNode(true));
  for (const cell of controls(lastRow(table), "[data-numbered]")) {
    cell.value = `${cell.value} ${body.children.length}`;
  }
  number(table);
}

/**
 * Numbers the rows, in sight and for who hears them.
 *
 * @param {HTMLElement} table
 */
function number(table) {
  const rows = parts(table, "tbody tr");
  rows.forEach((row, at) => {
    const name = `${row.dataset.rowName} ${at + 1}`;
    part(row, "th").textContent = String(at + 1);
    for (const cell of controls(row, "[data-cell]")) {
      named(cell, `${cell.dataset.label}, ${name}`);
    }
    named(part(row, "[data-action=remove-row]"), `Remove ${name}`);
    labelMover(row, "up", name, at === 0);
    labelMover(row, "down", name, at === rows.length - 1);
  });
  const add = /** @type {HTMLButtonElement} */ (part(table, "[data-action=add-row]"));
  add.disabled = rows.length >= most(table);
}

/**
 * @param {HTMLElement} row
 * @param {"up" | "down"} way
 * @param {string} name
 * @param {boolean} isAtEnd
 */
function labelMover(row, way, name, isAtEnd) {
  /** @type {HTMLButtonElement | null} */
  const mover = row.querySelector(`[data-action=row-${way}]`);
  if (!mover) return;
  named(mover, `Move ${name} ${way}`);
  mover.disabled = isAtEnd;
}
