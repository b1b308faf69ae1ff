/* Readings that are typed into the boxes of an answer.  They stay on this device: in the
   browser's storage, under the system's figures, and never in a link. */

const PREFIX = "readings ";
const MOST_SYSTEMS = 20; // the oldest is forgotten

export function readingRows(answer) {
  return [...answer.querySelectorAll("[data-reading]")]
    .filter((box) => box.value.trim())
    .map((box) => [box.dataset.reading, box.value.trim()]);
}

export function fillBoxes(answer, rows) {
  const typed = new Map(rows);
  for (const box of answer.querySelectorAll("[data-reading]")) {
    box.value = typed.get(box.dataset.reading) ?? "";
  }
}

function keyOf(calculator, query) {
  return `${PREFIX}${calculator}?${query}`;
}

export function keepReadings(calculator, query, rows) {
  try {
    const key = keyOf(calculator, query);
    localStorage.removeItem(key);
    if (rows.length === 0) return true;
    const kept = Object.keys(localStorage).filter((one) => one.startsWith(PREFIX));
    const age = (one) => JSON.parse(localStorage.getItem(one)).at ?? 0;
    kept.sort((one, other) => age(one) - age(other));
    for (const one of kept.slice(0, Math.max(0, kept.length - MOST_SYSTEMS + 1))) {
      localStorage.removeItem(one);
    }
    localStorage.setItem(key, JSON.stringify({ at: Date.now(), rows }));
    return true;
  } catch {
    return false; // a browser that keeps nothing: the sheet works, and forgets
  }
}

export function keptReadings(calculator, query) {
  try {
    const rows = JSON.parse(localStorage.getItem(keyOf(calculator, query)))?.rows ?? [];
    return rows.filter((row) => Array.isArray(row) && row.length === 2).map((row) => row.map(String));
  } catch {
    return [];
  }
}

/* Shows what is wrong with a reading beside its box.  An error is about the step that it was
   given for; a message on rows names their numbers, in the order in which they were read. */
export function showReadingErrors(answer, errors) {
  const told = new Map();
  const rows = readingRows(answer);
  for (const { field, given, message } of errors) {
    if (field !== "readings") continue;
    const named = [...message.matchAll(/Row (\d+): (.*?)(?= Row \d+: |$)/g)];
    for (const [, at, text] of named) told.set(rows[at - 1]?.[0], text);
    if (named.length === 0) told.set(given, message.replace(/^.*?: /, ""));
  }
  for (const box of answer.querySelectorAll("[data-reading]")) {
    const text = told.get(box.dataset.reading) ?? "";
    const place = box.parentElement.querySelector(".reading__error");
    place.textContent = text;
    place.hidden = !text;
    if (text) box.setAttribute("aria-invalid", "true");
    else box.removeAttribute("aria-invalid");
  }
}
