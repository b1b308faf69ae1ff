/* Whose the figures of a calculator are, and what can be brought back after they were replaced. */

/** @import { CardRequest, Inputs } from "./messages.ts" */

import { plainButton } from "./dom.mjs";
import {
  forgetSystem, isGuest, isKeptLink, keepLink, keepsFigures, keepSystem, keptSystem,
} from "./system.mjs";

/** What is said, what a button offers, and what it does. @type {Record<About, string[]>} */
const ASIDES = {
  undo: ["Your figures were replaced.", "Bring them back", "undo"],
  back: ["Your figures are back.", "Undo that", "undo"],
  given: ["Your system was changed.", "Undo the change", "undo"],
  kept: ["These figures are your system now.", "Bring back the one before", "undo"],
  guest: [
    "These figures came with a link. Your own system has not changed.",
    "Keep these as my system",
    "keep-mine",
  ],
};

/** @typedef {"undo" | "back" | "given" | "kept" | "guest"} About */

const OWN_LIST = "The stock list is your own, from this device; the rest came with the link.";

/**
 * What can be brought back: figures of the form, or the system that was kept.
 *
 * @typedef {object} Before
 * @property {"undo" | "back" | "given" | "kept"} way  `back`: what was replaced is back, and this
 *   is what stood in its place
 * @property {Inputs} [inputs]  of the form, where they were replaced
 * @property {Inputs | null} system
 * @property {boolean} [wasGuest]
 * @property {boolean} [isTyped]  they were the reader's, though they are kept nowhere
 */

export class Keeping {
  #name;
  #holdsSystem;
  isGuest = false; // the system shown came with a link, and another one is kept
  /** What the request that is under way may replace. @type {Before | null} */
  #coming = null;
  /** What was replaced. @type {Before | null} */
  #before = null;
  #hasOwnList = false; // a link is shown beside the stock list of this device
  #isNobodys = false; // the example is shown, and nothing was typed into it
  #exampleList = ""; // a stock list that came with an example, and is nobody's

  /**
   * @param {string} name
   * @param {boolean} holdsSystem
   */
  constructor(name, holdsSystem) {
    this.#name = name;
    this.#holdsSystem = holdsSystem;
  }

  /**
   * A request goes out whose answer may replace these inputs.
   *
   * @param {Inputs} inputs
   * @param {{ isTyped?: boolean }} [how]
   */
  mayReplace(inputs, how) {
    const wasGuest = this.isGuest;
    this.#coming = { way: "undo", inputs, system: keptSystem(), wasGuest, ...how };
  }

  /**
   * The answer brought a form; a refused file does not get here, and replaces nothing.
   *
   * @param {Inputs} inputs
   * @param {CardRequest} request
   */
  hasReplaced(inputs, request) {
    if (this.#coming) {
      this.#before = this.#coming;
      this.isGuest = false;
    }
    this.#coming = null;
    const isLink = request.kind === "open" && request.query.replace(/^\?/, "") !== "";
    const list = isLink && !isKeptLink(this.#name, request.query) ? keptSystem()?.shelf : "";
    this.#hasOwnList = Boolean(list) && inputs.shelf === list;
    if (request.kind !== "open" || !this.#holdsSystem) return;
    this.isGuest = isGuest(inputs, this.#name, request.query);
  }

  hasFailed() {
    this.#coming = null;
  }

  /** Whatever is typed now is the reader's own: there is nothing to bring back. */
  edited() {
    this.#before = null;
    this.#isNobodys = false;
  }

  /**
   * Takes what a calculator gave back to the system.
   *
   * @param {Inputs} changes
   */
  takeBack(changes) {
    if (Object.keys(changes).length === 0) return;
    this.#before = { way: "given", system: keptSystem() };
    keepSystem(changes);
  }

  /**
   * Keeps the system on this device, unless it is a guest; tells whether that is possible.
   *
   * @param {Inputs} inputs
   * @param {string} query
   * @param {CardRequest} request
   */
  keep(inputs, query, request) {
    if (!this.#holdsSystem || this.isGuest || request.isRestored) return true;
    // The example is nobody's.  A link where nothing is kept, or one that led here from one's
    // own system, is one's own.
    if (request.kind === "open") this.#isNobodys = !this.#isOwnLink(request.query);
    // The steps of a long answer follow the figures that they are worked out from.
    else if (request.kind !== "stream") this.#isNobodys = false;
    if (this.#isNobodys) return true;
    if (request.kind === "start" && !request.inputs.shelf) this.#exampleList = String(inputs.shelf);
    const { shelf, ...rest } = inputs;
    const isExample = this.#exampleList !== "" && shelf === this.#exampleList;
    return keepSystem(isExample ? rest : inputs, this.#name, query);
  }

  /** @param {string} query */
  #isOwnLink(query) {
    const isLink = Boolean(query.replace(/^\?/, ""));
    return isLink && (!keepsFigures() || isKeptLink(this.#name, query));
  }

  /**
   * Keeps what came with a link; tells whether that is possible.
   *
   * @param {Inputs} inputs
   * @param {string} query
   */
  keepGuest(inputs, query) {
    this.#before = { way: "kept", system: keptSystem(), wasGuest: true };
    this.isGuest = false;
    return keepSystem(inputs, this.#name, query);
  }

  /**
   * A link to another page that this system was put into.
   *
   * @param {string} calculator
   * @param {string} query
   */
  leadsTo(calculator, query) {
    if (this.#holdsSystem && !this.isGuest) keepLink(calculator, query);
  }

  /**
   * Brings back what was kept; returns the inputs to fill the form with, if it is another.  What
   * stood in the form can be brought back in its turn: no press loses figures.
   *
   * @param {Inputs} shown  what stands in the form
   */
  undo(shown) {
    if (!this.#before) return null;
    const { way, inputs, system, wasGuest } = this.#before;
    const isOfForm = way === "undo" || way === "back";
    this.#before = isOfForm
      ? { way: "back", inputs: shown, system: keptSystem(), wasGuest: this.isGuest }
      : null;
    if (this.#holdsSystem || way === "given") {
      forgetSystem();
      if (system) keepSystem(system);
    }
    this.isGuest = Boolean(wasGuest);
    return (isOfForm && inputs) || null;
  }

  /**
   * What can be done about figures that were just put in: a line above the status; of those that
   * came with a link, one above the form.
   *
   * @param {HTMLElement} place
   * @param {HTMLElement} above
   * @param {string} figures  the form's, as text
   */
  show(place, above, figures) {
    const about = this.#about(figures);
    place.replaceChildren();
    above.replaceChildren();
    if (about) {
      const [text, word, action] = ASIDES[about];
      const button = plainButton(word, "button button--quiet");
      button.dataset.action = action;
      (about === "guest" ? above : place).append(text ?? "", " ", button);
    }
    if (this.#hasOwnList) above.append(` ${OWN_LIST}`);
    for (const each of [place, above]) each.hidden = each.childNodes.length === 0;
  }

  /**
   * @param {string} figures
   * @returns {About | null}
   */
  #about(figures) {
    if (this.isGuest) return "guest";
    if (!this.#before) return null;
    const { way, inputs, system, isTyped } = this.#before;
    if (way === "back") return JSON.stringify(inputs) !== figures ? way : null;
    if (way !== "undo") return way;
    const isOwn = system || !this.#holdsSystem || isTyped;
    return isOwn && JSON.stringify(inputs) !== figures ? "undo" : null;
  }
}
