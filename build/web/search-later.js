/* Stands in for the theme's search worker and becomes it a moment later: building the search
   index takes a core that the first answer needs.  What is asked meanwhile is not lost.

   It also asks again, with one wrong letter allowed, where a word of the query was found nowhere. */

/** @type {unknown[]} */
const early = [];
/** @param {MessageEvent} event */
const keep = (event) => early.push(event.data);
self.addEventListener("message", keep);

const QUERY = 2;
const RESULT = 3;
const LEAST_LETTERS = 3; // one wrong letter in two says nothing
/** The queries that are being answered, in their order; those asked again are marked.
    @type {{ words: string, isAgain: boolean }[]} */
const asked = [];
const post = self.postMessage.bind(self);

/** The words of a plain query, as the theme's worker parts them.
    @param {string} query */
const wordsOf = (query) => query.toLowerCase().split(/[\s\-,.;:!?()“”/]+/).filter(Boolean);

/** The query with one wrong letter allowed in each word that no result knows; nothing where each
    is known, or where the query has signs of its own.
    @param {string} query
    @param {{ terms?: Record<string, boolean> }[]} results */
const nearly = (query, results) => {
  if (/["*~^+:]/.test(query)) return "";
  const held = new Set(results.flatMap(({ terms = {} }) => Object.keys(terms)));
  const words = wordsOf(query);
  const lost = words.filter((word) => word.length >= LEAST_LETTERS && !held.has(word));
  return lost.length ? words.map((word) => (lost.includes(word) ? `${word}~1` : word)).join(" ") : "";
};

/** @param {any} message */
const reply = (message) => {
  if (message?.type !== RESULT) return post(message);
  const { words = "", isAgain = true } = asked.shift() ?? {};
  const again = isAgain ? "" : nearly(words, message.data.items.flat());
  if (!again) return post(message);
  asked.unshift({ words: again, isAgain: true });
  ask({ type: QUERY, data: again });
};

/** @param {unknown} data */
const ask = (data) => self.dispatchEvent(new MessageEvent("message", { data }));

/* Where the engine wants a script's address vouched for: this one, and no other. */
const place = "SEARCH_WORKER";
const trust = /** @type {any} */ (self).trustedTypes;
const vouched = trust?.createPolicy("worker", { createScriptURL: () => place }).createScriptURL("") ?? place;

setTimeout(() => {
  self.removeEventListener("message", keep);
  self.postMessage = reply;
  self.addEventListener("message", (/** @type {MessageEvent} */ event) => {
    const { type, data } = event.data ?? {};
    if (type === QUERY && asked[0]?.words !== data) asked.push({ words: data, isAgain: false });
  });
  importScripts(vouched);
  for (const data of early) ask(data);
}, 1500);
