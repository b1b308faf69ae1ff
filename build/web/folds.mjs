/* Folds on paper: they are printed as they stand.  The theme opens every fold before it prints; which
   of them the reader has opened is told by a class, and the style goes by that. */

let isPrinting = false;

/** Begins to follow what is opened and closed. */
export function followFolds() {
  for (const fold of document.querySelectorAll("details[open]")) fold.classList.add("opened");
  window.addEventListener("beforeprint", () => (isPrinting = true));
  window.addEventListener("afterprint", () => (isPrinting = false));
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
