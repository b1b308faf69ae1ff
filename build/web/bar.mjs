/* The bar at the foot of a form in parts: the verdicts, which lead to the answer, and the next
   step, which leads to its place. */

import { part, parts, targetOf } from "./dom.mjs";
import { isExample } from "./example.mjs";
import { nextStep, toAnswer } from "./next-step.mjs";
import { verdictsOf } from "./verdicts.mjs";

const CLEAR_PX = 12; // between the bar and what has the focus
const WIDE = "(min-width: 60em)"; // the bar stands still there, as in the style sheet

/**
 * Keeps what is scrolled to clear of the bar, however high its words make it.
 *
 * @param {HTMLElement} card
 */
export function keepClearOfBar(card) {
  const bar = part(card, ".bar");
  const { style } = document.documentElement;
  const observer = new ResizeObserver(() => {
    if (!bar.isConnected) {
      observer.disconnect();
      style.removeProperty("scroll-padding-bottom");
      return;
    }
    const isStill = bar.hidden || matchMedia(WIDE).matches;
    style.setProperty("scroll-padding-bottom", isStill ? "0" : `${bar.offsetHeight + CLEAR_PX}px`);
  });
  observer.observe(bar);
}

/**
 * Shows verdicts and next step in the bar.
 *
 * @param {HTMLElement} card
 */
export function showBar(card) {
  const bar = part(card, ".bar");
  bar.hidden = card.querySelector("form .card[data-row], form .result[data-state]") === null;
  const rows = verdictsOf(card).map(({ letter, state, row }) => {
    const line = document.createElement("span");
    line.className = `bar__row bar__row--${state.replace(" ", "-")}`;
    const name = document.createElement("b");
    name.textContent = letter;
    line.append(name, " ", part(row, ".result .sign").cloneNode(true), ` ${state}`);
    return line;
  });
  const hasExample = isExample(part(card, "form"));
  const whose = document.createElement("span");
  whose.className = "bar__row";
  whose.textContent = "for an example";
  const left = part(bar, ".bar__verdicts");
  const lines = hasExample ? [...rows, whose] : rows; // apart also for who hears them
  if (rows.length > 0) left.replaceChildren(...lines.flatMap((each) => [each, " "]));
  else left.textContent = hasExample ? "an example" : "no verdict yet";
  part(bar, ".bar__step").textContent = nextStep(card)?.words ?? "To the answer";
}

/**
 * Follows a tap on the bar; tells whether it was one.
 *
 * @param {HTMLElement} card
 * @param {MouseEvent} event
 */
export function followBar(card, event) {
  const touched = targetOf(event);
  if (touched.closest(".bar__next")) {
    const step = nextStep(card);
    if (step) step.go();
    else toAnswer(card);
    return true;
  }
  if (!touched.closest(".bar__verdicts")) return false;
  toVerdicts(card);
  return true;
}

/**
 * The verdicts stand in their columns, or in the answer once one is planned.
 *
 * @param {HTMLElement} card
 */
function toVerdicts(card) {
  const [first] = verdictsOf(card);
  if (!first || card.dataset.planned !== undefined) {
    toAnswer(card);
    return;
  }
  first.row.scrollIntoView();
  for (const place of parts(first.row, "[data-result]")) place.focus({ preventScroll: true });
}
