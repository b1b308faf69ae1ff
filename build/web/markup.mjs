/* The page's default policy, where the engine enforces one (Trusted Types).  It stands before the
   theme's script, which puts texts into pages as markup: search results, and pages that it shows
   without a load.  What could run is taken out of them; scripts come from the handbook alone. */

import DOMPurify from "dompurify";
import { isInFolder, root } from "./site.mjs";
import "./style-sheets.mjs";

/* The theme runs the scripts of a page that it shows without a load.  They are the same on every
   page: none is new. */
const known = new Set(Array.from(document.scripts, ({ text }) => text));

/** @param {string} text @param {URL | string} base */
function isOwnAddress(text, base = location.href) {
  const address = new URL(text, base);
  if (isInFolder && address.protocol === "blob:") return true;
  return address.href.startsWith(root.href) && address.pathname.endsWith(".js");
}

// Scripts of drawings too: those of pages are looked at one by one.
const NOT_OURS = "iframe, frame, object, embed, base, script";

/** @param {Element} element */
function isHarmless(element) {
  for (const { name, value } of element.attributes) {
    // An address may hold blanks and line ends: they do not count.
    const isScript = /^javascript:/i.test(value.replace(/[\0- ]/g, ""));
    if (name.startsWith("on") || isScript) return false;
  }
  if (!(element instanceof HTMLScriptElement)) return !element.matches(NOT_OURS);
  const src = element.getAttribute("src");
  // How deep its page lies is not known here: the ways up lead to the handbook's root.
  if (src !== null) return isOwnAddress(src.replace(/^(\.\.?\/)+/, ""), root);
  return known.has(element.text) || element.type === "application/json";
}

/* A parsed document is dead until its parts are taken over, so looking at it is safe. */
const looking = window.trustedTypes?.createPolicy("look", { createHTML: (html) => html });

/** Tells whether a whole page holds nothing that could run, but the handbook's own scripts.
    @param {string} html */
function isSafePage(html) {
  const markup = /** @type {any} */ (looking?.createHTML(html));
  /** @param {DOMParserSupportedType} type */
  const elements = (type) => [...new DOMParser().parseFromString(markup, type).querySelectorAll("*")];
  // The theme reads the list of the site's pages too, as what it is.
  const all = html.startsWith("<?xml") ? elements("text/xml") : [];
  return [...all, ...elements("text/html")].every(isHarmless);
}

/** @param {string} html @param {string} sink */
function clean(html, sink) {
  if (!/[<&]/.test(html)) return html;
  const isPage = sink.startsWith("DOMParser");
  if (isPage && isSafePage(html)) return html;
  return DOMPurify.sanitize(html, { WHOLE_DOCUMENT: isPage });
}

/** @param {string} text */
function ownAddress(text) {
  if (isOwnAddress(text)) return text;
  throw new TypeError(`${text} is no script of this handbook`);
}

/** @param {string} text */
function knownScript(text) {
  if (known.has(text)) return text;
  throw new TypeError("no script is made here");
}

window.trustedTypes?.createPolicy("default", {
  createHTML: (html, _, sink) => clean(html, String(sink)),
  createScript: knownScript,
  createScriptURL: ownAddress,
});
