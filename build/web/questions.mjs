/* What a calculator asks Python: requests made of the form as it stands. */

/** @import { Asking } from "./asking.mjs" */
/** @import { Card } from "./card.mjs" */
/** @import { Keeping } from "./keeping.mjs" */
/** @import { CardRequest, Inputs, Reading } from "./messages.ts" */

import { keptSystem } from "./system.mjs";

export class Questions {
  #card;
  #keeping;
  #asking;
  #timer = 0;
  /** The inputs of the newest request, as text. */
  asked = "";
  /** Which of the system's figures were taken, where it has several. */
  about = 0;

  /**
   * @param {Card} card
   * @param {Keeping} keeping
   * @param {Asking} asking
   */
  constructor(card, keeping, asking) {
    this.#card = card;
    this.#keeping = keeping;
    this.#asking = asking;
    this.formIsNew();
  }

  get isWaiting() {
    return this.#asking.isWaiting;
  }

  /** What stands in the form has not been answered. */
  get isTyped() {
    return this.#inputsText() !== this.asked || this.isWaiting;
  }

  /** The form holds something else than what was asked with. */
  get isChanged() {
    return this.#inputsText() !== this.asked;
  }

  /** The form has been filled with what was asked for. */
  formIsNew() {
    this.asked = this.#inputsText();
  }

  /** Asks for an answer to what stands in the form. */
  answer() {
    const calculator = this.#card.name;
    const inputs = this.#card.inputs();
    if (this.#card.isLong) this.#ask({ kind: "stream", calculator, inputs, first: true });
    else this.#ask({ kind: "answer", calculator, inputs });
  }

  answerIfChanged() {
    if (this.#inputsText() !== this.asked) this.answer();
  }

  /**
   * Asks after a pause, unless more is typed meanwhile.
   *
   * @param {number} pause  ms
   */
  answerSoon(pause) {
    clearTimeout(this.#timer);
    this.#timer = setTimeout(() => this.answerIfChanged(), pause);
  }

  /**
   * Asks for the next step of a long answer, or to stop where it is.
   *
   * @param {{ stop?: boolean, isRestored?: boolean }} [how]
   */
  step(how) {
    const inputs = this.#card.inputs();
    this.#ask({ kind: "stream", calculator: this.#card.name, inputs, first: false, ...how });
  }

  /**
   * Fills the form from a link's query; an empty one brings the worked example back.
   *
   * @param {string} query
   */
  open(query) {
    // What is in no link, such as a stock list, comes from the device.
    const kept = this.#card.holdsSystem ? keptSystem() : null;
    this.#askForForm({ kind: "open", calculator: this.#card.name, query, kept: kept ?? {} });
  }

  /**
   * Fills the form with inputs that were kept.
   *
   * @param {Inputs} inputs
   * @param {{ readings?: Reading[], isRestored?: boolean }} [how]
   */
  fill(inputs, how) {
    this.#askForForm({ kind: "fill", calculator: this.#card.name, inputs, ...how });
  }

  /**
   * Fills the form with a file.
   *
   * @param {string} text
   */
  file(text) {
    this.mayReplace();
    this.#askForForm({ kind: "file", calculator: this.#card.name, text });
  }

  /**
   * Fills the form with a starting point.
   *
   * @param {number} start
   */
  start(start) {
    this.mayReplace();
    const inputs = this.#card.inputs();
    this.#askForForm({ kind: "start", calculator: this.#card.name, start, inputs });
  }

  /**
   * Fills the form from the system on the device.
   *
   * @param {number} about
   */
  take(about) {
    this.mayReplace();
    const system = keptSystem() ?? {};
    this.#askForForm({ kind: "take", calculator: this.#card.name, system, about });
  }

  /** Gives the form's figures back to the system. */
  give() {
    const { about } = this;
    const system = keptSystem() ?? {};
    const inputs = this.#card.inputs();
    this.#ask({ kind: "give", calculator: this.#card.name, system, about, inputs });
  }

  /** What stands in the form may be replaced by what is asked next. */
  mayReplace() {
    this.#keeping.mayReplace(this.#card.inputs());
  }

  #inputsText() {
    return JSON.stringify(this.#card.inputs());
  }

  /**
   * What would be typed meanwhile would be lost: the form rests until the reply is there.
   *
   * @param {CardRequest} request
   */
  #askForForm(request) {
    this.#card.form.inert = true;
    this.#ask(request);
  }

  /** @param {CardRequest} request */
  #ask(request) {
    clearTimeout(this.#timer); // what was typed is in this request
    if (!this.#card.isShown) return;
    if ("inputs" in request) this.asked = JSON.stringify(request.inputs);
    this.#asking.ask(request);
  }
}
