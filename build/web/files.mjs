/* Files that the reader opens and saves. */

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
 * Returns a file's text: UTF-8, or what spreadsheets of Western Europe write in its place.
 *
 * @param {File} file
 */
async function readFile(file) {
  const bytes = await file.arrayBuffer();
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
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
