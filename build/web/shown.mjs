/* The calculators of the page that is shown: the live one, and those in folded cards, which are
   attached when their card is opened.  The address holds the inputs of all of them. */

import { isArranged, startForm } from "./arranged.mjs";
import { Calculator } from "./calculator.mjs";
import { part } from "./dom.mjs";
import { keptOverReload } from "./over-reload.mjs";

const CARD = "details.calculator-card";

export class Shown {
  #elements;
  #names;
  #path = location.pathname;
  /** In the order of the page, where they are attached. @type {(Calculator | undefined)[]} */
  #calculators = [];
  /** Whose forms are ready. @type {Set<HTMLElement>} */
  #ready = new Set();

  /** @param {HTMLElement[]} elements */
  constructor(elements) {
    this.#elements = elements;
    this.#names = elements.map((element) => element.dataset.calculator ?? "");
  }

  /** Those that are attached. */
  get calculators() {
    return this.#calculators.filter((calculator) => calculator !== undefined);
  }

  /** Gets the forms in sight ready, before anybody listens to them: half of what a start takes. */
  prepare() {
    for (const element of this.#elements) if (cardOf(element)?.open ?? true) this.#getReady(element);
  }

  /** @param {HTMLElement} element */
  #getReady(element) {
    if (this.#ready.has(element) || !isArranged(element)) return;
    this.#ready.add(element);
    startForm(part(element, "form"));
  }

  /** Attaches what is in sight, and opens the cards that the address is for. */
  begin() {
    const kept = keptOverReload();
    /** @type {HTMLElement | undefined} */
    let asked;
    this.#elements.forEach((element, at) => {
      const query = this.#queryOf(at);
      const unsaved = kept[element.id];
      const card = cardOf(element);
      if (card && (query || unsaved)) card.open = true;
      if (card && query) asked ??= element;
      if (card && !card.open) {
        card.addEventListener("toggle", () => this.#attach(at).begin("", []), { once: true });
      } else if (unsaved) this.#attach(at).restore(unsaved);
      else this.#attach(at).begin(query, this.#names);
    });
    if (location.hash) openCardAt(location.hash);
    else if (asked && !this.#queryOf(0)) asked.scrollIntoView();
  }

  /** @param {number} at */
  #attach(at) {
    const element = /** @type {HTMLElement} */ (this.#elements[at]);
    this.#getReady(element);
    element.dataset.attached = "";
    const calculator = new Calculator(element, () => this.#writeAddress());
    this.#calculators[at] = calculator;
    return calculator;
  }

  /**
   * What of the address is for a calculator; to the first belongs whatever is for none.
   *
   * @param {number} at
   */
  #queryOf(at) {
    const others = this.#names.filter((_, other) => other !== at).map((name) => `${name}.`);
    const own = `${this.#names[at]}.`;
    const isFor = (/** @type {string} */ part) => {
      const key = plain(part);
      return key.startsWith(own) || (at === 0 && !others.some((other) => key.startsWith(other)));
    };
    return location.search.slice(1).split("&").filter((part) => part && isFor(part)).join("&");
  }

  /**
   * The address holds the inputs of every calculator on the page: reload, back and forward
   * bring them back, and a bookmark keeps them.
   */
  #writeAddress() {
    if (location.pathname !== this.#path) return; // another page is shown by now
    const queries = this.#calculators.map((calculator) => {
      const parts = calculator?.query.split("&").filter(Boolean) ?? [];
      const before = this.#names.length > 1 ? `${calculator?.name}.` : "";
      return parts.map((part) => before + part).join("&");
    });
    const query = queries.filter(Boolean).join("&");
    const address = `${location.pathname}${query ? `?${query}` : ""}${location.hash}`;
    if (address !== `${location.pathname}${location.search}${location.hash}`) {
      history.replaceState(history.state, "", address);
    }
  }
}

/**
 * @param {Element} element
 * @returns {HTMLDetailsElement | null}
 */
const cardOf = (element) => element.closest(CARD);

/**
 * Opens the card that holds what an address leads to.
 *
 * @param {string} hash
 */
export function openCardAt(hash) {
  const target = document.getElementById(plain(hash.slice(1)));
  const card = target && cardOf(target);
  if (!card || card.open) return;
  card.open = true;
  target.scrollIntoView();
}

/** @param {string} text  as it stands in an address */
function plain(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // nobody's key
  }
}
