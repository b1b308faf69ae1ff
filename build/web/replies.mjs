/* What becomes of replies on a calculator's card: answer, refusal, or why there is neither. */

/** @import { Card } from "./card.mjs" */
/** @import { Keeping } from "./keeping.mjs" */
/** @import { Control } from "./dom.mjs" */
/** @import { AnswerReply, CardReply, CardRequest, RefusedReply } from "./messages.ts" */
/** @import { Questions } from "./questions.mjs" */
/** @import { Typed } from "./readings.mjs" */

import { markEarlier, putAnswer, putForm, showMarks, unmarkEarlier } from "./answer.mjs";
import { bringsForm } from "./asking.mjs";
import { blankTexts, fillBlanks, keepBlanks, keptBlanks } from "./blanks.mjs";
import { isMissing, showErrors, showReadingErrors } from "./errors.mjs";
import { fillCorner } from "./paper.mjs";
import { python } from "./python.mjs";
import {
  carryOver, fillBoxes, judgementOf, keepReadings, keptReadings, readingRows, typedReadings,
} from "./readings.mjs";
import { showAbouts } from "./system.mjs";
import { asReply } from "./trust.mjs";

const DUE_MS = 500; // after a change, from when on the answer shown is told to be an earlier one

export class Replies {
  #card;
  #keeping;
  #questions;
  #onQuery;
  #hasAnswered = false; // until then the answer is the page's own, of the example
  /** The inputs of the answer shown, as text. */
  #answered;
  #due = 0;
  /** The box that was typed in last. @type {Control | null} */
  #read = null;
  /** The name that the readings of the answer shown are kept under. */
  #keptAs = "";
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
    this.#answered = questions.asked;
  }

  /**
   * @param {CardReply} reply
   * @param {CardRequest} request
   */
  show(reply, request) {
    if (bringsForm(request)) this.#questions.arrived();
    switch (reply.kind) {
      case "given":
        this.#keeping.takeBack(reply.system);
        this.#sayAside(reply.text);
        break;
      case "told":
        if (bringsForm(request)) this.#keeping.hasFailed();
        this.#sayAside(reply.text);
        break;
      case "failed":
        if (bringsForm(request)) this.#keeping.hasFailed();
        this.#card.say(reply.text);
        break;
      default:
        this.#showFigures(reply, request);
    }
    // Whatever came of it, the form is typed in again; a refused file brings no new one.
    this.#questions.settle();
    if (reply.kind === "failed") this.#markEarlier();
  }

  /**
   * No reply came.
   *
   * @param {CardRequest} request
   */
  unanswered(request) {
    if (bringsForm(request)) this.#questions.arrived();
    this.#questions.settle();
    this.#markEarlier();
    this.#card.say(
      python.word ||
        "This answer could not be calculated; the one shown belongs to the earlier inputs.",
    );
  }

  /**
   * Marks the answer while other figures are on their way into the form; afterwards, where it is
   * not that of the form.
   *
   * @param {boolean} isComing
   */
  showRest(isComing) {
    if (isComing) this.#markEarlier();
    else if (this.#isEarlier) this.answerIsDue();
    else this.#belongs();
  }

  /** What stands in the form has changed: an answer that is not there soon is an earlier one. */
  answerIsDue() {
    this.#due ||= setTimeout(() => {
      this.#due = 0;
      if (this.#isEarlier) this.#markEarlier();
    }, DUE_MS);
  }

  get #isEarlier() {
    return this.#questions.inputsText() !== this.#answered;
  }

  /** The answer shown is that of the form. */
  #belongs() {
    clearTimeout(this.#due);
    this.#due = 0;
    unmarkEarlier(this.#card.element);
    this.#card.arranged?.showBar();
  }

  /** The form was typed in before anybody listened: the answer shown is not that of the form. */
  isTypedBefore() {
    this.#answered = "";
  }

  /**
   * A reading is being typed: it is kept at once, unless whose it is is still to be told.
   *
   * @param {Control} box
   */
  readingIsTyped(box) {
    this.#read = box;
    if (this.#questions.isComing) return;
    this.answerIsDue();
    this.keepReadings();
  }

  /** Keeps what stands in the boxes; tells where the browser does not. */
  keepReadings() {
    const rows = readingRows(this.#card.answer);
    if (keepReadings(this.#card.name, this.#keptAs, rows)) return true;
    this.#card.say("This browser cannot keep the readings.");
    return false;
  }

  /** Keeps what stands in the blanks of the sheet, unless whose it is is still to be told. */
  keepBlanks(before = this.#keptAs) {
    if (this.#questions.isComing) return;
    if (keepBlanks(this.#keptAs, blankTexts(this.#card.answer), before)) return;
    this.#card.say("This browser cannot keep what is written here.");
  }

  /**
   * The blanks of the sheet: a system that is typed on keeps its own, another one brings its own.
   *
   * @param {string | null} before  the name of the system before it was typed on
   */
  #showBlanks(before) {
    const { answer } = this.#card;
    if (!answer.querySelector("[data-blank]")) return;
    if (before === null) fillBlanks(answer, keptBlanks(this.#keptAs));
    else this.keepBlanks(before);
  }

  /**
   * Brings back the readings that this device keeps for the system shown.
   *
   * @param {Typed[]} [typed]  typed meanwhile: they are newer
   */
  recall(typed = typedReadings(this.#card.answer)) {
    const { answer } = this.#card;
    const rows = keptReadings(this.#card.name, this.#keptAs);
    if (rows.length > 0) fillBoxes(answer, rows);
    const lost = carryOver(answer, typed);
    if (typed.length > 0) this.keepReadings();
    if (rows.length + typed.length > 0) this.#questions.answerIfChanged();
    if (lost === 0) return;
    const word = lost === 1 ? "1 reading was" : `${lost} readings were`;
    this.#card.say(`${word} left out: this system has no such step. Enter them again if they belong here.`);
  }

  /** Tells what can be brought back, or kept. */
  showAside() {
    const figures = JSON.stringify(this.#card.figures());
    this.#keeping.show(this.#card.part(".foot .aside"), this.#card.part(".aside--above"), figures);
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
      this.#keeping.hasReplaced(this.#card.figures(), request);
      this.showAside();
    } else if (bringsForm(request)) this.#keeping.hasFailed();
    const place = this.#card.part(".notices");
    place.innerHTML = asReply(notices ?? "");
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
    clearTimeout(this.#due);
    this.#due = 0;
    markEarlier(this.#card.element, this.#hasAnswered);
    this.#card.arranged?.showBar();
  }

  /**
   * @param {AnswerReply} reply
   * @param {CardRequest} request
   */
  #showAnswer(reply, request) {
    this.isRefused = false;
    this.#hasAnswered = true;
    showErrors(this.#card.form, []);
    const { answer } = this.#card;
    // Perhaps more than was asked with.
    const rows = request.readings ?? readingRows(answer);
    const isTyped = request.kind === "answer" || Boolean(request.readings);
    const typed = request.isFirst ? typedReadings(answer) : [];
    putAnswer(this.#card.element, reply.html, isTyped ? rows : null);
    showMarks(this.#card.form, reply.marks);
    this.#card.arranged?.answered(!this.#questions.isChanged);
    this.#tell(reply);
    this.query = reply.query;
    const before = this.#keptAs;
    this.#keptAs = reply.kept_as;
    // The boxes are new ones, too.
    if (bringsForm(request) && !isTyped) this.#questions.formIsNew();
    const isOfRequest = "inputs" in request && !bringsForm(request);
    this.#answered = isOfRequest ? JSON.stringify(request.inputs) : this.#questions.asked;
    this.#onQuery();
    if (!this.#keeping.keep(this.#card.figures(), this.query, request)) {
      this.#card.say(`${reply.sentence} This browser cannot keep the system.`);
    }
    this.#showBlanks(bringsForm(request) ? null : before);
    fillCorner(this.#card, this.query);
    if (!answer.querySelector("[data-reading]")) return;
    showReadingErrors(answer, []);
    if (isTyped) this.keepReadings();
    else this.recall(typed);
  }

  /**
   * Says what an answer comes to; of a reading that was typed, first of all how it is judged.
   *
   * @param {AnswerReply} reply
   */
  #tell({ sentence }) {
    const judged = judgementOf(this.#card.answer, this.#read);
    this.#read = null;
    if (judged) this.#card.say(`${judged}. ${sentence}`);
    else this.#card.announce(sentence);
  }

  /**
   * @param {RefusedReply} reply
   * @param {CardRequest} request
   */
  #showRefusal(reply, request) {
    const asked = "inputs" in request ? request.inputs : {};
    showErrors(this.#card.form, reply.errors);
    const isOnlyMissing = reply.errors.every((error) => isMissing(this.#card.form, error));
    showReadingErrors(this.#card.answer, reply.errors, asked.readings);
    const summary = this.#card.part(".error-summary");
    summary.innerHTML = asReply(reply.html);
    summary.hidden = isOnlyMissing;
    // A refused file brought nothing: the form, and its answer, are what they were.
    const isOfForm = reply.form !== undefined || !bringsForm(request);
    this.isRefused ||= isOfForm;
    if (isOfForm && (!isOnlyMissing || this.#hasAnswered)) this.#markEarlier();
    if (isOfForm) this.#card.arranged?.isEarlier();
    // What is half mended is not lost with the page.
    if (!bringsForm(request)) this.#keeping.keep(this.#card.figures(), this.query, request);
    if (isOnlyMissing) return; // the next step says which
    const earlier = isOfForm ? ` ${this.#card.part(".earlier").textContent}` : "";
    this.#card.say(`Some inputs cannot be used.${earlier}`);
    if (this.movesToErrors) summary.focus();
  }
}
