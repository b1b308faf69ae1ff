/* The worker: starts Python and passes texts to and from `calc.page.respond`.

   In:   { id, text }                      a request, see calc/page.py
   Out:  { kind: "ready", way }            way: "image" or "plain"
         { kind: "failed", reason }        Python cannot be started; nothing more will come
         { kind: "reply", id, text }
         { kind: "broken", id, reason }    this one request ended in an error             */

import { LOCK, START } from "./start.mjs";
import { loadPyodide } from "./pyodide.mjs";

const here = new URL("./", import.meta.url);
const ordinaryFetch = self.fetch.bind(self);

/* Files are packed by the build and unpacked here, so that no host needs to compress. */
async function unpacked(name) {
  const response = await ordinaryFetch(new URL(name, here));
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  return response.body.pipeThrough(new DecompressionStream("gzip"));
}

/* An archive without entries: with the image, no module is ever read from an archive. */
const EMPTY_ZIP = new Uint8Array(22);
EMPTY_ZIP.set([0x50, 0x4b, 0x05, 0x06]);

/* After its code has come in whole, the runtime starts within a second or so; when it does
   not, the code is damaged, which the loader does not tell. */
const PATIENCE_MS = 30_000;

/* The loader asks for its files by name; these two are handed to it.  Resolves when the
   code's stream has begun, so that a missing file is told at once. */
async function handOver(library) {
  let whole;
  const damaged = new Promise((_, reject) => {
    whole = () =>
      setTimeout(() => reject(new Error("python.wasm.bin: damaged")), PATIENCE_MS);
  });
  damaged.catch(() => {});
  const code = (await unpacked("python.wasm.bin")).pipeThrough(
    new TransformStream({ flush: whole }),
  );
  self.fetch = async (resource, options) => {
    const name = new URL(resource?.url ?? resource, here).pathname.split("/").pop();
    if (name === "pyodide.asm.wasm") {
      return new Response(code, { headers: { "Content-Type": "application/wasm" } });
    }
    if (name === "library.zip" && library === "none") return new Response(EMPTY_ZIP);
    return ordinaryFetch(resource, options);
  };
  return { damaged }; // in an object: a promise returned bare would be waited for
}

const options = () => ({
  indexURL: here.href,
  stdLibURL: new URL("library.zip", here).href,
  lockFileContents: LOCK,
  packageBaseUrl: here.href,
});

async function startFromImage() {
  const [image, { damaged }] = await Promise.all([
    unpacked("snapshot.bin").then((stream) => new Response(stream).arrayBuffer()),
    handOver("none"),
  ]);
  const loading = loadPyodide({ ...options(), _loadSnapshot: image });
  return (await Promise.race([loading, damaged])).globals.get("respond");
}

async function startPlain() {
  const { damaged } = await handOver("whole");
  const python = await Promise.race([loadPyodide(options()), damaged]);
  // The packages lie in the same archive as the library, which is on Python's path.
  python.runPython(START);
  return python.globals.get("respond");
}

async function start() {
  try {
    return [await startFromImage(), "image"];
  } catch (error) {
    console.warn("The memory image did not load; loading the plain way.", error);
    return [await startPlain(), "plain"];
  }
}

const started = start();
started.then(
  ([, way]) => self.postMessage({ kind: "ready", way }),
  (error) => self.postMessage({ kind: "failed", reason: String(error.message ?? error) }),
);

self.onmessage = async ({ data }) => {
  let respond;
  try {
    [respond] = await started;
  } catch {
    return; // told already
  }
  try {
    self.postMessage({ kind: "reply", id: data.id, text: respond(data.text) });
  } catch (error) {
    self.postMessage({ kind: "broken", id: data.id, reason: String(error.message ?? error) });
  }
};
