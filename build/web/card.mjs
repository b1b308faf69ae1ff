/* A calculator's card as the page holds it: its parts, and the line that is read out. */

import { Arranged } from "./arranged.mjs";
import { part } from "./dom.mjs";
import { readInputs } from "./inputs.mjs";

export class Card {
  /** @param {HTMLElement} element */
  constructor(element) {
    this.element = element;
    this.id = element.id;
    this.name = element.dataset.calculator ?? "";
    /** A form in parts has more to be kept. @type {Arranged | null} */
    this.arranged = element.querySelector("form .part__head") ? new Arranged(this) : null;
  }

  /** @param {string} selector */
  part(selector) {
    return part(this.element, selector);
  }

  get form() {
    return /** @type {HTMLFormElement} */ (this.part("form"));
  }

  get answer() {
    return this.part(".answer");
  }

  /** The page has not been left. */
  get isShown() {
    return this.element.isConnected;
  }

  get holdsSystem() {
    return this.element.querySelector("[data-system]") !== null;
  }

  /** Its answer comes in steps. */
  get isLong() {
    return this.element.dataset.streams !== undefined;
  }

  inputs() {
    return readInputs(this.form);
  }

  /**
   * Says something in the line that is read out.
   *
   * @param {string} text
   */
  say(text) {
    this.part(".status").classList.remove("status--spoken");
    this.part(".status").textContent = text;
  }

  /**
   * Says what an answer comes to; of a form in parts its verdicts, which are in sight already.
   *
   * @param {string} sentence
   */
  announce(sentence) {
    const words = this.arranged ? this.arranged.words : null;
    if (words === null) this.say(sentence);
    if (!words) return;
    this.say(words);
    this.part(".status").classList.add("status--spoken");
  }

  get hasSaid() {
    return Boolean(this.part(".status").textContent);
  }
}
