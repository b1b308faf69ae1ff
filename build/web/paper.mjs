/* The corner of a printed sheet: the QR code of its link, made when nothing else is asked for. */

/** @import { Card } from "./card.mjs" */

import { python } from "./python.mjs";
import { isInFolder, linkTo } from "./site.mjs";
import { asReply } from "./trust.mjs";

const PAUSE_MS = 600; // after an answer; one that is typed on in the meantime needs no code

/** @type {WeakMap<Card, number>} */
const timers = new WeakMap();

/**
 * Fills the corner of the sheet shown, if it has one, once the figures have settled.
 *
 * @param {Card} card
 * @param {string} query
 */
export function fillCorner(card, query) {
  clearTimeout(timers.get(card));
  if (isInFolder || !card.answer.querySelector("[data-qr]")) return;
  timers.set(card, setTimeout(() => void fill(card, query), PAUSE_MS));
}

/**
 * @param {Card} card
 * @param {string} query
 */
async function fill(card, query) {
  const corner = card.answer.querySelector("[data-qr]");
  if (!corner || !card.isShown) return;
  try {
    const link = linkTo(card.name, query);
    const reply = await python.ask({ kind: "qr-paper", calculator: card.name, link });
    // Other figures may stand there by now.
    if (reply.kind === "handed-over" && corner.isConnected) corner.innerHTML = asReply(reply.text);
  } catch {
    // Without the code the sheet is as good.
  }
}
