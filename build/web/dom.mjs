/* Elements that the pages promise.  One that is missing is an error of the build, and is told. */

import { withoutUnit } from "./units.mjs";

/** @typedef {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} Control */

/**
 * Returns the first part that matches.
 *
 * @param {ParentNode} whole
 * @param {string} selector
 * @returns {HTMLElement}
 */
export function part(whole, selector) {
  const first = whole.querySelector(selector);
  if (!first) throw new Error(`the page has no ${selector}`);
  return /** @type {HTMLElement} */ (first);
}

/**
 * Returns all parts that match.
 *
 * @param {ParentNode} whole
 * @param {string} selector
 * @returns {HTMLElement[]}
 */
export function parts(whole, selector) {
  return [...whole.querySelectorAll(selector)].map((each) => /** @type {HTMLElement} */ (each));
}

/**
 * Returns what an element lies in.
 *
 * @param {Element} inner
 * @param {string} selector
 * @returns {HTMLElement}
 */
export function around(inner, selector) {
  const outer = inner.closest(selector);
  if (!outer) throw new Error(`nothing here lies in a ${selector}`);
  return /** @type {HTMLElement} */ (outer);
}

/**
 * Returns the first field's control that matches.
 *
 * @param {ParentNode} whole
 * @param {string} selector
 */
export const control = (whole, selector) => /** @type {Control} */ (part(whole, selector));

/**
 * Returns all fields' controls that match.
 *
 * @param {ParentNode} whole
 * @param {string} selector
 */
export const controls = (whole, selector) => /** @type {Control[]} */ (parts(whole, selector));

/**
 * Returns the text of a control: where nothing was given, what is usual, which no link holds; a
 * question mark is what the reader knows not to be known.
 *
 * @param {Control} control
 */
export function textOf({ value, dataset }) {
  const text = value.trim();
  const { default: usual, unit } = dataset;
  if (usual !== undefined && text === "?") return "";
  return text === "" ? (usual ?? value) : withoutUnit(value, unit);
}

/**
 * Returns the element that an event is about.
 *
 * @param {Event} event
 */
export const targetOf = (event) => /** @type {HTMLElement} */ (event.target);

/**
 * Makes a button that does not send the form.
 *
 * @param {string} word
 * @param {string} [style]
 */
export function plainButton(word, style = "button") {
  const button = document.createElement("button");
  button.type = "button";
  button.className = style;
  button.textContent = word;
  return button;
}

/**
 * Names an element for who hears it, only where its name changes: a screen reader says each anew.
 *
 * @param {Element} element
 * @param {string} label
 */
export function named(element, label) {
  if (element.getAttribute("aria-label") !== label) element.setAttribute("aria-label", label);
}
