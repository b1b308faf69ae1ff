/* Paste the spec sheet: a panel that reads a copied text and offers its figures, to be taken or
   struck one by one.  Nothing of it counts before "Take". */

/** @import { ReadRequest } from "./messages.ts" */

import { part, parts, plainButton, targetOf } from "./dom.mjs";
import { python, Stopped } from "./python.mjs";
import { asReply } from "./trust.mjs";

const PAUSE_MS = 300; // after the last key, as with every field
const LABEL = "Text from the box, the manual or a shop’s page";
const START = "Paste the text here. Each figure found is shown beside its words.";

/**
 * What was taken: the figures' texts by the columns' keys, and the words each was read from.
 *
 * @typedef {object} Taken
 * @property {Record<string, string>} figures
 * @property {Record<string, string>} words
 */

/**
 * Whoever opens a panel.
 *
 * @typedef {object} Opener
 * @property {HTMLElement} host  where the panel stands; it is put at its end
 * @property {ReadRequest["about"]} about
 * @property {string} title  what the card is called, such as "Amplifier B"
 * @property {string} calculator  whose page this is
 * @property {() => Record<string, string>} current  what is typed in the card, by key
 * @property {(taken: Taken) => void} take  fills the card; the panel has gone by then, and the
 *   focus is the opener's to place
 * @property {() => void} [close]  closed without taking; the focus is back where it was
 * @property {(next: string) => void} [changed]  what "Take" says; empty when there is nothing
 */

/** A panel; `openPaste` makes one. */
class Paste {
  #opener;
  #before = /** @type {HTMLElement | null} */ (document.activeElement);
  #turn = 0;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  #pause;
  #isOpen = true;

  /** @param {Opener} opener */
  constructor(opener) {
    this.#opener = opener;
    this.element = document.createElement("div");
    this.element.className = "paste";
    this.element.setAttribute("role", "group");
    const title = document.createElement("p");
    title.className = "paste__title";
    title.id = `paste-${Math.random().toString(36).slice(2)}`;
    title.tabIndex = -1;
    this.element.setAttribute("aria-labelledby", title.id);
    this.title = title;
    this.text = document.createElement("textarea");
    this.text.className = "paste__box";
    this.text.rows = 6;
    this.text.spellcheck = false;
    this.text.setAttribute("aria-label", `${LABEL}: ${opener.title}`);
    this.word = document.createElement("p");
    this.word.className = "paste__word";
    this.word.setAttribute("role", "status");
    this.proposal = document.createElement("div");
    this.takeButton = plainButton("Take");
    this.changeButton = plainButton("Change the text", "button button--quiet");
    this.closeButton = plainButton("Close", "button button--quiet");
    const end = document.createElement("div");
    end.className = "paste__end";
    end.append(this.takeButton, this.changeButton, this.closeButton);
    this.element.append(title, this.text, this.word, this.proposal, end);
    this.#listen();
    opener.host.append(this.element);
    this.#askForText();
  }

