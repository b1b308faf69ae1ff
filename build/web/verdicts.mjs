/* What is said of each column of a form, put where the column is; and the words of it all. */

import { part, parts } from "./dom.mjs";
import { letter } from "./columns.mjs";
import { isChosen } from "./roles.mjs";
import { rowsOf } from "./rows.mjs";

/** The table whose rows are judged. @param {ParentNode} card @returns {HTMLElement | null} */
const judgedTable = (card) => card.querySelector("form [data-skips-blank]");

/**
 * Puts each verdict of the answer into its column.
 *
 * @param {HTMLElement} card
 */
export function placeVerdicts(card) {
  const table = judgedTable(card);
  if (!table) return;
  const places = rowsOf(table).map((row) => part(row, "[data-result]"));
  const judged = parts(card, ".answer [data-verdict-of]");
  /** @type {Set<HTMLElement>} */
  const filled = new Set();
  for (const one of judged) {
    const place = places[Number(one.dataset.verdictOf) - 1];
    if (!place) continue;
    place.replaceChildren(part(one, ".result__body").cloneNode(true));
    place.dataset.state = one.dataset.state;
    filled.add(place);
  }
  for (const place of parts(table, "[data-result]")) if (!filled.has(place)) clear(place);
  placeTogether(table, judged.find((one) => one.dataset.rows) ?? null);
}

/**
 * Puts below the columns what is said of the best of them together.
 *
 * @param {HTMLElement} table
 * @param {HTMLElement | null} judged
 */
function placeTogether(table, judged) {
  const place = part(table, "[data-together]");
  place.hidden = judged === null;
  place.dataset.rows = judged?.dataset.rows ?? "";
  place.replaceChildren(...(judged ? [...judged.cloneNode(true).childNodes] : []));
}

/** @param {HTMLElement} place */
function clear(place) {
  place.replaceChildren();
  delete place.dataset.state;
}

/**
 * Marks the verdicts as those of the figures before, or no longer.
 *
 * @param {HTMLElement} card
 * @param {boolean} areEarlier
 */
export function markEarlierVerdicts(card, areEarlier) {
  const lines = parts(card, ":is(.result, .together) .result__earlier");
  for (const line of lines) line.hidden = !areEarlier;
}

/**
 * @typedef {object} Judgement
 * @property {string} letter
 * @property {string} state
 * @property {HTMLElement} row
 */

/**
 * Returns the verdicts in sight, by the letters of their columns.
 *
 * @param {HTMLElement} card
 * @returns {Judgement[]}
 */
export function verdictsOf(card) {
  const table = judgedTable(card);
  if (!table) return [];
  /** @type {Judgement[]} */
  const found = [];
  /** @type {Judgement | null} */
  let together = null; // those that are planned are one
  parts(table, "[data-row]").forEach((row, at) => {
    const { state } = part(row, "[data-result]").dataset;
    if (!state) return;
    const one = { letter: letter(at), state, row };
    if (together && isChosen(row)) together.letter += ` + ${one.letter}`;
    else found.push(one);
    if (isChosen(row)) together ??= one;
  });
  return found;
}

/**
 * @param {Judgement[]} verdicts
 */
export const verdictWords = (verdicts) =>
  verdicts.map((each) => `${each.letter} ${each.state}`).join(", ");
