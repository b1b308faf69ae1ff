/* Makes what the page's Python starts from.  Run by Node at build:

       node snapshot.mjs PACKAGES OUT LIBRARY CODE IMAGE

   PACKAGES  folder whose files become the runtime's site-packages
   OUT       folder for snapshot.raw, the packed memory image
   LIBRARY   the standard library, compiled
   CODE      folder of the runtime's loader and code
   IMAGE     file for the saved memory as it is, for the tests                         */

/** @import { Python } from "./runtime.ts" */

import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { loadPyodide } from "pyodide";
import { fitted, freshMemory, isEmpty, memoryOf, ownAddressAt } from "./image.mjs";
import { packed, partsOf, readPack } from "./image.mjs";
import { settled } from "./settled.mjs";
import { LOCK, MEMORY_BYTES, SITE_PACKAGES, START } from "./start.mjs";

const [packages, out, stdLibURL, indexURL, imageFile] = process.argv.slice(2);
const env = settled();
const options = { env, indexURL, lockFileContents: LOCK, packageBaseUrl: "./", stdLibURL };

/* What stands in a memory right after the code has been put to it. */
let fresh = new Uint8Array();
const instantiate = /** @type {(...parts: unknown[]) => Promise<unknown>} */ (
  WebAssembly.instantiate
);
/** @param {unknown} code @param {WebAssembly.Imports} [imports] */
async function instantiateAndLook(code, imports) {
  const made = await instantiate(code, imports);
  const memory = memoryOf(imports);
  if (!memory) return made;
  fresh = freshMemory(memory);
  if (!isEmpty(new Uint8Array(memory.buffer).subarray(fresh.length))) {
    throw new Error("the code's own data goes further than image.mjs says");
  }
  return made;
}
WebAssembly.instantiate = /** @type {typeof WebAssembly.instantiate} */ (instantiateAndLook);

/** @param {Python} runtime @param {string} from @param {string} to */
function copyInto(runtime, from, to) {
  runtime.FS.mkdirTree(to);
  const entries = readdirSync(from, { withFileTypes: true });
  // In one order everywhere: a folder tells its entries as it happens to hold them.
  for (const entry of entries.sort((one, other) => (one.name < other.name ? -1 : 1))) {
    const source = join(from, entry.name);
    const target = `${to}/${entry.name}`;
    if (entry.isDirectory()) copyInto(runtime, source, target);
    else runtime.FS.writeFile(target, readFileSync(source));
  }
}

/* The runtime grows its memory by a fifth at a time, and by less where that is refused: an image may
   not be larger than the memory that a page's Python starts with. */
const growAtWill = WebAssembly.Memory.prototype.grow;
WebAssembly.Memory.prototype.grow = function (/** @type {number} */ pages) {
  if (this.buffer.byteLength + pages * 2 ** 16 > MEMORY_BYTES) throw new RangeError("too much");
  return growAtWill.call(this, pages);
};

/**
 * Memory that nothing uses still holds old bytes.  Filling it with zeroes makes the image
 * compress a fifth better; growing is blocked meanwhile, for a larger image could not be
 * restored into the memory that the runtime starts with.
 *
 * @param {Python} runtime
 */
function zeroFreeMemory(runtime) {
  const grow = WebAssembly.Memory.prototype.grow;
  WebAssembly.Memory.prototype.grow = () => {
    throw new RangeError("no growth while the free memory is filled");
  };
  try {
    runtime.runPython(`
def _fill():
    # Large blocks first; then every size that Python has pools of its own for.
    sizes = [*(1 << power for power in range(20, 9, -1)), *range(512, 0, -16)]
    blocks = []
    for size in sizes:
        try:
            while True:
                blocks.append(bytearray(size - 1))  # Python adds a byte
        except MemoryError:
            continue
_fill()
del _fill
gc.collect()
del gc
`);
  } finally {
    WebAssembly.Memory.prototype.grow = grow;
  }
}

/**
 * Restores the packed image in another runtime, as a page does, and compares.
 *
 * @param {Uint8Array} pack
 * @param {Uint8Array} image
 */
async function check(pack, image) {
  const parts = readPack(pack);
  const saved = partsOf(image).memory;
  let compared = false;
  const make = fitted(globalThis._createPyodideModule, parts, () => fresh);
  globalThis._createPyodideModule = async (settings) => {
    const module = await make(settings);
    const restoreSnapshot = module.API.restoreSnapshot;
    module.API.restoreSnapshot = (head) => {
      const state = restoreSnapshot(head);
      const whole = module.HEAPU8.slice();
      const at = ownAddressAt(module);
      whole.set(saved.subarray(at, at + 4), at);
      if (Buffer.compare(whole.subarray(0, saved.length), saved) !== 0) {
        throw new Error("the restored memory differs from the saved one");
      }
      if (!isEmpty(whole.subarray(saved.length))) throw new Error("the rest is not empty");
      compared = true;
      return state;
    };
    return module;
  };
  const again = await loadPyodide({ ...options, _loadSnapshot: parts.head });
  const asked = { kind: "answer", calculator: "bridged-output", inputs: {} };
  const reply = JSON.parse(again.globals.get("respond")(JSON.stringify(asked)));
  if (!compared || reply.kind !== "answer") throw new Error("the image does not answer");
}

/** @param {object} [more] */
const start = async (more) => /** @type {Python} */ (await loadPyodide({ ...options, ...more }));

const runtime = await start({ _makeSnapshot: true });
copyInto(runtime, packages, SITE_PACKAGES);
runtime.runPython(START);
runtime.runPython("import gc; gc.collect()");
zeroFreeMemory(runtime);
const image = runtime.makeMemorySnapshot();
if (runtime._module.HEAP8.length > MEMORY_BYTES) {
  throw new Error("the image is larger than the memory that the runtime starts with");
}
const pack = packed(image, fresh);
await check(pack, image);
writeFileSync(join(out, "snapshot.raw"), pack);
writeFileSync(imageFile, partsOf(image).memory);
