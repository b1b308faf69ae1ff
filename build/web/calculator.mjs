/* One calculator on the page: form in, answer out. */

import { followWithin, markEarlier, putAnswer, putForm, showMarks } from "./answer.mjs";
import { Asking } from "./asking.mjs";
import { clearOthers, differ, follow, handleClick, readInputs, renameWith } from "./inputs.mjs";
import { readFile, showErrors, takeFile } from "./inputs.mjs";
import { handOver, save } from "./hand-over.mjs";
import { python } from "./python.mjs";
import { fillBoxes, keepReadings, keptReadings, readingRows } from "./readings.mjs";
import { showReadingErrors } from "./readings.mjs";
import { Keeping } from "./keeping.mjs";
import { forgetSystem, keptSystem, showAbouts } from "./system.mjs";
import { playSound, saveSound } from "./sound.mjs";

const PAUSE_MS = 150; // of typing, before the inputs are sent

export class Calculator {
  #card;
  #name;
  #asking;
  #timer = 0;
  #moveToErrors = false;
  #asked = ""; // the inputs of the newest request, as text
  #isRefused = false;
  #hasAnswered = false; // until then the answer is the page's own, of the example
  #keeping;
  #references = null; // cells that refer to the name that is being changed
  #about = 0; // which of the system's figures were taken, where it has several
  query = "";
  id;

