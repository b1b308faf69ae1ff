/* Entry: attaches calculators to each page that is shown, and keeps the handbook offline. */

import { offerColours } from "./colours.mjs";
import { parts } from "./dom.mjs";
import { followFolds } from "./folds.mjs";
import { attachLesson } from "./lesson.mjs";
import { keepOffline, offerToKeep, showWord } from "./offline.mjs";
import { keepOverReload } from "./over-reload.mjs";
import { python } from "./python.mjs";
import { followBoxes } from "./scrolling.mjs";
import { openCardAt, Shown } from "./shown.mjs";
import { root } from "./site.mjs";
import { stopSound } from "./sound.mjs";

/** The calculators of the page that is shown. @type {Shown | null} */
let shown = null;
/** Those that are looked after. @type {WeakSet<HTMLElement>} */
const known = new WeakSet();

function attach() {
  stopSound(); // of the page that was left
  showWord();
  attachLesson();
  offerToKeep();
  followBoxes(document);
  const all = parts(document, "[data-calculator]");
  if (all.length === 0) shown = null;
  const cards = all.filter((card) => !known.has(card));
  if (cards.length === 0) return;
  const page = new Shown(cards);
  shown = page;
  // A start in three tasks, none of them long: what is tapped meanwhile need not wait for all.
  const next = (/** @type {() => void} */ task) =>
    setTimeout(() => {
      if (shown === page) task();
    });
  next(() => {
    page.prepare();
    next(() => {
      for (const card of cards) known.add(card);
      python.forgetListeners();
      page.begin();
      python.start();
    });
  });
}

offerColours();
followFolds();
window.addEventListener("hashchange", () => openCardAt(location.hash));

// The theme announces every page that it shows, the first one included, while it is at work on it
// itself: what is tapped meanwhile need not wait for both.
if (window.document$) window.document$.subscribe(() => setTimeout(attach));
else attach();

/* Saving everything is a long job: a calculator that is starting comes first. */
const hasCalculators = document.querySelector("[data-calculator]") !== null;
let saving = false;
python.onState((state) => {
  if (saving || (hasCalculators && !["ready", "stopped", "failed"].includes(state))) return;
  saving = true;
  keepOffline(root, () => keepOverReload(shown?.calculators ?? []));
}, "always");