  #listen() {
    this.element.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      this.close();
    });
    // The card's form must not take these for its own.
    for (const kind of ["input", "change", "click"]) {
      this.element.addEventListener(kind, (event) => event.stopPropagation());
    }
    this.text.addEventListener("input", (event) => {
      clearTimeout(this.#pause);
      const isPasted = event instanceof InputEvent && event.inputType.startsWith("insertFrom");
      this.#pause = setTimeout(() => this.#read(isPasted), isPasted ? 0 : PAUSE_MS);
    });
    this.element.addEventListener("click", (event) => {
      const button = targetOf(event).closest("button");
      if (button) this.#pressed(button);
    });
  }

  /** @param {HTMLButtonElement} button */
  #pressed(button) {
    if (button === this.closeButton) this.close();
    else if (button === this.takeButton) this.#take();
    else if (button === this.changeButton) this.#askForText();
    else if (button.dataset.strike !== undefined) this.#strike(button);
    else if (button.dataset.choice !== undefined) this.#choose(button);
  }

  /** Shows the text box, and what was read from it below. */
  #askForText() {
    this.title.textContent = `${this.#opener.title}: paste the spec sheet`;
    this.text.hidden = false;
    this.changeButton.hidden = true;
    if (!this.text.value.trim()) this.word.textContent = START;
    this.#told();
    this.text.focus();
  }

  /**
   * Asks for the text to be read; of several, the newest wins.
   *
   * @param {boolean} isPasted  then the text is whole, and what was read comes to the fore
   */
  async #read(isPasted) {
    const turn = ++this.#turn;
    const text = this.text.value;
    if (!text.trim()) {
      this.proposal.replaceChildren();
      this.word.textContent = START;
      this.#told();
      return;
    }
    const { calculator, about } = this.#opener;
    const current = this.#opener.current();
    /** @type {ReadRequest} */
    const request = { kind: "read", calculator, about, text, current };
    try {
      let reply;
      try {
        reply = await python.ask(request);
      } catch (error) {
        if (!(error instanceof Stopped)) throw error;
        reply = await python.ask(request);
      }
      if (turn !== this.#turn || !this.#isOpen) return;
      if (reply.kind === "proposal") this.#show(reply.html, reply.figures, isPasted);
      else this.#nothing(reply.text);
    } catch (error) {
      if (turn === this.#turn) this.#nothing(`The text could not be read: ${python.reasonOf(error)}.`);
    }
  }

  /** @param {string} why */
  #nothing(why) {
    this.proposal.replaceChildren();
    this.word.textContent = why;
    this.#told();
  }

  /**
   * @param {string} html
   * @param {number} figures
   * @param {boolean} isPasted
   */
  #show(html, figures, isPasted) {
    this.proposal.innerHTML = asReply(html);
    this.word.textContent = figures
      ? `${figures} figure${figures === 1 ? "" : "s"} found. None is used until you take it.`
      : "No figures found.";
    if (isPasted && figures) {
      this.title.textContent = `${this.#opener.title}: found in your text`;
      this.text.hidden = true;
      this.changeButton.hidden = false;
      this.title.focus();
      this.title.scrollIntoView({ block: "nearest" });
    }
    this.#told();
  }

  /** The notes that would be taken: not struck, and answered where they ask. */
  #wanted() {
    return parts(this.proposal, "[data-note]:not(.struck)").filter((note) => note.dataset.figures);
  }

  /** Says in the button what it takes. */
  #told() {
    const numbers = this.#wanted().map((note) => note.dataset.note ?? "");
    const word = numbers.length ? `Take ${inWords(numbers.map(Number))}` : "";
    this.takeButton.textContent = word || "Take";
    this.takeButton.hidden = !word;
    this.#opener.changed?.(word);
  }

  /** @param {HTMLButtonElement} button */
  #strike(button) {
    const note = /** @type {HTMLElement} */ (button.closest("[data-note]"));
    const isStruck = note.classList.toggle("struck");
    button.textContent = isStruck ? "Take" : "Strike";
    button.setAttribute("aria-label", `${button.textContent} ${button.dataset.name ?? ""}`);
    this.#told();
  }

  /** @param {HTMLButtonElement} button */
  #choose(button) {
    const note = /** @type {HTMLElement} */ (button.closest("[data-note]"));
    const isChosen = button.getAttribute("aria-pressed") === "true";
    for (const other of parts(note, "[data-choice]")) other.setAttribute("aria-pressed", "false");
    button.setAttribute("aria-pressed", String(!isChosen));
    if (isChosen) delete note.dataset.figures;
    else note.dataset.figures = button.dataset.choice ?? "{}";
    note.classList.toggle("open", isChosen);
    this.#told();
  }

  #take() {
    /** @type {Taken} */
    const taken = { figures: {}, words: {} };
    for (const note of this.#wanted()) {
      const figures = /** @type {Record<string, string>} */ (
        JSON.parse(note.dataset.figures ?? "{}")
      );
      for (const [key, value] of Object.entries(figures)) {
        taken.figures[key] = value;
        taken.words[key] = note.dataset.words ?? "";
      }
    }
    this.#gone();
    this.#opener.take(taken);
  }

  #gone() {
    this.#isOpen = false;
    clearTimeout(this.#pause);
    this.element.remove();
    this.#opener.changed?.("");
  }

  /** Closes it without taking anything; the focus goes back to where it was. */
  close() {
    if (!this.#isOpen) return;
    this.#gone();
    this.#before?.focus();
    this.#opener.close?.();
  }
}

/**
 * Says numbers in their order: `1 to 3, 5 and 7`.
 *
 * @param {number[]} numbers
 */
function inWords(numbers) {
  /** @type {[number, number][]} */
  const runs = [];
  for (const each of numbers) {
    const last = runs.at(-1);
    if (last && last[1] === each - 1) last[1] = each;
    else runs.push([each, each]);
  }
  const said = runs.flatMap(([from, to]) =>
    to > from + 1 ? [`${from} to ${to}`] : to > from ? [`${from}`, `${to}`] : [`${from}`],
  );
  const end = said.pop() ?? "";
  return said.length ? `${said.join(", ")} and ${end}` : end;
}

/**
 * Opens a panel for a card; its text box has the focus.  A second one in the same place closes
 * the first.
 *
 * @param {Opener} opener
 */
export function openPaste(opener) {
  for (const panel of parts(opener.host, ".paste")) {
    part(panel, ".paste__end button:last-child").click();
  }
  return new Paste(opener);
}
