/* The worker: starts Python and passes texts to and from `calc.app.page.respond`.  What it hears and
   what it says: ToWorker and FromWorker in messages.ts. */

/** @import { Pack } from "./image.mjs" */
/** @import { FromWorker, ToWorker, Way } from "./messages.ts" */
/** @import { Respond } from "./runtime.ts" */

import { fitted, freshMemory, memoryOf, readPack } from "./image.mjs";
import { runScript } from "./run-script.mjs";
import { LOCK, START_PLAIN } from "./start.mjs";
import { unpack } from "./unpack.mjs";
import { loadPyodide } from "pyodide";

const here = new URL("./", import.meta.url);
const ordinaryFetch = self.fetch.bind(self);

/**
 * Reads a file that the build has packed, so that no host needs to compress.
 *
 * @param {string} name
 */
async function read(name) {
  const response = await ordinaryFetch(new URL(name, here));
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

/* An archive without entries: with the image, no module is ever read from an archive. */
const EMPTY_ZIP = new Uint8Array(22);
EMPTY_ZIP.set([0x50, 0x4b, 0x05, 0x06]);

/* Once its code has come in whole, the runtime starts within a second or so; when it does
   not, something is damaged that the loader does not tell of. */
const PATIENCE_MS = 30_000;

/* The code is compiled, in threads of the browser's, while the image is unpacked; the loader, which
   would fetch and compile it afterwards, is handed what is compiled.  Nothing else keeps the bytes. */
function codeAndImage() {
  const packedImage = read("snapshot.bin");
  const bytes = read("python.wasm.bin").then(unpack);
  packedImage.catch(() => {}); // what fails is told when it is wanted
  return {
    code: bytes.then((whole) => WebAssembly.compile(whole)),
    image: bytes.then(() => packedImage).then(unpack).then(readPack),
  };
}
const { code, image: unpackedImage } = codeAndImage();
/** The memory as it is when the code has been put to it. @type {Uint8Array} */
let fresh = new Uint8Array();
/** @type {typeof WebAssembly.instantiateStreaming} */
WebAssembly.instantiateStreaming = async (_, imports) => {
  const module = await code;
  const instance = await WebAssembly.instantiate(module, imports);
  const memory = memoryOf(imports);
  if (libraryIsEmpty && memory) fresh = freshMemory(memory);
  return { module, instance };
};

/* The loader asks for files by name: of the code it needs no more than an answer, and with
   an image the library stays empty. */
let libraryIsEmpty = true;
/** @param {RequestInfo | URL} resource */
const addressOf = (resource) => (resource instanceof Request ? resource.url : resource);
self.fetch = async (resource, options) => {
  const name = new URL(addressOf(resource), here).pathname.split("/").pop();
  if (name === "pyodide.asm.wasm") return new Response();
  if (name === "library.zip" && libraryIsEmpty) return new Response(EMPTY_ZIP);
  return ordinaryFetch(resource, options);
};

/** @type {Promise<Pack | null>} */
let image = unpackedImage;
const script = runScript(new URL("pyodide.asm.js", here));
// What fails is told when it is wanted, by load(), the loader and report().
image.catch(() => {});
code.catch(() => {});
script.catch(() => {});

const options = () => ({
  indexURL: here.href,
  stdLibURL: new URL("library.zip", here).href,
  lockFileContents: LOCK,
  packageBaseUrl: here.href,
});

/** @param {{ _loadSnapshot?: Uint8Array }} more */
async function load(more) {
  await code; // without it neither way leads anywhere
  let timer;
  /** @type {Promise<never>} */
  const late = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error("it does not start")), PATIENCE_MS);
  });
  try {
    return await Promise.race([loadPyodide({ ...options(), ...more }), late]);
  } finally {
    clearTimeout(timer);
  }
}

async function startFromImage() {
  const parts = await image;
  if (!parts) throw new Error("the memory image was used up");
  await script;
  const make = globalThis._createPyodideModule;
  globalThis._createPyodideModule = fitted(make, parts, () => fresh);
  try {
    const python = await load({ _loadSnapshot: parts.head });
    return python.globals.get("respond");
  } finally {
    globalThis._createPyodideModule = make;
    image = Promise.resolve(null); // some sixteen megabytes
    fresh = new Uint8Array();
  }
}

async function startPlain() {
  libraryIsEmpty = false;
  const python = await load({});
  // The packages lie in the same archive as the library, which is on Python's path.
  python.runPython(START_PLAIN);
  return python.globals.get("respond");
}

/** @returns {Promise<[Respond, Way]>} */
async function start() {
  try {
    return [await startFromImage(), "image"];
  } catch (error) {
    console.warn("The memory image did not load; loading the plain way.", error);
    return [await startPlain(), "plain"];
  }
}

const started = start();
const startedOrNot = started.catch(() => null); // report() tells why

/** @param {FromWorker} message */
const tell = (message) => self.postMessage(message);

/** @param {any} error  whatever was thrown: the runtime throws more than errors */
const reasonOf = (error) => String(error?.message ?? error);

/* The page asks when it listens: it may come later than Python. */
function report() {
  started.then(
    ([, way]) => tell({ kind: "ready", way, edition: EDITION }),
    (error) => tell({ kind: "failed", reason: reasonOf(error) }),
  );
}

/* The lock is given back by the browser, however this worker ends. */
const life = self.crypto.randomUUID?.();
/** @type {Promise<string>} */
const held = new Promise((resolve, reject) => {
  if (!life || !navigator.locks) return; // outside a secure context
  const forEver = new Promise(() => {});
  navigator.locks.request(life, () => (resolve(life), forEver)).catch(reject);
});

function tellLife() {
  held.then(
    (name) => tell({ kind: "alive", life: name }),
    () => {}, // no lock is to be had: then an end is not noticed
  );
}

/**
 * Gives Python a request; tells whether it was answered.
 *
 * @param {string} text
 * @param {(reply: string) => void} answered
 * @param {(reason: string) => void} broken  by an error of Python's own, which is about the request
 */
async function ask(text, answered, broken) {
  const python = await startedOrNot;
  if (!python) return false;
  const [respond] = python;
  try {
    answered(respond(text));
    return true;
  } catch (error) {
    const isOfPython = error instanceof Error && error.constructor.name === "PythonError";
    if (isOfPython) broken(reasonOf(error));
    else tell({ kind: "crashed", reason: reasonOf(error) }); // any other one is Python's end
    return false;
  }
}

/* The browser makes code quick that has run some times.  A reader who has put the cursor into a field
   has typed within a second: until then the way to an answer is run, and its answers are nobody's. */
const PRACTICE_MS = 600;
let requests = 0;

/** @param {string} text  a request */
async function practise(text) {
  const before = requests;
  await startedOrNot;
  const end = performance.now() + PRACTICE_MS;
  while (requests === before && performance.now() < end) {
    if (!(await ask(text, nobody, nobody))) return; // whoever asks in earnest is told why
    await new Promise((resolve) => setTimeout(resolve)); // what has come in meanwhile comes first
  }
}
const nobody = () => {};

self.onmessage = (/** @type {MessageEvent<ToWorker>} */ { data }) => {
  if (data.kind === "report") report();
  else if (data.kind === "life") tellLife();
  else if (data.kind === "practise") practise(data.text);
  else {
    const { id } = data;
    requests += 1;
    ask(
      data.text,
      (text) => tell({ kind: "reply", id, text }),
      (reason) => tell({ kind: "broken", id, reason }),
    );
  }
};
