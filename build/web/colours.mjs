/* Light or dark: as the system has it, until the reader chooses.  What is painted first is decided
   as the page is read: theme/partials/javascripts/palette.html. */

import { part } from "./dom.mjs";

const KEY = "colours";

/** @typedef {"light" | "dark"} Colours */

/** @returns {Colours | null} */
function kept() {
  try {
    const colours = localStorage.getItem(KEY);
    return colours === "light" || colours === "dark" ? colours : null;
  } catch {
    return null; // this browser keeps nothing
  }
}

/** @returns {Colours} */
const shown = () => (document.body.dataset.mdColorScheme === "slate" ? "dark" : "light");

/** @param {Colours} colours */
function keep(colours) {
  try {
    localStorage.setItem(KEY, colours);
  } catch {
    // This page has them all the same.
  }
}

/** Lets the reader choose the page's colours. */
export function offerColours() {
  const system = matchMedia("(prefers-color-scheme: dark)");
  const button = /** @type {HTMLButtonElement} */ (part(document, "[data-colours]"));
  /* Those of the browser's own bars stand in the page's head, for either setting of the system. */
  const bars = Object.assign(document.createElement("meta"), { name: "theme-color" });
  let choice = kept();

  function show() {
    const colours = choice ?? (system.matches ? "dark" : "light");
    if (colours !== shown()) {
      document.body.dataset.mdColorScheme = colours === "dark" ? "slate" : "default";
      document.documentElement.style.colorScheme = colours;
    }
    if (choice) {
      bars.content = /** @type {HTMLMetaElement} */ (
        part(document.head, `meta[name=theme-color][media$="${colours})"]`)
      ).content;
      document.head.prepend(bars); // the first of its name is taken
    }
    button.title = colours === "dark" ? "Light page" : "Dark page";
    button.ariaLabel = button.title;
  }

  button.addEventListener("click", () => {
    choice = shown() === "dark" ? "light" : "dark";
    show();
    keep(choice);
  });
  system.addEventListener("change", show);
  window.addEventListener("storage", ({ key }) => {
    if (key !== KEY) return; // chosen in another tab
    choice = kept();
    show();
  });
  show();
}
