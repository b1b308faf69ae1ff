/* Reading and writing a calculator's form.  It moves texts and knows no field by name. */

import { readingRows } from "./readings.mjs";

/* Returns { key: text, or rows of texts } of every field. */
export function readInputs(form) {
  const inputs = {};
  for (const field of form.querySelectorAll("[data-field]")) {
    if (field.querySelector("[data-action=clear-readings]")) {
      inputs[field.dataset.field] = readingRows(form.closest(".calculator"));
      continue;
    }
    const rows = field.querySelector(".rows");
    const control = field.querySelector("[name]");
    inputs[field.dataset.field] = rows ? readRows(rows) : control.value;
  }
  return inputs;
}

function readRows(rows) {
  const count = rows.querySelector(".rows__count");
  const differ = rows.querySelector("[data-action=differ]");
  if (count && !differ.checked) return count.value;
  return [...rows.querySelectorAll("tbody tr")].map((row) =>
    [...row.querySelectorAll("[data-cell]")].map((cell) => cell.value),
  );
}

/* Handles a click on one of the form's own buttons; tells whether the inputs changed. */
export function handleClick(form, button) {
  if (button.dataset.set !== undefined) {
    const control = button.closest("[data-field]").querySelector("[name]");
    control.value = button.dataset.set;
    clearOthers(form, control);
    return true;
  }
  const rows = button.closest(".rows");
  if (!rows) return false;
  const body = rows.querySelector("tbody");
  if (button.dataset.action === "add-row") {
    addRow(rows);
    body.lastElementChild.querySelector("[data-cell]").focus();
    return true;
  }
  if (button.dataset.action === "row-up" || button.dataset.action === "row-down") {
    const row = button.closest("tr");
    const up = button.dataset.action === "row-up";
    if (up) row.previousElementSibling?.before(row);
    else row.nextElementSibling?.after(row);
    number(rows);
    // At the table's end the button rests: its counterpart takes the focus.
    const next = button.disabled ? row.querySelector(`[data-action=row-${up ? "down" : "up"}]`) : button;
    next.focus();
    return true;
  }
  if (button.dataset.action === "remove-row" && body.children.length > Number(rows.dataset.least)) {
    const row = button.closest("tr");
    const near = row.nextElementSibling ?? row.previousElementSibling;
    row.remove();
    number(rows);
    (near?.querySelector("[data-action=remove-row]") ??
      rows.querySelector("[data-action=add-row]")).focus();
    return true;
  }
  return false;
}

/* Returns the cells that refer to the name in a cell, to be changed with it; null where another
   row has the same name: whose they are cannot be told then. */
export function renameWith(form, control) {
  const { names } = control.dataset;
  if (!names || !control.value) return null;
  const others = [...form.querySelectorAll(`[data-names="${names}"]`)].filter(
    (cell) => cell !== control,
  );
  if (others.some((cell) => cell.value === control.value)) return null;
  const cells = [...form.querySelectorAll(`[data-refers="${names}"]`)];
  const own = cells.filter((cell) => cell.value === control.value);
  return { control, others, own, name: control.value };
}

/* A name that another row has already is no new one: what refers keeps the name before. */
export function follow(references, control) {
  if (references?.control !== control) return;
  const { others, own, name } = references;
  const isTaken = others.some((cell) => cell.value === control.value);
  for (const cell of own) cell.value = isTaken ? name : control.value;
}

