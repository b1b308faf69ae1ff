/* Plays one sound at a time.  Nothing plays before a press; the stop is in sight while it does. */

/** @import { Inputs } from "./messages.ts" */

import { plainButton } from "./dom.mjs";
import { save } from "./files.mjs";
import { messageOf, python } from "./python.mjs";

/**
 * What is asked for.
 *
 * @typedef {object} Asked
 * @property {string} calculator
 * @property {Inputs} inputs
 * @property {string} title
 * @property {(text: string) => void} say
 */

/** @type {AudioContext | null} */
let context = null;
/**
 * What sounds, or is being made; its source is there once it sounds.
 *
 * @type {{ source: AudioBufferSourceNode | null } | null}
 */
let playing = null;
/**
 * The bar with the stop, and what it says.
 *
 * @type {{ bar: HTMLElement, title: HTMLElement } | null}
 */
let shown = null;

/** @param {string} text */
function bytesOf(text) {
  const letters = atob(text);
  const bytes = new Uint8Array(letters.length);
  // A loop: some ten million bytes, ten times as fast as a function for each.
  for (let at = 0; at < letters.length; at += 1) bytes[at] = letters.charCodeAt(at);
  return bytes;
}

/**
 * Returns the file; null where it was not made, which is told.
 *
 * @param {Asked} asked
 */
async function made({ calculator, inputs, say }) {
  /** @type {Uint8Array<ArrayBuffer>[]} */
  const parts = [];
  let got = 0;
  for (;;) {
    let reply;
    try {
      reply = await python.ask({ kind: "sound", calculator, inputs, from: got });
    } catch (error) {
      say(`The sound was not made: ${python.reasonOf(error)}.`);
      return null;
    }
    if (reply.kind !== "sound") {
      say(reply.kind === "failed" ? reply.text : "Correct the inputs first; nothing was played.");
      return null;
    }
    const part = bytesOf(reply.wav);
    parts.push(part);
    got += part.length;
    if (part.length === 0 || got >= reply.size) return { file: new Blob(parts), name: reply.name };
  }
}

/** @param {Asked} asked */
export async function playSound(asked) {
  stopSound();
  /** @param {unknown} error */
  const sayNotPlayed = (error) =>
    asked.say(`This browser cannot play it (${messageOf(error)}). Save the file instead.`);
  try {
    // Made while the press still counts: a browser lets nothing sound without one.
    context ??= new AudioContext();
  } catch (error) {
    sayNotPlayed(error);
    return;
  }
  /** @type {NonNullable<typeof playing>} */
  const mine = { source: null };
  playing = mine;
  showBar("A tone is being made …");
  const sound = await made(asked);
  if (playing !== mine) return; // stopped meanwhile
  if (!sound) {
    stopSound();
    return;
  }
  try {
    await context.resume();
    const buffer = await context.decodeAudioData(await sound.file.arrayBuffer());
    if (playing !== mine) return;
    const source = context.createBufferSource();
    source.buffer = buffer;
    source.connect(context.destination);
    source.onended = () => {
      if (playing === mine) stopSound();
    };
    mine.source = source;
    source.start();
    showBar(`Playing: ${asked.title}`);
    asked.say(`Playing: ${asked.title}. Escape stops it.`);
  } catch (error) {
    if (playing === mine) stopSound();
    sayNotPlayed(error);
  }
}

export function stopSound() {
  const last = playing;
  playing = null;
  shown?.bar.remove();
  shown = null;
  last?.source?.stop();
}

/** @param {Asked} asked */
export async function saveSound(asked) {
  const sound = await made(asked);
  if (!sound) return;
  save(sound.file, sound.name, "audio/wav");
  asked.say(`Saved as ${sound.name}.`);
}

/** @param {string} text */
function showBar(text) {
  shown ??= makeBar();
  shown.title.textContent = text;
}

function makeBar() {
  const bar = document.createElement("div");
  bar.className = "sound-bar";
  bar.setAttribute("role", "group");
  bar.setAttribute("aria-label", "Sound");
  const title = document.createElement("span");
  const stop = plainButton("Stop the tone");
  stop.addEventListener("click", stopSound);
  bar.append(title, stop);
  document.body.append(bar);
  return { bar, title };
}

addEventListener("keydown", (event) => {
  if (event.key === "Escape" && playing) stopSound();
});
addEventListener("pagehide", stopSound);
document.addEventListener("visibilitychange", () => {
  if (document.hidden) stopSound();
});
