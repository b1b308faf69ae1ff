/* Entry: attaches calculators to each page that is shown, and keeps the handbook offline. */

import { Calculator } from "./calculator.mjs";
import { parts } from "./dom.mjs";
import { attachLesson } from "./lesson.mjs";
import { keepOffline, showWord } from "./offline.mjs";
import { keepOverReload, keptOverReload } from "./over-reload.mjs";
import { python } from "./python.mjs";
import { stopSound } from "./sound.mjs";

const base = new URL("../", import.meta.url);

/** The calculators of the page that is shown. @type {Calculator[]} */
let shown = [];

/**
 * The address holds the inputs of every calculator on the page: reload, back and forward
 * bring them back, and a bookmark keeps them.
 *
 * @param {Calculator[]} calculators
 * @param {string} path
 */
function writeAddress(calculators, path) {
  if (location.pathname !== path) return; // another page is shown by now
  const query = calculators.map((calculator) => calculator.query).filter(Boolean).join("&");
  const address = `${location.pathname}${query ? `?${query}` : ""}${location.hash}`;
  if (address !== `${location.pathname}${location.search}${location.hash}`) {
    history.replaceState(history.state, "", address);
  }
}

function attach() {
  stopSound(); // of the page that was left
  showWord();
  attachLesson();
  parts(document, ".table-box, .drawing__box").forEach(markScrollable);
  const cards = parts(document, "[data-calculator]:not([data-attached])");
  if (!document.querySelector("[data-calculator]")) shown = [];
  if (cards.length === 0) return;
  python.forgetListeners();
  const path = location.pathname;
  /** @type {import("./calculator.mjs").OnWay} */
  const lead = (name, query) => {
    const at = cards.findIndex((card) => card.id === name);
    calculators[at]?.open(query);
    cards[at]?.scrollIntoView();
  };
  /** @type {Calculator[]} */
  const calculators = [];
  shown = calculators;
  for (const card of cards) {
    card.dataset.attached = "";
    calculators.push(new Calculator(card, () => writeAddress(calculators, path), lead));
  }
  const kept = keptOverReload();
  calculators.forEach((calculator) => {
    const unsaved = kept[calculator.id];
    if (unsaved) calculator.restore(unsaved);
    else calculator.begin(location.search);
  });
  python.start();
}

/**
 * Only a box that scrolls needs to be reached by the keyboard.
 *
 * @param {HTMLElement} box
 */
function markScrollable(box) {
  if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
}

/* The theme opens every fold for printing.  An answer key is printed only when the reader
   has opened it. */
document.addEventListener("click", ({ target }) => {
  if (!(target instanceof Element)) return;
  const key = /** @type {HTMLDetailsElement | null | undefined} */ (
    target.closest(".answers > summary")?.parentElement
  );
  if (key) key.classList.toggle("answers--wanted", !key.open);
});

// The theme announces every page that it shows, the first one included.
if (window.document$) window.document$.subscribe(attach);
else attach();

/* Saving everything is a long job: a calculator that is starting comes first. */
const hasCalculators = document.querySelector("[data-calculator]") !== null;
let saving = false;
python.onState((state) => {
  if (saving || (hasCalculators && !["ready", "stopped", "failed"].includes(state))) return;
  saving = true;
  keepOffline(base, () => keepOverReload(shown));
}, "always");
