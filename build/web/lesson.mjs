/* Lesson view: a chapter as slides for a projector, made of the page as it stands.

   Nothing is moved or copied: all blocks of the chapter but a slide's own are put out of sight, so a
   calculator on a slide is the live one.  The address ends in `#lesson-3` on the third slide. */

import { part } from "./dom.mjs";

/** A slide: a heading, and what stands below it. @typedef {{ heading: Element | null, blocks: Element[] }} Slide */

const ADDRESS = /^#lesson-(\d+)$/;
const CONTROLS = "input, select, textarea, button, summary, audio";
/** Keys, and how far each leads. @type {Record<string, number>} */
const STEPS = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1, Home: -Infinity, End: Infinity };

/** @type {Slide[]} */
let slides = [];
const root = document.documentElement;

/**
 * Returns what is shown or put out of sight as one: the parts of a chapter, a list's items singly.
 *
 * @param {Element} chapter
 * @returns {Element[]}
 */
function blocksOf(chapter) {
  return [...chapter.children].flatMap((block) =>
    block.matches("ol, ul") ? [...block.children] : [block],
  );
}

/**
 * Parts the blocks into slides: each heading begins one, and what is live has one to itself, for its
 * answer grows and shrinks.
 *
 * @param {Element[]} blocks
 * @returns {Slide[]}
 */
function slidesOf(blocks) {
  /** @type {Slide[]} */
  const made = [];
  for (const block of blocks) {
    if (block.matches("h1, h2")) {
      made.push({ heading: block, blocks: [] });
      continue;
    }
    const slide = made.at(-1);
    if (!slide || block.getBoundingClientRect().height === 0) continue;
    const before = slide.blocks.at(-1);
    if (before && (isLive(block) || before.matches(".calculator"))) made.push({ heading: slide.heading, blocks: [block] });
    else slide.blocks.push(block);
  }
  return made.filter((slide) => slide.blocks.length > 0);
}

/** @param {Element} block */
const isLive = (block) => block.matches(".calculator, .calculator-fold");

/** @returns {number} the slide that the address names, from 0; -1 where it names none */
function named() {
  const [, number] = ADDRESS.exec(location.hash) ?? [];
  return number ? Math.min(Math.max(Number(number), 1), slides.length || 1) - 1 : -1;
}

/** @param {Element} chapter */
function showAll(chapter) {
  for (const block of chapter.querySelectorAll("[data-off]")) block.removeAttribute("data-off");
}

/** @param {Element} chapter */
function begin(chapter) {
  root.dataset.lesson = "";
  const blocks = blocksOf(chapter);
  showAll(chapter);
  slides = slidesOf(blocks);
  // What finds no room on the screen goes on a slide of its own, under the same heading.
  for (let at = 0; at < slides.length; at += 1) {
    const { heading, blocks: held } = slides[at];
    /** @type {Element[]} */
    const rest = [];
    place(blocks, slides[at]);
    while (root.scrollHeight > innerHeight && held.length > 1) {
      rest.unshift(...held.splice(-1));
      place(blocks, slides[at]);
    }
    if (rest.length > 0) slides.splice(at + 1, 0, { heading, blocks: rest });
  }
}

/**
 * @param {Element[]} blocks
 * @param {Slide | undefined} slide
 */
function place(blocks, slide) {
  for (const block of blocks) {
    block.toggleAttribute("data-off", block !== slide?.heading && !slide?.blocks.includes(block));
  }
  // A list of which nothing is shown has margins all the same.
  for (const list of new Set(blocks.map((block) => block.parentElement))) {
    if (list?.matches("ol, ul")) list.toggleAttribute("data-off", !list.querySelector(":scope > :not([data-off])"));
  }
}

/** @param {Element} chapter */
function show(chapter) {
  const at = named();
  place(blocksOf(chapter), slides[at]);
  const bar = document.querySelector(".lesson-bar") ?? madeBar();
  part(bar, ".lesson-bar__at").textContent = `${at + 1} of ${slides.length}`;
  scrollTo(0, 0);
}

/** @param {Element} chapter */
function leave(chapter) {
  if (!("lesson" in root.dataset)) return;
  delete root.dataset.lesson;
  showAll(chapter);
  document.querySelector(".lesson-bar")?.remove();
  slides = [];
}

/** @returns {HTMLElement} */
function madeBar() {
  const bar = document.createElement("nav");
  bar.className = "lesson-bar";
  bar.setAttribute("aria-label", "Slides");
  /** @type {[string, () => void][]} */
  const buttons = [
    ["Back", () => go(-1)],
    ["Next", () => go(1)],
    ["Leave the lesson view", () => (location.hash = "")],
  ];
  const at = document.createElement("span");
  at.className = "lesson-bar__at";
  at.setAttribute("role", "status");
  const made = buttons.map(([words, act]) => {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button button--quiet";
    button.textContent = words;
    button.addEventListener("click", act);
    return button;
  });
  bar.append(made[0], at, ...made.slice(1));
  document.body.append(bar);
  return bar;
}

/** @param {number} step */
function go(step) {
  const to = Math.min(Math.max(named() + step, 0), slides.length - 1);
  // No entry in the history for each slide: back leads out of the lesson.
  history.replaceState(history.state, "", `#lesson-${to + 1}`);
  follow();
}

/** Shows what the address names: a slide, or the chapter as it is read. */
function follow() {
  const chapter = document.querySelector(".chapter");
  if (!chapter) return;
  if (named() < 0) {
    leave(chapter);
    return;
  }
  if (slides.length === 0) begin(chapter);
  show(chapter);
}

/** Takes up the lesson on a page that has just been shown. */
export function attachLesson() {
  slides = [];
  document.querySelector(".lesson-bar")?.remove();
  delete root.dataset.lesson;
  follow();
}

addEventListener("hashchange", follow);
addEventListener("resize", () => {
  const chapter = document.querySelector(".chapter");
  if (!chapter || named() < 0) return;
  begin(chapter);
  show(chapter);
});
document.addEventListener("keydown", (event) => {
  if (named() < 0 || event.ctrlKey || event.altKey || event.metaKey) return;
  if (event.key === "Escape") location.hash = "";
  const step = STEPS[event.key];
  const { target } = event;
  if (!step || (target instanceof Element && target.closest(CONTROLS) && !target.closest(".lesson-bar"))) return;
  event.preventDefault();
  event.stopPropagation();
  go(step);
});

