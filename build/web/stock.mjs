/* The stock list that this device keeps, and amplifiers that are put into it. */

/** @import { Parts } from "./calculator.mjs" */
/** @import { StockedReply } from "./messages.ts" */

import { around, part } from "./dom.mjs";
import { fold } from "./folding.mjs";
import { python } from "./python.mjs";
import { readRow } from "./rows.mjs";
import { keepSystem, keptSystem } from "./system.mjs";

/** The last addition: each is put into the list that the one before it has left. */
let last = Promise.resolve();

/**
 * Puts an amplifier into the stock list of this device.  One of the same name with other figures
 * is replaced only with `replace`: without it the reply says that it `is_there`.
 *
 * What happened is told through `say`.  The list is kept at once, and stands in the form that has
 * a field for it.
 *
 * @param {object} asked
 * @param {string[][]} asked.amplifiers  rows of the plan's form, as `readRow` gives them; of
 *   several the planned one is taken
 * @param {Parts} asked.parts  of the calculator
 * @param {(text: string) => void} asked.say
 * @param {boolean} [asked.replace]
 * @returns {Promise<StockedReply | null>}  null where nothing could be added, which was told
 */
export function addToStock(asked) {
  const adding = last.then(() => add(asked));
  last = adding.then(() => undefined);
  return adding;
}

/**
 * @param {Parameters<typeof addToStock>[0]} asked
 * @returns {Promise<StockedReply | null>}
 */
async function add({ amplifiers, parts, say, replace = false }) {
  const shelf = listOf(parts);
  let reply;
  try {
    reply = await python.ask({ kind: "stock", calculator: "fit-plan", shelf, amplifiers, replace });
  } catch (error) {
    say(`Not added to the stock list: ${python.reasonOf(error)}.`);
    return null;
  }
  const text = listOf(parts) === shelf ? reply.text : "The stock list has changed. Press again.";
  if (reply.kind !== "stocked" || text !== reply.text) {
    say(text);
    return null;
  }
  if (reply.shelf === null) {
    say(text);
    return reply;
  }
  const isKept = keepSystem({ shelf: reply.shelf });
  showList(parts, reply.shelf);
  const lost = " This browser cannot keep it: save the list as a file.";
  say(isKept ? text : text + lost);
  return reply;
}

/**
 * @param {Parts} parts
 * @returns {HTMLTextAreaElement | null}
 */
const areaOf = ({ card }) => card.form.querySelector("textarea[name=shelf]");

/**
 * The list: as it stands in the form, else as it is kept.
 *
 * @param {Parts} parts
 */
function listOf(parts) {
  const kept = keptSystem()?.shelf;
  return areaOf(parts)?.value || (typeof kept === "string" ? kept : "");
}

/**
 * Shows the list in the form.  Nothing was typed, and no answer hangs on a list beside amplifiers
 * of the form: the one in sight stays the answer to what stands there.
 *
 * @param {Parts} parts
 * @param {string} text
 */
function showList(parts, text) {
  const area = areaOf(parts);
  if (!area) return;
  const { isChanged } = parts.questions;
  area.value = text;
  if (!isChanged) parts.questions.formIsNew();
  /** @type {HTMLElement | null} */
  const folded = area.closest(".card--closed");
  if (folded) fold(folded, true); // its line says what is in it
}

/**
 * A button that adds: the amplifier of its column, else the planned one.
 *
 * @param {HTMLButtonElement} button
 * @param {Parts} all  of the calculator
 */
export function pressToAdd(button, all) {
  const { card } = all;
  /** @type {HTMLElement | null} */
  const row = button.closest("[data-row]");
  if (!row) {
    const { amplifier } = card.inputs();
    const amplifiers = Array.isArray(amplifier) ? amplifier : [];
    return press(button, { amplifiers, parts: all, say: card.say.bind(card) });
  }
  const keys = (around(row, ".rows").dataset.columns ?? "").split(" ");
  const told = part(row, "[data-told]");
  /** @param {string} text */
  const say = (text) => {
    told.textContent = text;
  };
  return press(button, { amplifiers: [readRow(row, keys)], parts: all, say });
}

/**
 * Where another of the name is in the list, the button offers to replace that one, and the next
 * press does; not if the amplifier was changed in between.
 *
 * @param {HTMLButtonElement} button
 * @param {Omit<Parameters<typeof addToStock>[0], "replace">} asked
 */
async function press(button, asked) {
  const plain = button.dataset.word ?? button.textContent ?? "";
  const figures = JSON.stringify(asked.amplifiers);
  const replace = button.dataset.replaces === figures;
  button.disabled = true;
  const reply = await addToStock({ ...asked, replace });
  button.disabled = false;
  button.dataset.word = plain;
  button.dataset.replaces = reply?.is_there ? figures : "";
  button.textContent = reply?.is_there ? "Replace it in my stock list" : plain;
  button.focus();
}
