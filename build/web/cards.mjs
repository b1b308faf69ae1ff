/* Cards of a form: added with what they bring, removed and brought back.  They know no field by
   name: what a card holds is told by its attributes. */

/** @import { Control } from "./dom.mjs" */

import { around, control, controls, named, part, parts, plainButton } from "./dom.mjs";
import { fold, foldDone } from "./folding.mjs";
import { cellOf } from "./rows.mjs";
import { withoutUnit } from "./units.mjs";

let made = 0; // rows since the page was loaded: their ids must differ

/**
 * Makes a row from a table's template; its ids are its own.
 *
 * @param {HTMLElement} table
 */
export function newRow(table) {
  const template = /** @type {HTMLTemplateElement} */ (part(table, "template"));
  const row = part(/** @type {DocumentFragment} */ (template.content.cloneNode(true)), "[data-row]");
  made += 1;
  for (const each of [row, ...parts(row, "*")]) {
    for (const name of ["id", "for", "aria-labelledby", "aria-describedby"]) {
      const text = each.getAttribute(name);
      if (text) each.setAttribute(name, text.replaceAll("-r0-", `-r0x${made}-`));
    }
  }
  return row;
}

/**
 * Shows in a row what its cells say: the title, the count, what it has and what it has not.
 *
 * @param {HTMLElement} row
 */
export function refreshRow(row) {
  const { titleOf } = row.dataset;
  if (!titleOf) return;
  const name = cellOf(row, titleOf);
  const title = name.value.trim() || name.dataset.fallback || kindOf(row) || "?";
  for (const place of parts(row, "[data-title]")) place.textContent = title;
  named(row, title);
  for (const button of parts(row, ".link-button, .step-by, [data-action=paste]")) {
    if (button.closest(".result")) continue;
    named(button, `${wordOf(button)}: ${title}`);
  }
  for (const place of parts(row, "[data-count]")) {
    const count = control(around(place, ".stepper"), "input").value;
    if (place.textContent !== count) place.textContent = count; // a live region says it each time
  }
  for (const place of parts(row, "[data-when]")) {
    const [key, word] = (place.dataset.when ?? "").split("=");
    place.hidden = cellOf(row, key ?? "").value !== word;
  }
  for (const cell of controls(row, "[data-usual-for]")) showUsual(row, cell);
  for (const cell of controls(row, "[data-cell], [data-asked]")) {
    const label = cell.dataset.asked ?? cell.dataset.label;
    if (label && cell.type !== "hidden") named(cell, `${label}, ${title}`);
  }
}

/**
 * Tells the kind of a row in the words of its choice, for one without a name.
 *
 * @param {HTMLElement} row
 */
function kindOf(row) {
  if (!row.dataset.kindOf) return "";
  const cell = cellOf(row, row.dataset.kindOf);
  return cell instanceof HTMLSelectElement ? (cell.selectedOptions[0]?.textContent ?? "").trim() : "";
}

/**
 * Shows what is usual for the kind of a row.
 *
 * @param {HTMLElement} row
 * @param {Control} cell
 */
function showUsual(row, cell) {
  /** @type {Record<string, string>} */
  const words = JSON.parse(cell.dataset.usualFor ?? "{}");
  const usual = words[cellOf(row, words[""] ?? "").value] ?? "";
  const figure = usual.split(",")[0] ?? "";
  cell.setAttribute("placeholder", figure || " ");
  const hint = cell.closest(".know__row")?.querySelector(".hint");
  if (hint) hint.textContent = (hint.textContent ?? "").replace(/(?:usual .*)?$/, usual && `usual ${usual}`);
}

/** @param {HTMLElement} button */
function wordOf(button) {
  const { action } = button.dataset;
  if (action === "count-less") return "One less";
  return action === "count-more" ? "One more" : (button.textContent ?? "");
}

/**
 * Takes a choice, or takes it back; the only choice of a card folds it.
 *
 * @param {HTMLButtonElement} button
 */
export function choose(button) {
  const choices = around(button, ".choices");
  const held = control(choices, "input");
  const word = button.dataset.choose ?? "";
  held.value = held.value === word ? "" : word;
  delete held.dataset.example;
  showChoice(held);
  /** @type {HTMLElement | null} */
  const card = button.closest(".card--fields");
  if (card && held.value && controls(card, "[data-asked]").length === 1) {
    fold(card, true);
    part(card, "[data-action=open-card]").focus({ preventScroll: true });
  }
  return true;
}

/**
 * Shows which of a choice's buttons is pressed.
 *
 * @param {Control} held
 */
export function showChoice(held) {
  for (const each of parts(around(held, ".choices"), "[data-choose]")) {
    each.setAttribute("aria-pressed", String(each.dataset.choose === held.value));
  }
}

/**
 * Does what a card's own buttons are for; tells whether the inputs changed.
 *
 * @param {HTMLButtonElement} button
 */
export function pressInCards(button) {
  const { action } = button.dataset;
  if (action === "add-card") return addCards(button);
  if (action === "undo-drop") return bringBack(button);
  /** @type {HTMLElement | null} */
  const card = button.closest(".card");
  if (!card) return false;
  switch (action) {
    case "open-card":
      fold(card, false);
      (firstEmpty(card) ?? part(card, "[data-asked], textarea")).focus({ preventScroll: true });
      focusChoice(card);
      return false;
    case "drop-card":
      return drop(card);
    case "count-less":
    case "count-more":
      return count(card, action === "count-more" ? 1 : -1);
    default:
      return false;
  }
}

