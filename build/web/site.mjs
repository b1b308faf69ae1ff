/* Where the handbook lies, and where in it a calculator has its own page. */

import { parts } from "./dom.mjs";

/** The handbook's address: the scripts lie in a folder below it. */
export const root = new URL("../", import.meta.url);

/** It lies in a folder of this device: its links open nowhere else. */
export const isInFolder = root.protocol === "file:";

/**
 * Returns the address of the page that a calculator has to itself, with figures.
 *
 * @param {string} calculator
 * @param {string} query  as that page has it: without a prefix
 */
export function linkTo(calculator, query) {
  const page = new URL(`calculators/${calculator}/${isInFolder ? "index.html" : ""}`, root).href;
  return query ? `${page}?${query}` : page;
}

/**
 * Lets the ways on lead to the pages of their calculators: an answer does not know on which page
 * it is shown.
 *
 * @param {HTMLElement} answer
 */
export function leadOn(answer) {
  for (const way of parts(answer, "a[data-way]")) {
    const link = /** @type {HTMLAnchorElement} */ (way);
    link.href = linkTo(link.dataset.way ?? "", link.search.slice(1));
  }
}
