/* Whose the figures of a calculator are, and what can be brought back after they were replaced. */

import { forgetSystem, isGuest, isKeptLink, keepLink, keepSystem, keptSystem } from "./system.mjs";

const ASIDES = {
  undo: ["Your figures were replaced.", "Bring them back", "undo"],
  given: ["Your system was changed.", "Take the change back", "undo"],
  kept: ["These figures are your system now.", "Bring back the one before", "undo"],
  guest: [
    "These figures came with a link; your own system is kept as it was.",
    "Keep these as my system",
    "keep-mine",
  ],
};

export class Keeping {
  #name;
  #holdsSystem;
  isGuest = false; // the system shown came with a link, and another one is kept
  #coming = null; // what the request that is under way may replace
  #before = null; // what was replaced: { way, inputs, system }
  #isNobodys = false; // the example is shown, and nothing was typed into it

  constructor(name, holdsSystem) {
    this.#name = name;
    this.#holdsSystem = holdsSystem;
  }

  /* A request goes out whose answer may replace these inputs. */
  mayReplace(inputs) {
    const wasGuest = this.isGuest;
    this.#coming = { way: "undo", inputs, system: keptSystem(), wasGuest };
  }

  /* The answer brought a form; a refused file does not get here, and replaces nothing. */
  hasReplaced(inputs, request) {
    if (this.#coming) {
      this.#before = this.#coming;
      this.isGuest = false;
    }
    this.#coming = null;
    if (request.kind !== "open" || !this.#holdsSystem) return;
    this.isGuest = isGuest(inputs, this.#name, request.query);
  }

  hasFailed() {
    this.#coming = null;
  }

  /* Whatever is typed now is the reader's own: there is nothing to bring back. */
  edited() {
    this.#before = null;
    this.#isNobodys = false;
  }

  /* Takes what a calculator gave back to the system. */
  given(changes) {
    if (Object.keys(changes).length === 0) return;
    this.#before = { way: "given", system: keptSystem() };
    keepSystem(changes);
  }

  /* Keeps the system on this device, unless it is a guest; tells whether that is possible. */
  keep(inputs, query, request) {
    if (!this.#holdsSystem || this.isGuest || request.isRestored) return true;
    // The example is nobody's.  A link where nothing is kept, or one that led here from one's
    // own system, is one's own.
    const isLink = Boolean(request.query?.replace(/^\?/, ""));
    const isOwn = isLink && (!keptSystem() || isKeptLink(this.#name, request.query));
    if (request.kind === "open") this.#isNobodys = !isOwn;
    // The steps of a long answer follow the figures that they are worked out from.
    else if (request.kind !== "stream") this.#isNobodys = false;
    if (this.#isNobodys) return true;
    return keepSystem(inputs, this.#name, query);
  }

  keepGuest(inputs, query) {
    this.#before = { way: "kept", system: keptSystem(), wasGuest: true };
    this.isGuest = false;
    return keepSystem(inputs, this.#name, query);
  }

  /* A link to another page that this system was put into. */
  leadsTo(calculator, query) {
    if (this.#holdsSystem && !this.isGuest) keepLink(calculator, query);
  }

  /* Brings back what was kept; returns the inputs to fill the form with, if it is another. */
  undo() {
    const { way, inputs, system, wasGuest } = this.#before;
    this.#before = null;
    if (this.#holdsSystem || way === "given") {
      forgetSystem();
      if (system) keepSystem(system);
    }
    this.isGuest = Boolean(wasGuest);
    return way === "undo" ? inputs : null;
  }

  /* A line above the status: what can be done about figures that were just put in. */
  show(place, asked) {
    const about = this.#about(asked);
    place.hidden = !about;
    place.replaceChildren();
    if (!about) return;
    const [text, word, action] = ASIDES[about];
    const button = document.createElement("button");
    Object.assign(button, { type: "button", className: "button button--quiet", textContent: word });
    button.dataset.action = action;
    place.append(text, " ", button);
  }

  #about(asked) {
    if (this.isGuest) return "guest";
    if (!this.#before) return "";
    const { way, inputs, system } = this.#before;
    if (way !== "undo") return way;
    const isOwn = system || !this.#holdsSystem;
    return isOwn && JSON.stringify(inputs) !== asked ? "undo" : "";
  }
}
