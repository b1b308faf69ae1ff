/* Folds on paper: they are printed as they stand.  The theme opens every fold before it prints; which
   of them the reader has opened is told by a class, and the style goes by that. */

const SETTLED = 300; // milliseconds
let isPrinting = false;

/** Begins to follow what is opened and closed. */
export function followFolds() {
  for (const fold of document.querySelectorAll("details[open]")) fold.classList.add("opened");
  window.addEventListener("beforeprint", () => (isPrinting = true));
  // What the theme opened and closed again is told a little later.
  window.addEventListener("afterprint", () => setTimeout(() => (isPrinting = false), SETTLED));
  // A reader's own press counts at once; what opens a fold for a link is told by its toggling.
  document.addEventListener("click", ({ target }) => {
    const summary = target instanceof Element ? target.closest("summary") : null;
    const fold = summary?.parentElement;
    if (fold instanceof HTMLDetailsElement) fold.classList.toggle("opened", !fold.open);
  });
  const paper = window.matchMedia("print");
  document.addEventListener(
    "toggle",
    ({ target }) => {
      if (isPrinting || paper.matches || !(target instanceof HTMLDetailsElement)) return;
      target.classList.toggle("opened", target.open);
    },
    true, // it does not come up
  );
}
