/* One calculator on the page: form in, answer out.  It puts together what types, asks and shows. */

/** @import { Unsaved } from "./over-reload.mjs" */

import { followWithin } from "./answer.mjs";
import { Asking } from "./asking.mjs";
import { press } from "./buttons.mjs";
import { Card } from "./card.mjs";
import { targetOf } from "./dom.mjs";
import { Keeping } from "./keeping.mjs";
import { isTypedBefore } from "./inputs.mjs";
import { showPrices } from "./prices.mjs";
import { python } from "./python.mjs";
import { Questions } from "./questions.mjs";
import { fillBoxes, markTypedBefore, readingRows } from "./readings.mjs";
import { Replies } from "./replies.mjs";
import { keptSystem } from "./system.mjs";
import { listenToTyping, pickFile } from "./typing.mjs";

/**
 * What a calculator consists of.
 *
 * @typedef {object} Parts
 * @property {Card} card
 * @property {Keeping} keeping
 * @property {Questions} questions
 * @property {Replies} replies
 */

export class Calculator {
  #card;
  #keeping;
  #questions;
  #replies;
  #isTypedBefore; // the form was typed in before anybody listened

  /**
   * @param {HTMLElement} element
   * @param {() => void} onQuery  called when the query has changed
   */
  constructor(element, onQuery) {
    const card = new Card(element);
    const keeping = new Keeping(card.name, card.holdsSystem);
    const asking = new Asking({
      isShown: () => card.isShown,
      slow: () => card.say("Working it out…"),
      replied: (reply, request) => replies.show(reply, request),
      unanswered: (request) => replies.unanswered(request),
      showState: () => replies.showState(),
    });
    const questions = new Questions(card, keeping, asking, (isComing) => {
      replies.showRest(isComing);
    });
    const replies = new Replies(card, keeping, questions, onQuery);
    this.#card = card;
    this.#keeping = keeping;
    this.#questions = questions;
    this.#replies = replies;
    this.#isTypedBefore = isTypedBefore(card.form);
    if (this.#isTypedBefore || markTypedBefore(card.answer)) {
      questions.asked = "";
      replies.isTypedBefore();
    }
    showPrices(card.answer);
    listenToTyping(this.#parts);
    element.addEventListener("click", (event) => this.#click(event));
    element.addEventListener("submit", (event) => {
      event.preventDefault();
      replies.movesToErrors = true;
      questions.answer();
    });
    python.onState(() => replies.showState());
    /** @type {HTMLElement | null} */
    const exchange = element.querySelector(".exchange");
    if (exchange) exchange.hidden = keptSystem() === null;
  }

  /** @returns {Parts} */
  get #parts() {
    return {
      card: this.#card,
      keeping: this.#keeping,
      questions: this.#questions,
      replies: this.#replies,
    };
  }

  get id() {
    return this.#card.id;
  }

  get name() {
    return this.#card.name;
  }

  get query() {
    return this.#replies.query;
  }

  /**
   * Fills the form as the page is opened: from its address, or with what this device keeps.
   *
   * @param {string} query
   * @param {string[]} among  the names of the page's calculators
   */
  begin(query, among) {
    const system = this.#card.holdsSystem ? keptSystem() : null;
    const isFilled = query !== "" || system !== null;
    if (isFilled && this.#isTypedBefore) this.#questions.mayReplace({ isTyped: true });
    if (query) this.#questions.open(query, { isFirst: true, among });
    else {
      this.#replies.recall();
      if (system) this.#questions.fill(system, { isFirst: true });
      else if (this.#isTypedBefore) this.#replies.answerIsDue();
      this.#questions.answerIfChanged();
    }
    // What was picked before anybody listened.
    /** @type {NodeListOf<HTMLInputElement>} */
    const pickers = this.#card.element.querySelectorAll("input[type=file]");
    for (const picker of pickers) pickFile(picker, this.#parts);
  }

  /**
   * Tells what a reload would lose: the inputs as they stand, refused ones and half-typed ones
   * too.  While others are on their way into the form, it is what the last reload would have lost.
   *
   * @returns {Unsaved | null}
   */
  unsaved() {
    if (this.#card.isResting) return this.#card.restored;
    return {
      inputs: this.#card.inputs(),
      readings: readingRows(this.#card.answer),
      query: this.query,
      isGuest: this.#keeping.isGuest,
      isTyped: this.#questions.isTyped,
    };
  }

  /**
   * Brings them back.
   *
   * @param {Unsaved} unsaved
   */
  restore(unsaved) {
    const { inputs, readings, query, isGuest, isTyped } = unsaved;
    this.#replies.query = query;
    this.#keeping.isGuest = isGuest;
    fillBoxes(this.#card.answer, readings);
    this.#questions.fill(inputs, { readings, isRestored: !isTyped });
    this.#card.restored = unsaved;
  }

  /** @param {MouseEvent} event */
  #click(event) {
    if (followWithin(event)) return;
    const button = targetOf(event).closest("button");
    /** @type {HTMLAnchorElement | null} */
    const way = targetOf(event).closest(".onward a");
    if (way) this.#follow(way, event);
    else if (button) press(button, this.#parts);
  }

  /**
   * Follows a way on; one to the calculator itself is no change of page.
   *
   * @param {HTMLAnchorElement} way
   * @param {MouseEvent} event
   */
  #follow(way, event) {
    const name = way.dataset.way ?? "";
    this.#keeping.leadsTo(name, way.search);
    if (name !== this.#card.name) return;
    event.preventDefault();
    event.stopPropagation();
    this.#questions.open(way.search);
    this.#card.element.scrollIntoView();
  }
}