  constructor(card, onQuery, onWay) {
    this.#card = card;
    this.#name = card.dataset.calculator;
    this.id = card.id;
    this.onQuery = onQuery;
    this.onWay = onWay;
    this.#keeping = new Keeping(this.#name, this.#holdsSystem);
    this.#asked = JSON.stringify(readInputs(this.#form));
    this.#asking = new Asking({
      isShown: () => this.#card.isConnected,
      slow: () => this.#say("Working it out…"),
      replied: (reply, request) => this.#show(reply, request),
      unanswered: (error) => this.#unanswered(error),
      showState: () => this.#showState(),
    });
    for (const kind of ["input", "change"]) card.addEventListener(kind, (event) => this.#input(event));
    card.addEventListener("focusin", ({ target }) => {
      this.#references = renameWith(this.#form, target);
    });
    card.addEventListener("focusout", (event) => {
      if (event.target.closest("[data-reading]")) this.#askIfChanged();
    });
    card.addEventListener("click", (event) => this.#click(event));
    card.addEventListener("submit", (event) => {
      event.preventDefault();
      this.#moveToErrors = true;
      this.#asked = "";
      this.#ask(this.#answerRequest());
    });
    python.onState(() => this.#showState());
    const exchange = this.#part(".exchange");
    if (exchange) exchange.hidden = keptSystem() === null;
  }

  #part(selector) {
    return this.#card.querySelector(selector);
  }

  get #form() {
    return this.#part("form");
  }

  #answerRequest() {
    const inputs = readInputs(this.#form);
    const isLong = this.#card.dataset.streams !== undefined;
    return isLong
      ? { kind: "stream", calculator: this.#name, inputs, first: true }
      : { kind: "answer", calculator: this.#name, inputs };
  }

  /* Fills the form from a link's query; an empty one brings the worked example back.  What
     would be typed meanwhile would be lost: the form rests until then. */
  open(query) {
    this.#form.inert = true;
    // What is in no link, such as a shelf list, comes from the device.
    const kept = this.#holdsSystem ? keptSystem() : null;
    this.#ask({ kind: "open", calculator: this.#name, query, kept: kept ?? {} });
  }

  get #holdsSystem() {
    return this.#part("[data-system]") !== null;
  }

  /* Brings back the system that this device keeps. */
  recallSystem() {
    const system = this.#holdsSystem ? keptSystem() : null;
    if (!system) return;
    this.#form.inert = true;
    this.#ask({ kind: "fill", calculator: this.#name, inputs: system });
  }

  /* What a reload would lose: the inputs as they stand, refused ones and half-typed ones too.
     Nothing is told while others are on their way into the form. */
  unsaved() {
    if (this.#form.inert) return null;
    const inputs = readInputs(this.#form);
    return {
      inputs,
      readings: readingRows(this.#part(".answer")),
      query: this.query,
      isGuest: this.#keeping.isGuest,
      isTyped: JSON.stringify(inputs) !== this.#asked || this.#asking.isWaiting,
    };
  }

  /* Brings them back. */
  restore({ inputs, readings, query, isGuest, isTyped }) {
    this.#form.inert = true;
    this.query = query;
    this.#keeping.isGuest = isGuest;
    fillBoxes(this.#part(".answer"), readings);
    this.#ask({ kind: "fill", calculator: this.#name, inputs, readings, isRestored: !isTyped });
  }

  /* Brings back the readings that this device keeps for the system shown. */
  recall() {
    const rows = keptReadings(this.#name, this.query);
    if (rows.length === 0) return;
    fillBoxes(this.#part(".answer"), rows);
    this.#askIfChanged();
  }

  #input(event) {
    if (event.target.closest("[data-reading]")) {
      // A half-typed reading is not judged: the box is left first.
      if (event.type === "change") this.#askIfChanged();
      return;
    }
    if (!event.target.closest("form")) return;
    if (event.target.dataset.action === "open-system") {
      if (event.type === "change") this.#openFile(event.target);
      return;
    }
    if (event.target.dataset.action === "take-file") {
      if (event.type === "change") takeFile(event.target);
      return;
    }
    this.#keeping.edited();
    this.#showAside();
    if (event.target.dataset.action === "differ") differ(event.target);
    follow(this.#references, event.target);
    clearOthers(this.#form, event.target);
    clearTimeout(this.#timer);
    // Leaving a field settles it: nothing is waited for.
    const pause = event.type === "change" ? 0 : PAUSE_MS;
    this.#timer = setTimeout(() => this.#askIfChanged(), pause);
  }

  async #openFile(picker) {
    const [file] = picker.files;
    picker.value = "";
    if (!file) return;
    const text = await readFile(file);
    this.#keeping.mayReplace(readInputs(this.#form));
    this.#form.inert = true;
    this.#ask({ kind: "file", calculator: this.#name, text });
  }

  #askIfChanged() {
    const request = this.#answerRequest();
    if (JSON.stringify(request.inputs) !== this.#asked) this.#ask(request);
  }

  #click(event) {
    const button = event.target.closest("button");
    const way = event.target.closest(".onward a");
    if (followWithin(event)) return;
    if (way) {
      this.#keeping.leadsTo(way.hash.slice(1), way.search);
      if (way.pathname !== location.pathname) return;
      // To another calculator of this page: the others keep their inputs.
      event.preventDefault();
      event.stopPropagation();
      this.onWay(way.hash.slice(1), way.search);
    } else if (button) this.#press(button);
  }

  #press(button) {
    if (button.dataset.sound) {
      this.#sound(button);
    } else if (button.dataset.action === "clear-readings") {
      fillBoxes(this.#part(".answer"), []);
      this.#ask(this.#answerRequest());
    } else if (["stop", "go-on"].includes(button.dataset.action)) {
      const stop = button.dataset.action === "stop";
      const inputs = readInputs(this.#form);
      this.#ask({ kind: "stream", calculator: this.#name, inputs, first: false, stop });
    } else if (button.dataset.action === "undo") {
      const inputs = this.#keeping.undo();
      this.#showAside();
      if (!inputs) return this.#say("Brought back.");
      this.#form.inert = true;
      this.#ask({ kind: "fill", calculator: this.#name, inputs });
    } else if (button.dataset.action === "keep-mine") {
      const isMine = this.#keeping.keepGuest(readInputs(this.#form), this.query);
      this.#showAside();
      this.#say(isMine ? "Kept as your system." : "This browser does not keep the system.");
    } else if (button.dataset.action === "save-file") {
      const area = button.closest(".document").querySelector("textarea");
      save(area.value, button.dataset.name, "text/csv;charset=utf-8");
      this.#say(`Saved as ${button.dataset.name}.`);
    } else if (button.dataset.action === "reset") {
      this.#keeping.mayReplace(readInputs(this.#form));
      if (this.#holdsSystem) forgetSystem();
      this.open("");
    } else if (button.dataset.start) {
      this.#keeping.mayReplace(readInputs(this.#form));
      this.#ask({
        kind: "start",
        calculator: this.#name,
        start: Number(button.dataset.start),
        inputs: readInputs(this.#form),
      });
      this.#form.inert = true;
    } else if (button.dataset.exchange === "take") {
      this.#take(Number(button.dataset.about ?? 0));
    } else if (button.dataset.exchange === "give") {
      this.#give();
    } else if (button.dataset.handOver && this.#isRefused) {
      this.#say("Mend the inputs first; nothing was taken.");
    } else if (button.dataset.handOver) {
      handOver(button.dataset.handOver, {
        card: this.#card,
        calculator: this.#name,
        inputs: readInputs(this.#form),
        query: this.query,
        say: (text) => this.#say(text),
      });
    } else if (handleClick(this.#form, button)) {
      this.#ask(this.#answerRequest());
    }
  }

  #showAside() {
    this.#keeping.show(this.#part(".aside"), this.#asked);
  }

  #take(about) {
    this.#keeping.mayReplace(readInputs(this.#form));
    this.#form.inert = true;
    const system = keptSystem() ?? {};
    this.#ask({ kind: "take", calculator: this.#name, system, about });
  }

  #give() {
    this.#ask({
      kind: "give",
      calculator: this.#name,
      system: keptSystem() ?? {},
      about: this.#about,
      inputs: readInputs(this.#form),
    });
  }

  /* What of the system can be taken, where its plan asks this calculator more than once. */
  #showTaken({ abouts, about }) {
    this.#about = about;
    showAbouts(this.#part(".exchange__whom"), abouts, about);
    this.#part("[data-exchange=give]").hidden = false;
  }

  #sound(button) {
    const asked = {
      calculator: this.#name,
      inputs: readInputs(this.#form),
      title: this.#part(".sound__title").textContent,
      say: (text) => this.#say(text),
    };
    if (this.#isRefused) this.#say("Mend the inputs first; nothing plays.");
    else if (button.dataset.sound === "play") playSound(asked);
    else saveSound(asked, save);
  }

  #ask(request) {
    clearTimeout(this.#timer); // what was typed is in this request
    if (!this.#card.isConnected) return; // the page has been left
    if (request.inputs) this.#asked = JSON.stringify(request.inputs);
    this.#asking.ask(request);
  }

  #unanswered(error) {
    this.#form.inert = false;
    this.#markEarlier();
    this.#say(
      python.word ||
        "This answer could not be worked out; the one shown belongs to the earlier inputs.",
    );
  }

  #show(reply, request) {
    // Whatever came of it, the form is typed in again; a refused file brings no new one.
    this.#form.inert = false;
    if (reply.kind === "told" || reply.kind === "given") {
      if (reply.kind === "given") this.#keeping.given(reply.system);
      else this.#keeping.hasFailed();
      this.#showAside();
      this.#say(reply.text);
      return;
    }
    if (reply.kind === "failed") {
      this.#keeping.hasFailed();
      this.#markEarlier();
      this.#say(reply.text);
      return;
    }
    if (reply.abouts) this.#showTaken(reply);
    if (reply.form !== undefined) {
      this.#replaceForm(reply.form, request);
      this.#keeping.hasReplaced(readInputs(this.#form), request);
      this.#showAside();
    } else this.#keeping.hasFailed();
    const notices = this.#part(".notices");
    notices.innerHTML = reply.notices ?? "";
    notices.hidden = !reply.notices;
    if (reply.kind === "refused") this.#showRefusal(reply, request);
    else this.#showAnswer(reply, request);
    this.#moveToErrors = false;
    if (reply.more) {
      const inputs = readInputs(this.#form);
      const { isRestored } = request;
      this.#ask({ kind: "stream", calculator: this.#name, inputs, first: false, isRestored });
    }
  }

  #replaceForm(html, request) {
    putForm(this.#form, html, request);
    this.#asked = JSON.stringify(readInputs(this.#form));
  }

  #markEarlier() {
    markEarlier(this.#card, this.#hasAnswered);
  }

  #showAnswer(reply, request) {
    this.#isRefused = false;
    this.#hasAnswered = true;
    showErrors(this.#form, []);
    const answer = this.#part(".answer");
    const typed = request.readings ?? readingRows(answer); // perhaps more than was asked with
    const isTyped = request.kind === "answer" || Boolean(request.readings);
    putAnswer(this.#card, reply.html, isTyped ? typed : null);
    showMarks(this.#form, reply.marks);
    this.#say(reply.sentence);
    this.query = reply.query;
    this.onQuery();
    if (!this.#keeping.keep(readInputs(this.#form), this.query, request)) {
      this.#say(`${reply.sentence} This browser does not keep the system.`);
    }
    if (!answer.querySelector("[data-reading]")) return;
    showReadingErrors(answer, []);
    if (isTyped) {
      const isKept = keepReadings(this.#name, this.query, readingRows(answer));
      if (!isKept) this.#say(`${reply.sentence} This browser does not keep the readings.`);
    } else this.recall();
  }

  #showRefusal(reply, request) {
    showErrors(this.#form, reply.errors);
    showReadingErrors(this.#part(".answer"), reply.errors);
    const summary = this.#part(".error-summary");
    summary.innerHTML = reply.html;
    summary.hidden = false;
    this.#isRefused = true;
    this.#markEarlier();
    // What is half mended is not lost with the page; a refused file brought nothing.
    if (reply.form === undefined && request.inputs) {
      this.#keeping.keep(readInputs(this.#form), this.query, request);
    }
    this.#say(`Some inputs cannot be used. ${this.#part(".earlier").textContent}`);
    if (this.#moveToErrors) summary.focus();
  }

  #say(text) {
    this.#part(".status").textContent = text;
  }

  #showState() {
    const button = this.#part("form [type=submit]");
    const { isWaiting } = this.#asking;
    this.#card.classList.toggle("calculator--busy", isWaiting);
    if (!isWaiting || python.state === "failed") button.textContent = "Work it out";
    else if (python.state === "ready") button.textContent = "Working…";
    else button.textContent = "Getting the calculator ready…";
    if (python.state === "failed" && !this.#part(".status").textContent) this.#say(python.word);
    // Where nothing was asked there is nothing to tell.
    if (python.state === "stopped" && !isWaiting && this.#hasAnswered) this.#say(python.word);
  }
}
