/* Putting replies into the page: form, answer, marks.  What is open, and the focus, stays. */

/** @import { CardRequest, Reading } from "./messages.ts" */

import { blankTexts, fillBlanks } from "./blanks.mjs";
import { around, part, parts, targetOf } from "./dom.mjs";
import { unfold } from "./errors.mjs";
import { priceInHand, showPrices } from "./prices.mjs";
import { fillBoxes } from "./readings.mjs";
import { followBoxes } from "./scrolling.mjs";
import { leadOn } from "./site.mjs";
import { asReply } from "./trust.mjs";

/** @param {HTMLElement} whole */
const openFolds = (whole) => [...whole.querySelectorAll("details")].map((fold) => fold.open);

/**
 * @param {HTMLElement} whole
 * @param {boolean[]} open
 */
function openAgain(whole, open) {
  whole.querySelectorAll("details").forEach((fold, at) => (fold.open = open[at] ?? false));
}

/**
 * Puts a form in place of the one before.
 *
 * @param {HTMLFormElement} form
 * @param {string} html
 * @param {CardRequest} request  that brought it
 */
export function putForm(form, html, request) {
  const card = around(form, ".calculator");
  const open = openFolds(form);
  form.outerHTML = asReply(html);
  const put = part(card, "form");
  openAgain(put, open);
  keepPickers(form, put);
  // The button that was pressed is gone with the old form; its like has the focus.
  const pressed = pressedFor(request);
  if (pressed) focusOn(put, pressed);
}

/**
 * Puts the old form's file pickers into the new one: a file may be being chosen with one of them.
 *
 * @param {HTMLElement} before
 * @param {HTMLElement} put
 */
function keepPickers(before, put) {
  const pickers = (/** @type {HTMLElement} */ form) => parts(form, "input[type=file]");
  const fresh = pickers(put);
  pickers(before).forEach((picker, at) => fresh[at]?.replaceWith(picker));
}

/** @param {CardRequest} request */
function pressedFor(request) {
  if (request.kind === "open" && request.query === "") return "[data-action=reset]";
  return request.kind === "start" ? `[data-start="${request.start}"]` : "";
}

/**
 * Moves the focus to an element, if it is there.
 *
 * @param {HTMLElement} whole
 * @param {string} selector
 */
function focusOn(whole, selector) {
  /** @type {HTMLElement | null} */
  const element = whole.querySelector(selector);
  element?.focus({ preventScroll: true });
}

// What is typed into in an answer: boxes of readings, and blanks.
const TYPED = "[data-reading], [data-blank]";

/** @param {HTMLElement} box */
function selectorOf({ dataset }) {
  const { reading, blank } = dataset;
  return reading === undefined ? `[data-blank="${blank}"]` : `[data-reading="${reading}"]`;
}

/**
 * Puts an answer in place of the one before, with the readings that were typed into it, if any.
 *
 * @param {HTMLElement} card
 * @param {string} html
 * @param {Reading[] | null} readings
 */
export function putAnswer(card, html, readings) {
  const answer = part(card, ".answer");
  /** @type {HTMLElement | null | undefined} */
  const box = document.activeElement?.closest(TYPED);
  const blanks = blankTexts(answer);
  const isStopping = Boolean(document.activeElement?.closest(".progress"));
  const open = openFolds(answer);
  const takeUpPrice = priceInHand(answer);
  const stays = box && readings && putAround(answer, html, box);
  if (!stays) answer.innerHTML = asReply(html);
  leadOn(answer);
  followBoxes(answer);
  openAgain(answer, open);
  fillBlanks(answer, blanks);
  if (readings) fillBoxes(answer, readings);
  if (box && readings && !stays) focusOn(answer, selectorOf(box));
  if (isStopping) focusOn(answer, ".progress button");
  takeUpPrice();
  showPrices(answer);
  for (const gone of [".error-summary", ".qr"]) part(card, gone).hidden = true;
}

/**
 * Puts an answer around the box that is being typed in, which stays as it is: with its caret, and
 * with a phone's keyboard open.  Tells whether the answer has such a box.
 *
 * @param {HTMLElement} answer
 * @param {string} html
 * @param {HTMLElement} box
 */
function putAround(answer, html, box) {
  const template = document.createElement("template");
  template.innerHTML = asReply(html);
  const like = template.content.querySelector(selectorOf(box));
  const old = wayTo(box, answer);
  const fresh = like ? wayTo(like, template.content) : [];
  const isAlike = old.length === fresh.length && old.every((each, at) => {
    return each.localName === fresh[at]?.localName;
  });
  if (!isAlike) return false;
  old.forEach((stays, at) => {
    const other = /** @type {Element} */ (fresh[at]);
    for (const sibling of [...(stays.parentNode?.childNodes ?? [])]) {
      if (sibling !== stays) sibling.remove();
    }
    const siblings = [...(other.parentNode?.childNodes ?? [])];
    const place = siblings.indexOf(other);
    stays.before(...siblings.slice(0, place));
    stays.after(...siblings.slice(place + 1));
    if (stays !== box) stays.className = other.className;
  });
  return true;
}

/**
 * Returns the elements from a whole down to one of its parts.
 *
 * @param {Element} inner
 * @param {Node} whole
 */
function wayTo(inner, whole) {
  const way = [inner];
  while (way[0]?.parentElement && way[0].parentElement !== whole) way.unshift(way[0].parentElement);
  return way;
}

/**
 * Says that the answer shown does not belong to the inputs.
 *
 * @param {HTMLElement} card
 * @param {boolean} hasAnswered  it is one that was asked for, not the page's own
 */
export function markEarlier(card, hasAnswered) {
  const line = part(card, ".earlier");
  const whose = hasAnswered ? "earlier inputs" : "worked example";
  line.textContent = `This answer belongs to the ${whose}.`;
  line.hidden = false;
  part(card, ".answer").classList.add("answer--earlier");
}

/**
 * The answer shown is that of the inputs.
 *
 * @param {HTMLElement} card
 */
export function unmarkEarlier(card) {
  part(card, ".earlier").hidden = true;
  part(card, ".answer").classList.remove("answer--earlier");
}

/**
 * Shows verdicts on the steps of the form.
 *
 * @param {HTMLFormElement} form
 * @param {Record<string, string>} marks
 */
export function showMarks(form, marks) {
  for (const [heading, html] of Object.entries(marks)) {
    const legend = parts(form, "legend").find((each) => each.textContent === heading);
    if (legend) markOf(legend, heading).innerHTML = asReply(html);
  }
}

/**
 * Returns the place of a step's verdict.
 *
 * @param {HTMLElement} legend
 * @param {string} heading
 */
function markOf(legend, heading) {
  const after = legend.nextElementSibling;
  if (after?.matches("[data-mark]")) return after;
  const mark = document.createElement("p");
  mark.className = "mark";
  mark.dataset.mark = heading;
  legend.after(mark);
  return mark;
}

/**
 * Follows a link to a field or to a part of the answer; tells whether it was one.  The theme takes
 * links over on their way up: these are no change of page, and the address goes on holding the
 * figures alone.
 *
 * @param {MouseEvent} event
 */
export function followWithin(event) {
  const link = targetOf(event).closest(".error-summary a, a.jump");
  if (!link) return false;
  event.preventDefault();
  event.stopPropagation();
  const target = document.getElementById(link.getAttribute("href")?.split("#").pop() ?? "");
  if (!target) return true;
  unfold(target);
  if (link.matches(".jump")) target.scrollIntoView();
  else {
    around(target, ".field").scrollIntoView({ block: "center" });
  }
  target.focus({ preventScroll: true });
  return true;
}
