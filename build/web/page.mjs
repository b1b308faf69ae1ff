/* Entry: attaches calculators to each page that is shown, and keeps the handbook offline. */

import { Calculator } from "./calculator.mjs";
import { keepOffline, showWord } from "./offline.mjs";
import { keepOverReload, keptOverReload } from "./over-reload.mjs";
import { python } from "./python.mjs";
import { stopSound } from "./sound.mjs";

const base = new URL("../", import.meta.url);

let shown = []; // the calculators of the page that is shown

/* The address holds the inputs of every calculator on the page: reload, back and forward
   bring them back, and a bookmark keeps them. */
function writeAddress(calculators, path) {
  if (location.pathname !== path) return; // another page is shown by now
  const query = calculators.map((one) => one.query).filter(Boolean).join("&");
  const address = `${location.pathname}${query ? `?${query}` : ""}${location.hash}`;
  if (address !== `${location.pathname}${location.search}${location.hash}`) {
    history.replaceState(history.state, "", address);
  }
}

function attach() {
  stopSound(); // of the page that was left
  showWord();
  document.querySelectorAll(".table-box, .drawing__box").forEach(markScrollable);
  const cards = [...document.querySelectorAll("[data-calculator]:not([data-attached])")];
  if (!document.querySelector("[data-calculator]")) shown = [];
  if (cards.length === 0) return;
  python.forgetListeners();
  const calculators = (shown = []);
  const path = location.pathname;
  for (const card of cards) {
    card.dataset.attached = "";
    const lead = (name, query) => {
      const at = cards.findIndex((one) => one.id === name);
      calculators[at]?.open(query);
      cards[at]?.scrollIntoView();
    };
    calculators.push(new Calculator(card, () => writeAddress(calculators, path), lead));
  }
  const kept = keptOverReload();
  calculators.forEach((calculator, at) => {
    const own = kept[cards[at].id];
    if (own) calculator.restore(own);
    else if (location.search.length > 1) calculator.open(location.search);
    else {
      calculator.recall();
      calculator.recallSystem();
    }
  });
  python.start();
}

/* Only a box that scrolls needs to be reached by the keyboard. */
function markScrollable(box) {
  if (box.scrollWidth > box.clientWidth) box.tabIndex = 0;
}

/* The theme opens every fold for printing.  An answer key is printed only when the reader
   has opened it. */
document.addEventListener("click", ({ target }) => {
  const key = target.closest?.(".answers > summary")?.parentElement;
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
