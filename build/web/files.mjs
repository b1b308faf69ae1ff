/* Files that the reader opens and saves. */

import { around, control } from "./dom.mjs";
import { python } from "./python.mjs";

/** How a spreadsheet begins: one that is read, and one of an old kind, which is refused in words. */
const SPREADSHEETS = [
  [0x50, 0x4b, 0x03, 0x04],
  [0xd0, 0xcf, 0x11, 0xe0],
];

/**
 * A file's text; of a spreadsheet, its first sheet as the text of a list.
 *
 * @typedef {object} Picked
 * @property {string} text
 * @property {boolean} isTable
 */

/**
 * Returns the file that was picked; null where none was, or where it cannot be read, which is told.
 *
 * @param {HTMLInputElement} picker
 * @param {(text: string) => void} say
 * @returns {Promise<Picked | null>}
 */
export async function readPicked(picker, say) {
  const file = picker.files?.[0];
  picker.value = ""; // the same file can be taken again
  if (!file) return null;
  const bytes = new Uint8Array(await file.arrayBuffer());
  const isTable = SPREADSHEETS.some((start) => start.every((byte, at) => bytes[at] === byte));
  const text = isTable ? await readSpreadsheet(bytes, say) : readText(bytes);
  return text === null ? null : { text, isTable };
}

/**
 * Returns a file's text: UTF-8, or what spreadsheets of Western Europe write in its place.
 *
 * @param {Uint8Array<ArrayBuffer>} bytes
 */
function readText(bytes) {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/**
 * @param {Uint8Array} bytes
 * @param {(text: string) => void} say
 */
async function readSpreadsheet(bytes, say) {
  let signs = "";
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 8192) {
    signs += String.fromCharCode(...bytes.subarray(at, at + 8192));
  }
  try {
    const data = btoa(signs);
    const reply = await python.ask({ kind: "spreadsheet", calculator: "amplifier-choice", data });
    if (reply.kind === "handed-over") return reply.text;
    say(reply.kind === "failed" ? reply.text : "The spreadsheet was not read.");
  } catch (error) {
    say(`The spreadsheet was not read: ${python.reasonOf(error)}.`);
  }
  return null;
}

/**
 * Takes a file's text into its field; tells the form as if it had been typed.
 *
 * @param {HTMLInputElement} picker
 * @param {(text: string) => void} say
 */
export async function takeFile(picker, say) {
  const picked = await readPicked(picker, say);
  if (picked) putText(control(around(picker, ".document"), "textarea"), picked.text);
}

/**
 * Puts a text into a field, as if it had been typed.
 *
 * @param {import("./dom.mjs").Control} area
 * @param {string} text
 */
export function putText(area, text) {
  area.value = text;
  area.dispatchEvent(new Event("change", { bubbles: true }));
}

/**
 * Saves a file as the browser saves what it loads.
 *
 * @param {BlobPart} content
 * @param {string} name
 * @param {string} type
 */
export function save(content, name, type) {
  const address = URL.createObjectURL(new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