/** @param {HTMLElement} card */
const firstEmpty = (card) =>
  controls(card, "[data-asked]").find((each) => each.type !== "hidden" && !each.value.trim());

/**
 * A choice has its focus on its buttons.
 *
 * @param {HTMLElement} card
 */
function focusChoice(card) {
  if (card.contains(document.activeElement)) return;
  /** @type {HTMLElement | null} */
  const button = card.querySelector("[aria-pressed=true], [data-choose]");
  button?.focus({ preventScroll: true });
}

/**
 * @param {HTMLElement} card
 * @param {number} change
 */
function count(card, change) {
  const held = control(part(card, ".stepper"), "input");
  const most = (held.dataset.words ?? "").split("|").length - 1;
  const next = Number(held.value) + change;
  if (!(next >= 1 && next <= most)) return false;
  held.value = String(next);
  delete held.dataset.example;
  refreshRow(card);
  return true;
}

/**
 * Adds the cards of a button: the first of its ways whose rows are not there yet.
 *
 * @param {HTMLButtonElement} button
 */
function addCards(button) {
  const table = around(button, ".rows");
  /** @type {Record<string, string>[][]} */
  const ways = JSON.parse(button.dataset.ways ?? "[]");
  const names = new Set(parts(table, "[data-row] .card__name").map((each) => each.textContent));
  const key = part(table, "template").dataset.titleOf ?? nameKey(table);
  const way = ways.find((rows) => rows.every((row) => !names.has(row[key] ?? ""))) ?? ways.at(-1);
  /** @type {HTMLElement | null} */
  let first = null;
  for (const brought of way ?? []) {
    if (parts(table, "[data-row]").length >= Number(table.dataset.most)) break;
    const row = newRow(table);
    for (const [column, text] of Object.entries(brought)) cellOf(row, column).value = text;
    const name = cellOf(row, key);
    name.value = free(name.value, names);
    names.add(name.value);
    part(table, ".undone").before(row);
    refreshRow(row);
    first ??= row;
  }
  showRoom(table);
  if (!first) return false;
  firstEmpty(first)?.focus();
  return true;
}

/** @param {HTMLElement} table */
function nameKey(table) {
  const template = /** @type {HTMLTemplateElement} */ (part(table, "template"));
  return part(template.content, "[data-row]").dataset.titleOf ?? "";
}

/**
 * Returns a name that no other row has.
 *
 * @param {string} name
 * @param {Set<string | null>} taken
 */
function free(name, taken) {
  let at = 2;
  let own = name;
  while (taken.has(own)) own = `${name} ${at++}`;
  return own;
}

/**
 * What was removed of each table, the last one at the end.
 *
 * @type {WeakMap<HTMLElement, { row: HTMLElement, next: Element | null }[]>}
 */
const dropped = new WeakMap();

/**
 * Removes a card; all that were removed can be brought back, the last one first.
 *
 * @param {HTMLElement} card
 */
export function drop(card) {
  const table = around(card, ".rows");
  dropped.set(table, [...(dropped.get(table) ?? []), { row: card, next: card.nextElementSibling }]);
  card.remove();
  showUndone(table);
  showRoom(table);
  part(table, ".add").focus({ preventScroll: true });
  return true;
}

/** @param {HTMLButtonElement} button */
function bringBack(button) {
  const table = around(button, ".rows");
  const last = dropped.get(table)?.pop();
  if (!last) return false;
  const place = last.next?.isConnected ? last.next : part(table, ".undone");
  place.before(last.row);
  showUndone(table);
  showRoom(table);
  part(last.row, "button").focus({ preventScroll: true });
  return true;
}

/**
 * Says which card was removed last, and offers to bring it back.
 *
 * @param {HTMLElement} table
 */
function showUndone(table) {
  const last = dropped.get(table)?.at(-1);
  const line = part(table, ".undone");
  line.hidden = !last;
  if (!last) return;
  const button = plainButton("Undo", "link-button");
  button.dataset.action = "undo-drop";
  line.replaceChildren(`${part(last.row, "[data-title]").textContent} removed. `, button);
}

/** @param {HTMLElement} table */
function showRoom(table) {
  const isFull = parts(table, "[data-row]").length >= Number(table.dataset.most);
  for (const each of parts(table, "[data-action=add-card]")) {
    /** @type {HTMLButtonElement} */ (each).disabled = isFull;
  }
  table.classList.toggle("rows--begun", parts(table, "[data-row]").length > 0);
}

/**
 * Gets a form's cards ready that was put into the page: what is answered is folded.
 *
 * @param {ParentNode} form
 */
export function startCards(form) {
  for (const row of parts(form, "[data-row]")) refreshRow(row);
  for (const table of parts(form, ".rows--arranged")) {
    if (table.querySelector("[data-action=add-card]")) showRoom(table);
  }
  foldDone(form, null);
}

/**
 * A text that stands for two cells is put into both: `2 × 4` is two of 4, `4` is one.
 *
 * @param {Control} entry
 */
export function splitPair(entry) {
  if (entry.dataset.pair === undefined) return;
  const [first, last] = controls(around(entry, ".field"), "input[data-cell]");
  if (!first || !last) return;
  const text = withoutUnit(entry.value, entry.dataset.unit).trim();
  const [, several, rest] = /^(\d+)\s*[×x*]\s*(.*)$/i.exec(text) ?? [];
  const alike = /^([\d.,]+)(?:\s*\+\s*\1)+$/.exec(text); // 2 + 2: as many as stand there
  first.value = alike ? String(text.split("+").length) : (several ?? "");
  last.value = alike?.[1] ?? rest ?? text;
}
