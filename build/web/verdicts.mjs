/* What is said of each column of a form, put where the column is; and the words of it all. */

import { part, parts } from "./dom.mjs";
import { letter } from "./columns.mjs";
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
  for (const line of parts(card, ".result .result__earlier")) line.hidden = !areEarlier;
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
  return parts(table, "[data-row]").flatMap((row, at) => {
    const { state } = part(row, "[data-result]").dataset;
    return state ? [{ letter: letter(at), state, row }] : [];
  });
}

/**
 * @param {Judgement[]} verdicts
 */
export const verdictWords = (verdicts) =>
  verdicts.map((each) => `${each.letter} ${each.state}`).join(", ");
