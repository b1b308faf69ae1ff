/* The stock list that this device keeps, and amplifiers that are put into it. */

/** @import { StockedReply } from "./messages.ts" */

import { python } from "./python.mjs";
import { keepSystem, keptSystem } from "./system.mjs";

/**
 * Puts an amplifier into the stock list of this device.  One of the same name with other figures
 * is replaced only with `replace`: without it the reply says that it `is_there`.
 *
 * What happened is told through `say`.  The list is kept at once, and stands in the form that has
 * a field for it.
 *
 * @param {object} asked
 * @param {string[][]} asked.amplifiers  rows of the plan's form, as `readRows` gives them; a card
 *   gives its own row alone; of several the planned one is taken
 * @param {HTMLFormElement} asked.form  of the card
 * @param {(text: string) => void} asked.say
 * @param {boolean} [asked.replace]
 * @returns {Promise<StockedReply | null>}  null where nothing could be added, which was told
 */
export async function addToStock({ amplifiers, form, say, replace = false }) {
  /** @type {HTMLTextAreaElement | null} */
  const area = form.querySelector("textarea[name=shelf]");
  const kept = keptSystem()?.shelf;
  const shelf = area?.value || (typeof kept === "string" ? kept : "");
  let reply;
  try {
    reply = await python.ask({ kind: "stock", calculator: "fit-plan", shelf, amplifiers, replace });
  } catch (error) {
    say(`Not added to the stock list: ${python.reasonOf(error)}.`);
    return null;
  }
  if (reply.kind !== "stocked") {
    say(reply.text);
    return null;
  }
  if (reply.shelf === null) {
    say(reply.text);
    return reply;
  }
  const isKept = keepSystem({ shelf: reply.shelf });
  // Nothing was typed: an example that is shown does not become the reader's own by this.
  if (area) area.value = reply.shelf;
  const lost = " This browser does not keep it: save the list as a file.";
  say(isKept ? reply.text : reply.text + lost);
  return reply;
}

/**
 * A button that adds: where another of the name is in the list, it offers to replace that one, and
 * the next press does.
 *
 * @param {HTMLButtonElement} button
 * @param {Omit<Parameters<typeof addToStock>[0], "replace">} asked
 */
export async function pressToAdd(button, asked) {
  const plain = button.dataset.word ?? button.textContent ?? "";
  const replace = button.dataset.replaces === "yes";
  button.disabled = true;
  const reply = await addToStock({ ...asked, replace });
  button.disabled = false;
  button.dataset.word = plain;
  button.dataset.replaces = reply?.is_there ? "yes" : "no";
  button.textContent = reply?.is_there ? "Replace it in my stock list" : plain;
  button.focus();
}
