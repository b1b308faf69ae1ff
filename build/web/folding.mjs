/* Cards that fold to one line when they are answered, each figure with its origin's mark. */

/** @import { Control } from "./dom.mjs" */

import { control, controls, named, part, parts } from "./dom.mjs";

/**
 * Tells whether everything that a card asks for is answered, and nothing wrong in it.
 *
 * @param {HTMLElement} card
 */
export function isDone(card) {
  const asked = controls(card, "[data-asked]");
  return (
    asked.length > 0 &&
    asked.every((each) => each.value.trim() !== "") &&
    !card.querySelector("[aria-invalid=true]")
  );
}

/** @param {HTMLElement} card */
const isOpen = (card) => !card.classList.contains("card--closed");

/**
 * Folds a card to a line, or opens it.
 *
 * @param {HTMLElement} card
 * @param {boolean} isFolded
 */
export function fold(card, isFolded) {
  if (isFolded) writeLine(card);
  card.classList.toggle("card--closed", isFolded);
}

/**
 * Folds what is answered: when a form was filled, everything; else what the reader has left by a
 * tap on something else.  What is touched stays where it is under the finger.
 *
 * @param {ParentNode} form
 * @param {HTMLElement | null} touched
 */
export function foldDone(form, touched) {
  const part = touched?.closest(".part");
  const isMove = touched?.closest("[data-action=add-card], [data-action=open-card]");
  const left = parts(form, ".card").filter((card) => {
    if (!isOpen(card) || card.contains(document.activeElement)) return false;
    const isLeft = !touched || (!card.contains(touched) && (isMove || part !== card.closest(".part")));
    const isEmpty = card.dataset.left !== undefined && !isBegun(card);
    return isLeft && (isDone(card) || (!touched && isEmpty));
  });
  const before = touched?.getBoundingClientRect().top ?? 0;
  for (const card of left) fold(card, true);
  const after = touched?.getBoundingClientRect().top ?? 0;
  if (touched && after !== before) window.scrollBy(0, after - before);
}

/**
 * Writes every card's line anew: on paper even an open card is one.
 *
 * @param {ParentNode} form
 */
export function writeLines(form) {
  for (const card of parts(form, ".card")) writeLine(card);
}

/** @param {HTMLElement} card */
const isBegun = (card) => controls(card, "[data-asked], textarea").some((each) => each.value.trim());

/**
 * Writes what a card says as one line, each figure with its origin's mark.
 *
 * @param {HTMLElement} card
 */
function writeLine(card) {
  const place = part(card, ".card__line .card__said");
  const asked = controls(card, "[data-asked], textarea").filter((each) => each.value.trim());
  const button = part(card, "[data-action=open-card]");
  const { opens } = button.dataset;
  if (opens) {
    const word = asked.length === 0 ? opens : "Change";
    button.textContent = word;
    named(button, `${word}: ${part(card, "[data-title]").textContent}`);
  }
  if (asked.length === 0) {
    place.textContent = card.dataset.left ?? "";
    return;
  }
  const said = asked.map(saidOf);
  const stepper = card.querySelector(".stepper");
  // A choice that is all of a card is its title.
  const [only] = said;
  if (!stepper && only && said.length === 1 && asked[0]?.type === "hidden") {
    part(card, ".card__line strong").replaceChildren(...only);
    place.textContent = isOfExample(asked[0]) ? "example" : "";
    return;
  }
  const count = stepper && control(stepper, "input");
  const counted = (count?.dataset.words ?? "").split("|")[Number(count?.value)] ?? count?.value;
  const words = originWords(asked);
  const figures = said.map((each, at) => [...each, words[at] ?? ""]);
  const all = counted ? [[counted], ...figures] : figures;
  place.replaceChildren(...all.flatMap((each, at) => (at > 0 ? [", ", ...each] : each)));
}

/** @param {Control} asked */
const isOfExample = (asked) => asked.dataset.example !== undefined;

/**
 * The word after each figure: one for all where all are an example's, none where none is.
 *
 * @param {Control[]} asked
 */
function originWords(asked) {
  if (!asked.some(isOfExample)) return [];
  if (!asked.every(isOfExample)) return asked.map((each) => (isOfExample(each) ? " example" : " yours"));
  return asked.map((_, at) => (at === asked.length - 1 ? " example" : ""));
}

/**
 * @param {Control} asked
 * @returns {(string | Node)[]}
 */
function saidOf(asked) {
  if (asked instanceof HTMLTextAreaElement) return ["a list is given"];
  if (asked.type === "hidden") {
    const pressed = asked.parentElement?.querySelector("[aria-pressed=true]")?.textContent ?? "";
    const label = asked.dataset.asked ?? "";
    return /^(yes|no)$/.test(pressed) ? [`${label.replace("?", "").toLowerCase()}: ${pressed}`] : [pressed];
  }
  const unit = asked.parentElement?.querySelector(".affix")?.textContent ?? "";
  const mark = document.createElement("span");
  mark.className = `of of--${isOfExample(asked) ? "example" : "yours"}`;
  const figure = document.createElement("span");
  figure.className = "figure";
  const { pair } = asked.dataset;
  const text = asked.value.trim();
  figure.textContent = pair ? text.replace(/\s*[x*×]\s*/i, ` ${pair} `) : text;
  const small = document.createElement("span");
  small.className = "unit";
  small.textContent = unit ? `\u202f${unit}` : "";
  mark.append(figure, small);
  return [mark];
}
