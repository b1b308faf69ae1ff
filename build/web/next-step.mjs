/* The next step of a form in parts: the first that applies.  What depends on the form alone is
   looked up in it; the rest comes with the answer. */

/** @import { Control } from "./dom.mjs" */

import { needed } from "./columns.mjs";
import { around, controls, part, parts } from "./dom.mjs";
import { unfold } from "./errors.mjs";
import { exampleQuestion } from "./example.mjs";
import { fold, isDone } from "./folding.mjs";
import { cellOf, rowsOf } from "./rows.mjs";
import { verdictsOf } from "./verdicts.mjs";

/**
 * @typedef {object} Step
 * @property {string} words
 * @property {() => void} go
 * @property {boolean} [isSkipped]  it was left without an answer
 */

/**
 * Returns the next step; null where there is none.
 *
 * @param {HTMLElement} card
 * @param {boolean} [isOfAnswer]  the answer was just put there: nothing is asked of whose it is
 * @returns {Step | null}
 */
export function nextStep(card, isOfAnswer = false) {
  const asked = [missing(card, isOpen), told(card, isOfAnswer), missing(card, isSkipped)];
  const [first, ...later] = asked.filter((step) => step !== null);
  const step = first?.isSkipped ? (later.find((each) => !each.isSkipped) ?? plan(card) ?? first) : first;
  return mend(card) ?? finishPaste(card) ?? settleExample(card) ?? step ?? plan(card);
}

/**
 * A question that was left without an answer comes back last; tells whether it was one.
 *
 * @param {HTMLElement} left  what the focus leaves
 */
export function skip(left) {
  const isAsked = left.matches("form [data-asked], form [data-needed], form [data-cell], form [name]");
  if (!isAsked || !("value" in left) || String(left.value).trim()) return false;
  left.dataset.skipped = "";
  return true;
}

/** @param {HTMLElement} asked */
const isSkipped = (asked) => asked.dataset.skipped !== undefined;

/** @param {HTMLElement} asked */
const isOpen = (asked) => !isSkipped(asked);

/** @param {HTMLElement} card @returns {Step | null} */
function mend(card) {
  const [wrong] = controls(card, "form [aria-invalid=true]");
  if (!wrong) return null;
  const label = wrong.getAttribute("aria-label") ?? "the marked figure";
  return { words: `Mend: ${label}`, go: () => goTo(wrong) };
}

/** @param {HTMLElement} card @returns {Step | null} */
function finishPaste(card) {
  /** @type {HTMLElement | null} */
  const paste = card.querySelector("form .paste:not([hidden])");
  if (!paste) return null;
  const [take] = parts(paste, ".paste__end button:not([hidden])");
  const words = take?.textContent ?? "";
  if (take && words.startsWith("Take")) return { words, go: () => take.click() };
  /** @type {HTMLElement | null} */
  const box = paste.querySelector("textarea:not([hidden])");
  return { words: "Paste the text, or close", go: () => goTo(box ?? part(paste, ".paste__title")) };
}

/** @param {HTMLElement} card @returns {Step | null} */
function settleExample(card) {
  const question = exampleQuestion(card);
  return question && { words: "Keep or empty the rest?", go: () => goTo(question) };
}

/** @typedef {(asked: HTMLElement) => boolean} Which */

/**
 * @param {HTMLElement} card
 * @param {Which} which  of the boxes
 * @returns {Step | null}
 */
function missing(card, which) {
  for (const table of parts(card, "form .rows--arranged")) {
    const isCards = table.dataset.skipsBlank === undefined;
    const step = isCards ? missingInCards(table, which) : missingPower(table, which);
    if (step) return step;
  }
  return null;
}

/** @param {HTMLElement} table @param {Which} which @returns {Step | null} */
function missingInCards(table, which) {
  const cards = parts(table, "[data-row]");
  if (cards.length === 0) {
    const add = part(table, "[data-action=add-card]");
    return { words: "Add the speakers", go: () => goTo(add) };
  }
  const open = cards.filter((each) => !isDone(each)).flatMap(empties);
  return stepTo(open.find(which));
}

