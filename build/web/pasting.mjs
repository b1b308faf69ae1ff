/* Where a pasted spec sheet goes: its figures into the card or column that it was pasted for, the
   words that each was read from below its field. */

/** @import { Parts } from "./calculator.mjs" */
/** @import { Control } from "./dom.mjs" */
/** @import { Taken } from "./paste.mjs" */

import { showChoice } from "./cards.mjs";
import { around, controls, part, parts } from "./dom.mjs";
import { openPaste } from "./paste.mjs";
import { cellOf } from "./rows.mjs";

/**
 * Opens the panel for a card.
 *
 * @param {Parts} whole
 * @param {HTMLButtonElement} button  of the card
 */
export function pasteInto(whole, button) {
  const { card } = whole;
  const row = around(button, "[data-row]");
  const about = button.dataset.about === "speaker" ? "speaker" : "amplifier";
  openPaste({
    host: hostOf(row),
    about,
    title: row.getAttribute("aria-label") ?? "",
    calculator: card.name,
    current: () => ownFigures(row),
    take: (taken) => fill(row, taken, whole),
    close: () => {
      button.focus();
      card.arranged?.showBar();
    },
    changed: () => card.arranged?.showBar(),
  });
  card.arranged?.showBar();
}

/**
 * Returns where the panel of a row stands: above all columns, or in the row's own card.
 *
 * @param {HTMLElement} row
 */
function hostOf(row) {
  const columns = row.closest(".columns");
  const before = columns ?? part(row, ".pairs");
  const last = before.previousElementSibling;
  if (last instanceof HTMLElement && last.classList.contains("paste-place")) return last;
  const host = document.createElement("div");
  host.className = "paste-place";
  before.before(host);
  return host;
}

/**
 * Returns what the reader has typed into a row; what an example or the usual value has put there
 * is not the reader's.
 *
 * @param {HTMLElement} row
 */
function ownFigures(row) {
  /** @type {Record<string, string>} */
  const figures = {};
  for (const cell of controls(row, "[data-cell]")) {
    const pair = cell.closest(".field")?.querySelector("[data-pair][data-example]");
    const isExample = cell.dataset.example !== undefined || Boolean(pair);
    const isUsual = cell.type === "hidden" && cell.value === cell.dataset.default;
    if (!isExample && !isUsual) figures[cell.dataset.cell ?? ""] = cell.value;
  }
  return figures;
}

/**
 * Fills a row: from here on the figures are the reader's own.
 *
 * @param {HTMLElement} row
 * @param {Taken} taken
 * @param {Parts} whole
 */
function fill(row, { figures, words }, { card, keeping, questions, replies }) {
  keeping.edited();
  replies.showAside();
  /** @type {Set<Control>} */
  const changed = new Set();
  for (const [key, text] of Object.entries(figures)) {
    const cell = cellOf(row, key);
    cell.value = text;
    changed.add(shown(cell));
  }
  for (const cell of changed) {
    if (cell.dataset.pair !== undefined) writePair(cell);
    card.arranged?.typed(cell);
  }
  for (const key of Object.keys(figures)) hush(row, key);
  for (const key of Object.keys(figures)) tellWords(row, key, words[key] ?? "");
  replies.answerIsDue();
  questions.answer();
  card.arranged?.isEarlier();
  const next = row.querySelector("[data-result]") ?? firstEmpty(row) ?? part(row, "button");
  /** @type {HTMLElement} */ (next).focus({ preventScroll: true });
  row.scrollIntoView({ block: "nearest" });
}

/** @param {HTMLElement} row */
const firstEmpty = (row) =>
  controls(row, "[data-asked]").find((each) => each.type !== "hidden" && !each.value.trim());

/**
 * Shows what a cell holds, where a reader sees it; returns the control that does.
 *
 * @param {Control} cell
 */
function shown(cell) {
  if (cell.type !== "hidden") return cell;
  if (cell.closest(".choices")) showChoice(cell);
  /** @type {HTMLInputElement | null} */
  const pair = cell.closest(".field")?.querySelector("[data-pair]") ?? null;
  return pair ?? cell;
}

/** Writes the one text that stands for two cells. @param {Control} entry */
function writePair(entry) {
  const [first, last] = controls(around(entry, ".field"), "input[data-cell]");
  const count = first?.value ?? "";
  const figure = last?.value ?? "";
  entry.value = Number(count) > 1 && figure ? `${count} ${entry.dataset.pair} ${figure}` : figure;
}

/**
 * @param {HTMLElement} row
 * @param {string} key
 */
const lineOf = (row, key) =>
  parts(row, ".read-from").find((each) => each.dataset.read?.split(" ").includes(key)) ?? null;

/**
 * Takes away what was said of an earlier text.
 *
 * @param {HTMLElement} row
 * @param {string} key
 */
function hush(row, key) {
  const line = lineOf(row, key);
  if (!line) return;
  line.hidden = true;
  line.textContent = "";
}

/**
 * Says below a field which words its figure was read from, until it is typed over.
 *
 * @param {HTMLElement} row
 * @param {string} key
 * @param {string} words
 */
function tellWords(row, key, words) {
  const cell = cellOf(row, key);
  const place = lineOf(row, key) ?? newLine(cell);
  if (!place) return;
  const earlier = place.textContent ?? "";
  const said = `“${words}”`;
  if (!earlier) place.textContent = `read: ${said}`;
  else if (!earlier.includes(said)) place.textContent = `${earlier}, ${said}`;
  place.hidden = false;
  const field = around(cell, ".field, .know__row");
  field.addEventListener("input", () => (place.hidden = true), { once: true });
  field.addEventListener("click", (event) => {
    if (/** @type {Element} */ (event.target).closest("[data-choose]")) place.hidden = true;
  });
}

/**
 * Makes the line of a field that has none yet; a cell that nobody sees has none.
 *
 * @param {Control} cell
 */
function newLine(cell) {
  const field = cell.closest(".know__row, .field");
  if (!field) return null;
  const line = document.createElement("span");
  line.className = "read-from";
  line.dataset.read = cell.dataset.cell ?? "";
  line.hidden = true;
  field.append(line);
  return line;
}
