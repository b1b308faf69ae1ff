/* A calculator's card as the page holds it: its parts, and the line that is read out. */

/** @import { Unsaved } from "./over-reload.mjs" */

import { Arranged, isArranged } from "./arranged.mjs";
import { part } from "./dom.mjs";
import { readFigures, readInputs } from "./inputs.mjs";
import { restBoxes } from "./readings.mjs";

export class Card {
  /** @param {HTMLElement} element */
  constructor(element) {
    this.element = element;
    this.id = element.id;
    this.name = element.dataset.calculator ?? "";
    /** A form in parts has more to be kept. @type {Arranged | null} */
    this.arranged = isArranged(element) ? new Arranged(this) : null;
    /** What was kept over a reload and is on its way into the form. @type {Unsaved | null} */
    this.restored = null;
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

  /** The inputs but for readings: what a system consists of. */
  figures() {
    return readFigures(this.form);
  }

  /** Others are on their way into the form: what would be typed meanwhile would be lost. */
  get isResting() {
    return this.form.inert;
  }

  /**
   * @param {{ withBoxes: boolean }} how  the boxes for readings rest as well
   */
  rest({ withBoxes }) {
    this.form.inert = true;
    restBoxes(this.answer, withBoxes);
  }

  wake() {
    this.form.inert = false;
    this.restored = null;
    restBoxes(this.answer, false);
  }

  /**
   * Says something in the line that is read out.
   *
   * @param {string} text
   */
  say(text) {
    this.part(".status").classList.remove("status--spoken", "status--sentence");
    this.part(".status").textContent = text;
  }

  /**
   * Says what an answer comes to; of a form in parts its verdicts, which are in sight already.
   *
   * @param {string} sentence
   */
  announce(sentence) {
    if (!this.arranged) {
      this.say(sentence);
      // On a page of its own the answer is beside the form, with its sentence.
      this.part(".status").classList.add("status--sentence");
      return;
    }
    const words = this.arranged.words ?? sentence;
    const status = this.part(".status");
    if (!words) {
      // Nothing new; but what was said of inputs that are mended by now must not stay.
      if (!status.classList.contains("status--spoken")) this.say("");
      return;
    }
    this.say(words);
    // Beside the answer it would stand there twice.
    status.classList.add("status--spoken");
  }

  get hasSaid() {
    return Boolean(this.part(".status").textContent);
  }
}