/** @param {HTMLElement} row */
const empties = (row) => controls(row, "[data-needed]").filter((each) => !each.value.trim());

/** @param {Control} [empty] @returns {Step | null} */
const stepTo = (empty) =>
  empty ? { words: labelOf(empty), go: () => goTo(empty), isSkipped: isSkipped(empty) } : null;

/** @param {HTMLElement} table @param {Which} which @returns {Step | null} */
function missingPower(table, which) {
  const filled = rowsOf(table);
  const rows = filled.length > 0 ? filled : parts(table, "[data-row]").slice(0, 1);
  const empty = rows.map(needed).find((each) => each && which(each));
  return stepTo(empty ?? undefined);
}

/** @param {Control} control */
const labelOf = (control) => control.getAttribute("aria-label") ?? "";

/**
 * What the answer says.
 *
 * @param {HTMLElement} card
 * @param {boolean} isOfAnswer
 * @returns {Step | null}
 */
function told(card, isOfAnswer) {
  const answer = isOfAnswer ? ".answer" : ".answer:not(.answer--earlier)";
  /** @type {HTMLElement | null} */
  const line = card.querySelector(`${answer} [data-next]`);
  if (!line) return null;
  const words = part(line, "span").textContent ?? "";
  const { next, nextField, nextRow, nextColumn } = line.dataset;
  /** @type {HTMLElement | null} */
  const field = card.querySelector(`form [data-field="${nextField}"]`);
  if (next === "choose") return nextRow ? plan(card) : planTogether(card, words);
  if (next === "answer" || !field) return { words, go: () => toAnswer(card) };
  // It asks for a first row, and there is one by now: the answer is that of the form before it.
  if (!nextRow && field.querySelector("[data-row]")) return null;
  const row = nextRow ? rowsOf(field)[Number(nextRow) - 1] : undefined;
  const place = row && nextColumn ? cellOf(row, nextColumn) : (row ?? firstControl(field));
  return { words, go: () => goTo(place), isSkipped: isSkipped(place) };
}

/** @param {HTMLElement} field @returns {HTMLElement} */
const firstControl = (field) =>
  controls(field, "input, select, textarea").find((each) => each.type !== "hidden") ??
  part(field, "button");

/** The best that can be planned. @param {HTMLElement} card @returns {Step | null} */
function plan(card) {
  const verdicts = verdictsOf(card);
  const best = ["suitable", "likely"].flatMap((state) =>
    verdicts.filter((each) => each.state === state),
  )[0];
  if (!best || card.dataset.planned !== undefined) return null;
  /** @type {HTMLElement | null} */
  const button = best.row.querySelector("[data-action=choose-row]");
  return button && { words: `See the plan with ${best.letter}`, go: () => button.click() };
}

/**
 * Several together that do better than any of them alone.
 *
 * @param {HTMLElement} card
 * @param {string} words
 * @returns {Step | null}
 */
function planTogether(card, words) {
  /** @type {HTMLElement | null} */
  const button = card.querySelector("form [data-action=choose-rows]");
  return button && { words, go: () => button.click() };
}

/** @param {HTMLElement} card */
export function toAnswer(card) {
  const answer = part(card, ".answer");
  const isPlanned = card.dataset.planned !== undefined;
  part(card, isPlanned ? ".your-system" : ".answer__head").scrollIntoView();
  answer.focus({ preventScroll: true });
}

/**
 * Goes to a place of the form, whatever hides it.
 *
 * @param {HTMLElement} place
 */
export function goTo(place) {
  const card = place.closest(".card");
  if (card) fold(/** @type {HTMLElement} */ (card), false);
  const plan = /** @type {HTMLElement} */ (around(place, ".calculator"));
  delete plan.dataset.planned;
  unfold(place);
  const isHidden = place instanceof HTMLInputElement && place.type === "hidden";
  const target = isHidden ? part(around(place, ".field"), "input:not([type=hidden]), button") : place;
  target.focus({ preventScroll: true });
  target.scrollIntoView({ block: "center" });
}
