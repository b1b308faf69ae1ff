/* Files that the reader opens and saves. */

import { python } from "./python.mjs";

/* As for the command line: a file of the most characters that is read, in any script.  What is longer is
   no list, and would be read, decoded and sent to Python whole. */
const LONGEST_FILE_BYTES = 4_000_000;

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
 * Reads the file that was picked; null where none was.
 *
 * @param {HTMLInputElement} picker
 */
export function readPicked(picker) {
  const file = picker.files?.[0];
  picker.value = ""; // the same file can be taken again
  return file ? readFile(file) : null;
}

/**
 * Throws an error with the reason, where the file cannot be read.
 *
 * @param {File} file
 * @returns {Promise<Picked>}
 */
async function readFile(file) {
  if (file.size > LONGEST_FILE_BYTES) throw new Error("it is larger than 4 MB");
  const bytes = new Uint8Array(await file.arrayBuffer());
  const isTable = SPREADSHEETS.some((start) => start.every((byte, at) => bytes[at] === byte));
  return { text: isTable ? await readSpreadsheet(bytes) : readText(bytes), isTable };
}

/**
 * Returns a file's text: UTF-8, or what spreadsheets write in its place, marked as UTF-16 or, in Western
 * Europe, with no mark at all.
 *
 * @param {Uint8Array<ArrayBuffer>} bytes
 */
function readText(bytes) {
  const [first, second] = bytes;
  if (first === 0xff && second === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (first === 0xfe && second === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

/** @param {Uint8Array} bytes */
async function readSpreadsheet(bytes) {
  let signs = "";
  // In pieces: a call takes only so many arguments.
  for (let at = 0; at < bytes.length; at += 8192) {
    signs += String.fromCharCode(...bytes.subarray(at, at + 8192));
  }
  const data = btoa(signs);
  const reply = await python.ask({ kind: "spreadsheet", calculator: "amplifier-choice", data });
  if (reply.kind === "handed-over") return reply.text;
  throw new Error(reply.kind === "failed" ? reply.text : "The spreadsheet was not read.");
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
