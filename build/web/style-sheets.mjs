/* Stands before the theme's script, which writes the address of everything on the page anew, in full:
   of two pages it can then tell which links are the same.  A style sheet whose address is written is
   loaded anew, and the whole page styled and laid out with it.  The theme is told the full address
   instead, and finds nothing to write. */

/** @type {NodeListOf<HTMLLinkElement>} */
const links = document.head.querySelectorAll("link:is([rel=stylesheet], [rel=preload])");
for (const link of links) {
  const full = /** @type {HTMLLinkElement} */ (link.cloneNode());
  full.href = link.href;
  link.getAttribute = (name) => full.getAttribute(name);
  Object.defineProperty(link, "outerHTML", { get: () => full.outerHTML });
}
