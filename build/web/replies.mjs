/* What becomes of replies on a calculator's card: answer, refusal, or why there is neither. */

/** @import { Card } from "./card.mjs" */
/** @import { Keeping } from "./keeping.mjs" */
/** @import { AnswerReply, CardReply, CardRequest, RefusedReply } from "./messages.ts" */
/** @import { Questions } from "./questions.mjs" */

import { markEarlier, putAnswer, putForm, showMarks } from "./answer.mjs";
import { isMissing, showErrors, showReadingErrors } from "./errors.mjs";
import { python } from "./python.mjs";
import { fillBoxes, keepReadings, keptReadings, readingRows } from "./readings.mjs";
import { showAbouts } from "./system.mjs";

export class Replies {
  #card;
  #keeping;
  #questions;
  #onQuery;
  #hasAnswered = false; // until then the answer is the page's own, of the example
  /** What is wrong with the next inputs is gone to: they were sent with the form's button. */
  movesToErrors = false;
  isRefused = false;
  /** The inputs of the answer shown, as an address has them. */
  query = "";

  /**
   * @param {Card} card
   * @param {Keeping} keeping
   * @param {Questions} questions
   * @param {() => void} onQuery
   */
  constructor(card, keeping, questions, onQuery) {
    this.#card = card;
    this.#keeping = keeping;
    this.#questions = questions;
    this.#onQuery = onQuery;
  }

  /**
   * @param {CardReply} reply
   * @param {CardRequest} request
   */
  show(reply, request) {
    // Whatever came of it, the form is typed in again; a refused file brings no new one.
    this.#card.form.inert = false;
    switch (reply.kind) {
      case "given":
        this.#keeping.takeBack(reply.system);
        this.#sayAside(reply.text);
        break;
      case "told":
        this.#keeping.hasFailed();
        this.#sayAside(reply.text);
        break;
      case "failed":
        this.#keeping.hasFailed();
        this.#markEarlier();
        this.#card.say(reply.text);
        break;
      default:
        this.#showFigures(reply, request);
    }
  }

  /** No reply came. */
  unanswered() {
    this.#card.form.inert = false;
    this.#markEarlier();
    this.#card.say(
      python.word ||
        "This answer could not be worked out; the one shown belongs to the earlier inputs.",
    );
  }

  /** Brings back the readings that this device keeps for the system shown. */
  recall() {
    const rows = keptReadings(this.#card.name, this.query);
    if (rows.length === 0) return;
    fillBoxes(this.#card.answer, rows);
    this.#questions.answerIfChanged();
  }

  /** Tells what can be brought back, or kept. */
  showAside() {
    this.#keeping.show(this.#card.part(".aside"), this.#questions.asked);
  }

  /** Tells how far the calculator is. */
  showState() {
    const button = this.#card.part("form [type=submit]");
    const { isWaiting } = this.#questions;
    const { state, word } = python;
    this.#card.element.classList.toggle("calculator--busy", isWaiting);
    if (!isWaiting || state === "failed") button.textContent = "Work it out";
    else if (state === "ready") button.textContent = "Working…";
    else button.textContent = "Getting the calculator ready…";
    if (state === "failed" && !this.#card.hasSaid) this.#card.say(word);
    // Where nothing was asked there is nothing to tell.
    if (state === "stopped" && !isWaiting && this.#hasAnswered) this.#card.say(word);
  }

  /** @param {string} text */
  #sayAside(text) {
    this.showAside();
    this.#card.say(text);
  }

  /**
   * @param {AnswerReply | RefusedReply} reply
   * @param {CardRequest} request
   */
  #showFigures(reply, request) {
    this.#showForm(reply, request);
    if (reply.kind === "refused") this.#showRefusal(reply, request);
    else this.#showAnswer(reply, request);
    this.movesToErrors = false;
    if (reply.kind === "answer" && reply.more) {
      this.#questions.step({ isRestored: request.isRestored });
    }
  }

  /**
   * Shows the form that came, if any, and what is told about it.
   *
   * @param {AnswerReply | RefusedReply} reply
   * @param {CardRequest} request
   */
  #showForm({ form, notices, abouts, about }, request) {
    if (abouts) this.#showTaken(abouts, about ?? 0);
    if (form !== undefined) {
      putForm(this.#card.form, form, request);
      this.#card.arranged?.start();
      this.#questions.formIsNew();
      this.#keeping.hasReplaced(this.#card.inputs(), request);
      this.showAside();
    } else this.#keeping.hasFailed();
    const place = this.#card.part(".notices");
    place.innerHTML = notices ?? "";
    place.hidden = !notices;
  }

  /**
   * What of the system can be taken, where its plan asks this calculator more than once.
   *
   * @param {string[]} abouts
   * @param {number} about
   */
  #showTaken(abouts, about) {
    this.#questions.about = about;
    showAbouts(this.#card.part(".exchange__whom"), abouts, about);
    this.#card.part("[data-exchange=give]").hidden = false;
  }

  #markEarlier() {
    markEarlier(this.#card.element, this.#hasAnswered);
  }

  /**
   * @param {AnswerReply} reply
   * @param {CardRequest} request
   */
  #showAnswer(reply, request) {
    this.isRefused = false;
    this.#hasAnswered = true;
    showErrors(this.#card.form, []);
    // Perhaps more than was asked with.
    const typed = request.readings ?? readingRows(this.#card.answer);
    const isTyped = request.kind === "answer" || Boolean(request.readings);
    putAnswer(this.#card.element, reply.html, isTyped ? typed : null);
    showMarks(this.#card.form, reply.marks);
    this.#card.arranged?.answered(!this.#questions.isChanged);
    this.#card.announce(reply.sentence);
    this.query = reply.query;
    this.#onQuery();
    if (!this.#keeping.keep(this.#card.inputs(), this.query, request)) {
      this.#card.say(`${reply.sentence} This browser does not keep the system.`);
    }
    if (this.#card.answer.querySelector("[data-reading]")) this.#showReadings(reply, isTyped);
  }

  /**
   * @param {AnswerReply} reply
   * @param {boolean} isTyped  the readings were typed here; others come from the device
   */
  #showReadings(reply, isTyped) {
    const { answer } = this.#card;
    showReadingErrors(answer, []);
    if (!isTyped) this.recall();
    else if (!keepReadings(this.#card.name, this.query, readingRows(answer))) {
      this.#card.say(`${reply.sentence} This browser does not keep the readings.`);
    }
  }

  /**
   * @param {RefusedReply} reply
   * @param {CardRequest} request
   */
  #showRefusal(reply, request) {
    showErrors(this.#card.form, reply.errors);
    const isOnlyMissing = reply.errors.every((error) => isMissing(this.#card.form, error));
    showReadingErrors(this.#card.answer, reply.errors);
    const summary = this.#card.part(".error-summary");
    summary.innerHTML = reply.html;
    summary.hidden = isOnlyMissing;
    this.isRefused = true;
    if (!isOnlyMissing || this.#hasAnswered) this.#markEarlier();
    this.#card.arranged?.isEarlier();
    // What is half mended is not lost with the page; a refused file brought nothing.
    if (reply.form === undefined && "inputs" in request) {
      this.#keeping.keep(this.#card.inputs(), this.query, request);
    }
    if (isOnlyMissing) return; // the next step says which
    const earlier = this.#card.part(".earlier").textContent;
    this.#card.say(`Some inputs cannot be used. ${earlier}`);
    if (this.movesToErrors) summary.focus();
  }
}
