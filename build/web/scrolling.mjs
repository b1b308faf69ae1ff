/* A box that scrolls can be reached by the keyboard; one that does not is no stop on the way. */

import { parts } from "./dom.mjs";

/* Told when the browser has laid the page out anyway: asking each box for its width would have it laid
   out once for each, and once more for what is folded away. */
const sizes = new ResizeObserver((entries) => {
  const boxes = entries.map(({ target }) => /** @type {HTMLElement} */ (target));
  const scroll = boxes.map((box) => {
    return box.scrollWidth > box.clientWidth || box.scrollHeight > box.clientHeight;
  });
  boxes.forEach((box, at) => {
    if (scroll[at]) box.tabIndex = 0;
    else if (box.matches(".table-box")) box.removeAttribute("tabindex");
  });
});

/** @param {ParentNode} whole */
export function followBoxes(whole) {
  for (const box of parts(whole, ".table-box, .drawing__box")) sizes.observe(box);
}
