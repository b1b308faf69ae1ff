/* What a calculator asks Python: requests made of the form as it stands.  While other figures are on
   their way into the form, it rests and nothing is asked of it; of those that come, the newest is
   what comes. */

/** @import { Asking } from "./asking.mjs" */
/** @import { Card } from "./card.mjs" */
/** @import { Picked } from "./files.mjs" */
/** @import { Keeping } from "./keeping.mjs" */
/** @import { CardRequest, Inputs, Reading } from "./messages.ts" */

import { messageOf, python } from "./python.mjs";
import { keptSystem } from "./system.mjs";

export class Questions {
  #card;
  #keeping;
  #asking;
  #onRest;
  #timer = 0;
  /** Counts what was to fill the form: what was read for long may not be the newest any more. */
  #turn = 0;
  #isReading = false; // a file, for the form
  #isFilling = false; // a request is under way whose reply brings a form
  /** What is done when the figures that are coming are there. @type {(() => void) | null} */
  #next = null;
  /** The inputs of the newest request, as text. */
  asked = "";
  /** Which of the system's figures were taken, where it has several. */
  about = 0;

  /**
   * @param {Card} card
   * @param {Keeping} keeping
   * @param {Asking} asking
   * @param {(isComing: boolean) => void} onRest  other figures are on their way into the form, or
   *   are not any more
   */
  constructor(card, keeping, asking, onRest) {
    this.#card = card;
    this.#keeping = keeping;
    this.#asking = asking;
    this.#onRest = onRest;
    this.formIsNew();
  }

  get isWaiting() {
    return this.#asking.isWaiting;
  }

  /** Other figures are on their way into the form. */
  get isComing() {
    return this.#isReading || this.#isFilling;
  }

  /** What stands in the form has not been answered. */
  get isTyped() {
    return this.isChanged || this.isWaiting;
  }

  /** The form holds something else than what was asked with. */
  get isChanged() {
    return this.inputsText() !== this.asked;
  }

  /** The form has been filled with what was asked for. */
  formIsNew() {
    this.asked = this.inputsText();
  }

  /** Asks for an answer to what stands in the form, unless that is on its way out. */
  answer() {
    if (this.isComing) return;
    const calculator = this.#card.name;
    const inputs = this.#card.inputs();
    if (this.#card.isLong) this.#ask({ kind: "stream", calculator, inputs, first: true });
    else this.#ask({ kind: "answer", calculator, inputs });
  }

  /**
   * Somebody is about to type.  Practised is the worked example, which takes no time: what stands in the
   * form may take seconds, and a plan takes too long, which would be waited for.
   */
  practise() {
    if (this.#card.isLong || this.#card.arranged || this.isComing || this.isWaiting) return;
    python.practise({ kind: "answer", calculator: this.#card.name, inputs: {} });
  }

  answerIfChanged() {
    if (this.isChanged) this.answer();
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
   * @param {{ isFirst?: boolean, among?: string[] }} [how]  `among`: the page's calculators, where
   *   the query is that of its address
   */
  open(query, how) {
    // What is in no link, such as a stock list, comes from the device.
    const kept = (this.#card.holdsSystem ? keptSystem() : null) ?? {};
    this.#askForForm({ kind: "open", calculator: this.#card.name, query, kept, ...how });
  }

  /**
   * Fills the form with inputs that were kept.
   *
   * @param {Inputs} inputs
   * @param {{ readings?: Reading[], isRestored?: boolean, isFirst?: boolean }} [how]
   */
  fill(inputs, how) {
    this.#askForForm({ kind: "fill", calculator: this.#card.name, inputs, ...how });
  }

  /**
   * Fills the form with a file, once it has been read.
   *
   * @param {Promise<Picked>} reading
   * @param {((text: string) => void) | null} putList  into the form's list: a spreadsheet is a
   *   list of amplifiers, never a system
   */
  async file(reading, putList) {
    this.mayReplace();
    const picked = await this.#read(reading);
    if (picked?.isTable && putList) this.#put(picked.text, putList);
    else if (picked) {
      this.#askForForm({ kind: "file", calculator: this.#card.name, text: picked.text });
    }
  }

  /**
   * Puts a file's text into a field, once it has been read and what is coming is there.
   *
   * @param {Promise<Picked>} reading
   * @param {(text: string) => void} put
   */
  async fileInto(reading, put) {
    const picked = await this.#read(reading);
    if (picked) this.#put(picked.text, put);
  }

  /**
   * @param {string} text
   * @param {(text: string) => void} put
   */
  #put(text, put) {
    if (this.#isFilling) {
      this.#next = () => put(text);
      return;
    }
    this.settle();
    put(text);
  }

  /**
   * Waits for a file; null where something newer is to fill the form by then, or where it cannot
   * be read, which is told.
   *
   * @param {Promise<Picked>} reading
   */
  async #read(reading) {
    const turn = this.#comes();
    this.#isReading = true;
    try {
      const picked = await reading;
      if (turn !== this.#turn) return null;
      this.#isReading = false;
      return picked;
    } catch (error) {
      if (turn !== this.#turn) return null;
      this.#isReading = false;
      if (!this.#isFilling) this.#keeping.hasFailed();
      this.#card.say(`The file cannot be read (${messageOf(error)}). Nothing was changed.`);
      this.settle();
      this.answerIfChanged(); // what was typed before it was picked
      return null;
    }
  }

  /**
   * Fills the form with a starting point.
   *
   * @param {number} start
   */
  start(start) {
    this.mayReplace();
    const inputs = this.#card.figures();
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
    if (this.isComing) return;
    const { about } = this;
    const system = keptSystem() ?? {};
    const inputs = this.#card.inputs();
    this.#ask({ kind: "give", calculator: this.#card.name, system, about, inputs });
  }

  /**
   * What stands in the form may be replaced by what is asked next.
   *
   * @param {{ isTyped?: boolean }} [how]
   */
  mayReplace(how) {
    this.#keeping.mayReplace(this.#card.figures(), how);
  }

  /** The form as it stands, as text. */
  inputsText() {
    return JSON.stringify(this.#card.inputs());
  }

  /** The reply is there that brings a form, or will not come. */
  arrived() {
    this.#isFilling = false;
  }

  /** The form is typed in again, unless there is more to come. */
  settle() {
    if (this.isComing) {
      this.#card.rest({ withBoxes: true });
      return;
    }
    this.#card.wake();
    this.#onRest(false);
    const next = this.#next;
    this.#next = null;
    next?.();
  }

  /**
   * What would be typed meanwhile would be lost: the form rests.  So do the boxes for readings, but
   * those of a page that was just opened: what is typed there is carried over.
   *
   * @param {boolean} [isFirst]
   */
  #comes(isFirst) {
    clearTimeout(this.#timer);
    this.#next = null; // older than this
    this.#card.rest({ withBoxes: !isFirst });
    this.#onRest(true);
    return ++this.#turn;
  }

  /** @param {CardRequest} request */
  #askForForm(request) {
    this.#comes(request.isFirst);
    this.#isReading = false;
    this.#isFilling = true;
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
