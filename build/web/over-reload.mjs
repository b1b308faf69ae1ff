/* What is typed stays while a page is loaded again for a newer version.  The browser keeps it for
   this tab alone, until the page has it back. */

const KEY = "over-reload";

/* Keeps the inputs of the calculators shown; tells whether the browser did. */
export function keepOverReload(calculators) {
  const cards = {};
  for (const calculator of calculators) cards[calculator.id] = calculator.unsaved();
  if (Object.values(cards).every((own) => own === null)) return true;
  try {
    sessionStorage.setItem(KEY, JSON.stringify({ path: location.pathname, cards }));
    return true;
  } catch {
    return false;
  }
}

const isText = (value) => typeof value === "string";
const isRow = (row) => Array.isArray(row) && row.every(isText);

/* Tells whether a part of the storage has the shape that was written; what the inputs themselves
   hold is for Python to read. */
function isSound(own) {
  const { inputs, readings, query } = own ?? {};
  return (
    inputs !== null && typeof inputs === "object" && isText(query) &&
    Array.isArray(readings) && readings.every((row) => isRow(row) && row.length === 2)
  );
}

/* Gives back what was kept, once: inputs by the calculator's place on the page. */
export function keptOverReload() {
  try {
    const { path, cards } = JSON.parse(sessionStorage.getItem(KEY)) ?? {};
    sessionStorage.removeItem(KEY);
    if (path !== location.pathname) return {};
    return Object.fromEntries(Object.entries(cards ?? {}).filter(([, own]) => isSound(own)));
  } catch {
    return {};
  }
}
