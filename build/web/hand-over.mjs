/* What the reader takes away: text, link, QR code, print, data. */

import { python } from "./python.mjs";

export function linkOf(calculator, query) {
  return `${location.origin}${location.pathname}${query ? `?${query}` : ""}#${calculator}`;
}

async function copy(text, { card, say }, done) {
  try {
    await navigator.clipboard.writeText(text);
    say(done);
  } catch {
    // Without permission for the clipboard the text is shown, ready to be copied by hand.
    const box = card.querySelector(".qr");
    const area = document.createElement("textarea");
    area.readOnly = true;
    area.value = text;
    area.setAttribute("aria-label", "Text to copy");
    box.replaceChildren(area);
    box.hidden = false;
    area.focus();
    area.select();
    area.scrollTop = 0;
    say("The browser did not permit copying: the text is selected, copy it by hand.");
  }
}

export function save(text, name, type) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/* What was not made, in a word. */
const WANTED = {
  text: "The text",
  qr: "The QR code",
  "qr-file": "The QR code",
};

const TYPES = { json: "application/json", csv: "text/csv;charset=utf-8", file: "application/toml" };

export async function handOver(what, context) {
  const { calculator, inputs, query, card, say } = context;
  if (what === "print") return window.print();
  const link = linkOf(calculator, query);
  if (what === "link") return copy(link, context, "Link copied.");
  const box = card.querySelector(".qr");
  const isCode = what === "qr" || what === "qr-file";
  if (isCode && !box.hidden && box.dataset.code === what) {
    box.hidden = true;
    return undefined;
  }
  let reply;
  try {
    reply = await python.ask(
      what === "qr"
        ? { kind: "qr", calculator, link }
        : what === "qr-file"
        ? { kind: "qr-file", calculator, inputs }
        : { kind: "hand-over", calculator, inputs, as: what },
    );
  } catch (error) {
    reply = {
      kind: "failed",
      text: `${WANTED[what] ?? "The file"} was not made: ${python.whyNot(error)}.`,
    };
  }
  if (isCode) box.hidden = true; // an older code is not what was asked for
  if (reply.kind === "failed") return say(reply.text);
  if (reply.kind === "refused") return say("Mend the inputs first; nothing was taken.");
  if (reply.kind === "failed") return say(reply.text);
  if (what === "text") return copy(reply.text, context, "Answer copied as text.");
  if (isCode) {
    box.innerHTML = reply.text;
    box.dataset.code = what;
    const shown = document.createElement("p");
    shown.textContent =
      what === "qr" ? link : "The system as a file: save what the reader shows, and open it here.";
    box.append(shown);
    box.hidden = false;
    box.scrollIntoView({ block: "nearest" });
    return say(`The QR code holds ${what === "qr" ? "the link to these figures" : "the file"}.`);
  }
  save(reply.text, reply.name, TYPES[what]);
  return say(`Saved as ${reply.name}.`);
}
