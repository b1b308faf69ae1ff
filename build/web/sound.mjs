/* Plays one sound at a time.  Nothing plays before a press; the stop is in sight while it does. */

import { python } from "./python.mjs";

let context = null;
let playing = null; // the source that sounds
let bar = null;

function bytesOf(text) {
  const letters = atob(text);
  const bytes = new Uint8Array(letters.length);
  // A loop: some ten million bytes, ten times as fast as a function for each.
  for (let at = 0; at < letters.length; at += 1) bytes[at] = letters.charCodeAt(at);
  return bytes;
}

async function made({ calculator, inputs, say }) {
  let reply;
  try {
    reply = await python.ask({ kind: "sound", calculator, inputs });
  } catch (error) {
    say(`The sound was not made: ${python.whyNot(error)}.`);
    return null;
  }
  if (reply.kind === "failed") {
    say(reply.text);
    return null;
  }
  if (reply.kind === "refused") {
    say("Mend the inputs first; nothing plays.");
    return null;
  }
  if (reply.kind === "failed") {
    say(reply.text);
    return null;
  }
  return { bytes: bytesOf(reply.wav), name: reply.name };
}

export async function playSound(asked) {
  stopSound();
  try {
    // Made while the press still counts: a browser lets nothing sound without one.
    context ??= new AudioContext();
  } catch (error) {
    asked.say(`This browser does not play it (${error.message}). Save the file instead.`);
    return;
  }
  const mine = (playing = { start: null });
  showBar("A tone is being made …");
  const sound = await made(asked);
  if (playing !== mine) return; // stopped meanwhile
  if (!sound) return stopSound();
  try {
    await context.resume();
    const buffer = await context.decodeAudioData(sound.bytes.buffer);
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
    asked.say(`This browser does not play it (${error.message}). Save the file instead.`);
  }
}

export function stopSound() {
  const was = playing;
  playing = null;
  bar?.remove();
  bar = null;
  was?.source?.stop();
}

export async function saveSound(asked, save) {
  const sound = await made(asked);
  if (!sound) return;
  save(sound.bytes, sound.name, "audio/wav");
  asked.say(`Saved as ${sound.name}.`);
}

function showBar(text) {
  if (!bar) {
    bar = document.createElement("div");
    bar.className = "sound-bar";
    bar.setAttribute("role", "group");
    bar.setAttribute("aria-label", "Sound");
    const button = document.createElement("button");
    button.type = "button";
    button.className = "button";
    button.textContent = "Stop the tone";
    button.addEventListener("click", stopSound);
    bar.append(document.createElement("span"), button);
    document.body.append(bar);
  }
  bar.firstChild.textContent = text;
}

addEventListener("keydown", (event) => {
  if (event.key === "Escape" && playing) stopSound();
});
addEventListener("pagehide", stopSound);
document.addEventListener("visibilitychange", () => {
  if (document.hidden) stopSound();
});
