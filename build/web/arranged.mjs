/* A form in parts: cards and columns kept as they are filled, the verdicts in their columns, and
   the bar that tells them on a narrow screen and leads to the next step. */

/** @import { Card } from "./card.mjs" */
/** @import { Control } from "./dom.mjs" */

import { followBar, keepClearOfBar, showBar } from "./bar.mjs";
import { refreshRow, showChoice, splitPair, startCards } from "./cards.mjs";
import { numberColumns, startColumns } from "./columns.mjs";
import { around, control, controls, part, parts, targetOf } from "./dom.mjs";
import { typedOver } from "./example.mjs";
import { foldDone, writeLines } from "./folding.mjs";
import { nextStep, toAnswer } from "./next-step.mjs";
import { chooseRows, giveRoles, namesOfChosen, rowsTogether, showRoles } from "./roles.mjs";
import { markEarlierVerdicts, placeVerdicts, verdictsOf, verdictWords } from "./verdicts.mjs";

/**
 * Gets a form ready that was put into the page: what its cells say is shown, what is answered folded.
 *
 * @param {ParentNode} form
 */
export function startForm(form) {
  startColumns(form);
  startCards(form);
  writeLines(form);
}

/**
 * Tells whether a calculator's form is one in parts.
 *
 * @param {HTMLElement} element
 */
export const isArranged = (element) => element.querySelector("form .part__head") !== null;

export class Arranged {
  #card;
  #said = "";

  /** @param {Card} card  with a form that is ready */
  constructor(card) {
    this.#card = card;
    const { element } = card;
    element.addEventListener("click", (event) => this.#click(event));
    element.addEventListener("keydown", (event) => this.#key(event));
    keepClearOfBar(element);
    this.showBar();
  }

  /** A form was put into the page. */
  start() {
    startForm(this.#card.form);
    this.showBar();
  }

  /**
   * Something was typed into the form.
   *
   * @param {Control} entry
   */
  typed(entry) {
    splitPair(entry);
    typedOver(this.#card.form, entry);
    /** @type {HTMLElement | null} */
    const row = entry.closest("[data-row]");
    if (row) this.refresh(row);
  }

  /**
   * Shows what has changed in a row.
   *
   * @param {HTMLElement} row
   */
  refresh(row) {
    /** @type {HTMLElement | null} */
    const table = row.closest("[data-skips-blank]");
    if (!table) {
      refreshRow(row);
      return;
    }
    giveRoles(table);
    numberColumns(table);
  }

  /**
   * A button has changed the inputs.
   *
   * @param {HTMLButtonElement} button
   */
  pressed(button) {
    /** @type {HTMLElement | null} */
    const row = button.closest("[data-row]");
    if (row) this.refresh(row);
    /** @type {HTMLInputElement | null} */
    const held = button.closest(".choices, .stepper")?.querySelector("input") ?? null;
    if (held) typedOver(this.#card.form, held);
    this.isEarlier();
  }

  /** The inputs are others than those of the answer in sight. */
  isEarlier() {
    markEarlierVerdicts(this.#card.element, true);
    writeLines(this.#card.form);
    this.showBar();
  }

  /**
   * An answer was put into the page.
   *
   * @param {boolean} isCurrent  the form holds what it was asked with
   */
  answered(isCurrent) {
    const { element } = this.#card;
    if (isCurrent) placeVerdicts(element);
    else markEarlierVerdicts(element, true);
    for (const table of parts(element, "form [data-skips-blank]")) showRoles(table);
    this.showBar();
  }

  /** What is read out of an answer: the verdicts and the next step; once, where a word changed. */
  get words() {
    const { element } = this.#card;
    const verdicts = verdictsOf(element);
    if (verdicts.length === 0) return null;
    const step = nextStep(element, true);
    const words = `${verdictWords(verdicts)}. ${step ? `Next: ${step.words}` : ""}`.trim();
    const isNew = words !== this.#said;
    this.#said = words;
    return isNew ? words : "";
  }

  /** Shows verdicts and next step in the bar. */
  showBar() {
    showBar(this.#card.element);
  }

  /** @param {MouseEvent} event */
  #click(event) {
    if (followBar(this.#card.element, event)) return;
    const touched = targetOf(event);
    if (touched.closest("form")) foldDone(this.#card.form, touched);
  }

  /**
   * Plans one of the columns, or several together: they are chosen, and the form is folded to a
   * line.
   *
   * @param {HTMLButtonElement} button
   */
  choose(button) {
    const { element, form } = this.#card;
    const table = around(button, "[data-skips-blank]");
    /** @type {HTMLElement | null} */
    const row = button.closest("[data-row]");
    chooseRows(table, row ? [row] : rowsTogether(table));
    numberColumns(table);
    element.dataset.planned = "";
    const names = parts(form, ".card[data-row] .card__name").map((each) => each.textContent);
    const said = [...names, ...namesOfChosen(table)].join(", ");
    part(element, ".your-system__said").textContent = said;
    toAnswer(element);
  }

  /** Opens the parts again. */
  unplan() {
    delete this.#card.element.dataset.planned;
    part(this.#card.form, ".part__head").scrollIntoView();
  }

  /**
   * Enter goes to the next figure asked for, and sends nothing; Escape closes what was opened.
   *
   * @param {KeyboardEvent} event
   */
  #key(event) {
    const entry = targetOf(event);
    if (!entry.closest("form")) return;
    if (event.key === "Enter" && entry.matches("input[type=text]")) {
      event.preventDefault();
      const asked = controls(this.#card.form, "[data-asked]:not([type=hidden])");
      const seen = asked.filter((each) => each.checkVisibility());
      const next = seen.find(
        (each) => entry.compareDocumentPosition(each) & Node.DOCUMENT_POSITION_FOLLOWING,
      );
      next?.focus();
    } else if (event.key === "Escape") {
      /** @type {HTMLDetailsElement | null} */
      const open = entry.closest("details[open]");
      if (!open) return;
      open.open = false;
      part(open, "summary").focus();
    }
  }

  /** Shows choices as their controls hold them, after these were filled. */
  showChoices() {
    for (const each of parts(this.#card.form, ".choices")) showChoice(control(each, "input"));
  }
}