/* Returns a file's text: UTF-8, or what spreadsheets of Western Europe write in its place. */
export async function readFile(file) {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/* Takes a file's text into its field; tells the form as if it had been typed. */
export async function takeFile(picker) {
  const [file] = picker.files;
  picker.value = ""; // the same file can be taken again
  if (!file) return;
  const area = picker.closest(".document").querySelector("textarea");
  area.value = await readFile(file);
  area.dispatchEvent(new Event("change", { bubbles: true }));
}

/* Of fields that stand for one another, the one that is filled clears the others. */
export function clearOthers(form, control) {
  const own = control.closest("[data-alternative]");
  if (!own || !control.value.trim()) return;
  for (const field of form.querySelectorAll("[data-alternative]")) {
    if (field.dataset.alternative !== own.dataset.alternative) {
      field.querySelector("[name]").value = "";
    }
  }
}

/* Switches between “all alike” and “each its own row”. */
export function differ(tick) {
  const rows = tick.closest(".rows");
  rows.querySelector(".rows__table").hidden = !tick.checked;
  const count = rows.querySelector(".rows__count");
  count.closest(".entry").hidden = tick.checked;
  const wanted = Math.max(1, Number(count.value) || 2);
  const body = rows.querySelector("tbody");
  if (!tick.checked && !count.value) count.value = String(Math.max(1, body.children.length));
  while (tick.checked && body.children.length < Math.min(wanted, rows.dataset.most)) addRow(rows);
}

function addRow(rows) {
  const body = rows.querySelector("tbody");
  if (body.children.length >= Number(rows.dataset.most)) return;
  body.append(rows.querySelector("template").content.cloneNode(true));
  for (const cell of body.lastElementChild.querySelectorAll("[data-numbered]")) {
    cell.value = `${cell.value} ${body.children.length}`;
  }
  number(rows);
}

function number(rows) {
  const all = [...rows.querySelectorAll("tbody tr")];
  all.forEach((row, at) => {
    const name = `${row.dataset.rowName} ${at + 1}`;
    row.querySelector("th").textContent = String(at + 1);
    for (const cell of row.querySelectorAll("[data-cell]")) {
      cell.setAttribute("aria-label", `${cell.dataset.label}, ${name}`);
    }
    row.querySelector("[data-action=remove-row]").setAttribute("aria-label", `Remove ${name}`);
    for (const [way, end] of [["up", 0], ["down", all.length - 1]]) {
      const mover = row.querySelector(`[data-action=row-${way}]`);
      mover?.setAttribute("aria-label", `Move ${name} ${way}`);
      if (mover) mover.disabled = at === end;
    }
  });
  rows.querySelector("[data-action=add-row]").disabled = all.length >= Number(rows.dataset.most);
}

/* Opens what hides an element of the form. */
export function unfold(hidden) {
  for (let fold = hidden.closest("details"); fold; fold = fold.parentElement.closest("details")) {
    fold.open = true;
  }
}

/* Shows each message at its field and takes away those that no longer hold. */
export function showErrors(form, errors) {
  for (const field of form.querySelectorAll("[data-field]")) {
    const told = errors.filter((error) => error.field === field.dataset.field);
    const place = field.querySelector(".error");
    place.textContent = told.map((error) => error.message).join(" ");
    place.hidden = told.length === 0;
    field.classList.toggle("field--wrong", told.length > 0);
    const controls = [...field.querySelectorAll("input, select, textarea")];
    const wrong = told.flatMap((error) => wrongControls(field, controls, error));
    for (const control of controls) {
      if (wrong.includes(control)) control.setAttribute("aria-invalid", "true");
      else control.removeAttribute("aria-invalid");
    }
    if (told.length > 0) unfold(field);
  }
}

/* An error on a table tells the row and the column, or names the rows that are wrong, and in them
   the columns; one that does neither means all of them. */
function wrongControls(field, controls, { row, column, message }) {
  const rows = [...field.querySelectorAll("tbody tr")];
  if (rows.length === 0) return controls;
  if (row !== null) {
    const cells = [...(rows[row - 1]?.querySelectorAll("[data-cell]") ?? [])];
    const named = cells.filter((cell) => cell.dataset.cell === column);
    return named.length > 0 ? named : cells;
  }
  const parts = message.split(/Row (\d+): /);
  const told = new Map();
  for (let at = 1; at < parts.length; at += 2) {
    told.set(parts[at], `${told.get(parts[at]) ?? ""} ${parts[at + 1]}`);
  }
  if (told.size === 0) return controls;
  return rows.flatMap((one, at) => {
    const words = told.get(String(at + 1));
    if (words === undefined) return [];
    const cells = [...one.querySelectorAll("[data-cell]")];
    const named = cells.filter((cell) => words.includes(` ${cell.dataset.label}: `));
    return named.length > 0 ? named : cells;
  });
}
