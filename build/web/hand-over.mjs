/* What the reader takes away: text, link, QR code, print, data. */

/** @import { AwayRequest, HandOverRequest, Inputs } from "./messages.ts" */

import { part } from "./dom.mjs";
import { save } from "./files.mjs";
import { typedPrices } from "./prices.mjs";
import { python } from "./python.mjs";
import { isInFolder, linkTo } from "./site.mjs";
import { asReply } from "./trust.mjs";

/** @typedef {"qr" | "qr-file"} Code */
/** @typedef {HandOverRequest["as"] | Code | "print" | "link"} What */

/**
 * The card that it is taken from.
 *
 * @typedef {object} Context
 * @property {HTMLElement} card
 * @property {string} calculator
 * @property {Inputs} inputs
 * @property {string} query
 * @property {(text: string) => void} say
 */

/** @param {Context} context */
const linkOf = ({ calculator, query }) => linkTo(calculator, query);

const ONLY_HERE = "It opens on this device only: the handbook lies in a folder of it.";

/**
 * What is told of a link that was copied: what it does not hold, too.
 *
 * @param {Context} context
 */
function linkWords({ card }) {
  const stays = card.querySelector(".hand-over__stays")?.textContent;
  const words = isInFolder ? `Link copied. ${ONLY_HERE}` : "Link copied.";
  return stays ? `${words} ${stays}` : words;
}

/** @param {Context} context */
const boxOf = ({ card }) => part(card, ".qr");

/**
 * @param {string} text
 * @param {Context} context
 * @param {string} sentence  what is told when it is done
 */
async function copy(text, context, sentence) {
  try {
    await navigator.clipboard.writeText(text);
    context.say(sentence);
  } catch {
    // Without permission for the clipboard the text is shown, ready to be copied by hand.
    const box = boxOf(context);
    const area = document.createElement("textarea");
    area.readOnly = true;
    area.value = text;
    area.setAttribute("aria-label", "Text to copy");
    box.replaceChildren(area);
    box.hidden = false;
    area.focus();
    area.select();
    area.scrollTop = 0;
    context.say("The browser blocked copying. The text is selected: copy it by hand.");
  }
}

const TYPES = {
  json: "application/json",
  csv: "text/csv;charset=utf-8",
  "kit-csv": "text/csv;charset=utf-8",
  template: "text/csv;charset=utf-8",
  file: "application/toml",
};

/**
 * @param {What} what
 * @returns {what is Code}
 */
const isCode = (what) => what === "qr" || what === "qr-file";

/**
 * Asks for what is to be taken away; null where it was not made, which is told.
 *
 * @param {AwayRequest} request
 * @param {string} name  what it is called
 * @param {Context} context
 */
async function made(request, name, { say }) {
  let reply;
  try {
    reply = await python.ask(request);
  } catch (error) {
    say(`${name} was not made: ${python.reasonOf(error)}.`);
    return null;
  }
  if (reply.kind === "handed-over") return reply;
  say(reply.kind === "failed" ? reply.text : "Correct the inputs first; nothing was taken.");
  return null;
}

/**
 * @param {What} what
 * @param {Context} context
 */
export async function handOver(what, context) {
  if (what === "print") window.print();
  else if (what === "link") await copy(linkOf(context), context, linkWords(context));
  else if (isCode(what)) await showCode(what, context);
  else await takeAway(what, context);
}

/**
 * @param {HandOverRequest["as"]} what
 * @param {Context} context
 */
async function takeAway(what, context) {
  const { card, calculator, inputs, say } = context;
  const name = what === "text" ? "The text" : "The file";
  /** @type {HandOverRequest} */
  const request = { kind: "hand-over", calculator, inputs, as: what };
  if (what === "kit-csv") request.prices = typedPrices(card);
  const reply = await made(request, name, context);
  if (!reply) return;
  if (what === "text") {
    await copy(reply.text, context, "Answer copied as text.");
    return;
  }
  save(reply.text, reply.name, TYPES[what]);
  say(`Saved as ${reply.name}.`);
}

/**
 * Shows a code, or takes it away where it is shown already.
 *
 * @param {Code} what
 * @param {Context} context
 */
async function showCode(what, context) {
  const { calculator, inputs, say } = context;
  const box = boxOf(context);
  if (!box.hidden && box.dataset.code === what) {
    box.hidden = true;
    return;
  }
  const link = linkOf(context);
  /** @type {AwayRequest} */
  const request =
    what === "qr" ? { kind: what, calculator, link } : { kind: what, calculator, inputs };
  const reply = await made(request, "The QR code", context);
  box.hidden = true; // an older code is not what was asked for
  if (!reply) return;
  box.innerHTML = asReply(reply.text);
  box.dataset.code = what;
  const caption = document.createElement("p");
  caption.textContent =
    what === "qr" ? link : "The system as a file: save what the scanner shows and open it here.";
  box.append(caption);
  box.hidden = false;
  box.scrollIntoView({ block: "nearest" });
  const isLink = what === "qr";
  const words = `The QR code holds ${isLink ? "the link to these figures" : "the file"}.`;
  say(isLink && isInFolder ? `${words} ${ONLY_HERE}` : words);
}
