/* The memory image: how it is packed by the build, and how it is put into the page's Python.

   Much of the runtime's memory is there as soon as its code is: the tables that the code brings
   along.  The image is told against this fresh memory (each word XOR what stood there), and pages
   in which nothing is left are not in it:

       words    bytes of the head, number of pages, the pages' numbers
       head     what the loader's own image begins with: its version, its references to JavaScript
       pages    PAGE bytes each

   Restored, the memory is the saved one bit by bit, but for one address: see fitted(). */

/** @import { MakeRuntime, RuntimeModule } from "./runtime.ts" */

import { MEMORY_BYTES } from "./start.mjs";

/** @typedef {{ head: Uint8Array, numbers: Uint32Array, pages: Uint32Array }} Pack */

const PAGE = 4096;
const WORD = 4;

/* Beyond this, fresh memory is empty; the build checks that. */
const FRESH_BYTES = 4 * 2 ** 20;

/** @param {Uint8Array} bytes */
const wordsOf = (bytes) => new Uint32Array(bytes.buffer, bytes.byteOffset, bytes.length / WORD);

/**
 * Returns the memory that a runtime's code is put to; none for a probe of the loader.
 *
 * @param {WebAssembly.Imports | undefined} imports
 */
export function memoryOf(imports) {
  return /** @type {WebAssembly.Memory | undefined} */ (imports?.env?.memory);
}

/**
 * Returns what stands in a memory right after the code has been put to it.
 *
 * @param {WebAssembly.Memory} memory
 */
export function freshMemory(memory) {
  return new Uint8Array(memory.buffer).slice(0, FRESH_BYTES);
}

/** @param {Uint8Array} bytes */
export function isEmpty(bytes) {
  return bytes.every((byte) => byte === 0);
}

/**
 * The loader's image: some words, the head's bytes from the first one's count on, the memory.
 *
 * @param {Uint8Array} image
 */
export function partsOf(image) {
  const headBytes = wordsOf(image)[1];
  return { head: image.subarray(0, headBytes), memory: image.subarray(headBytes) };
}

/**
 * Packs the loader's image.
 *
 * @param {Uint8Array} image
 * @param {Uint8Array} fresh
 */
export function packed(image, fresh) {
  const { head, memory } = partsOf(image);
  const rest = wordsOf(memory.slice());
  wordsOf(fresh).forEach((word, at) => (rest[at] ^= word));
  const pageWords = PAGE / WORD;
  const numbers = [];
  for (let at = 0; at * pageWords < rest.length; at += 1) {
    if (rest.subarray(at * pageWords, (at + 1) * pageWords).some(Boolean)) numbers.push(at);
  }
  const words = [head.length, numbers.length, ...numbers];
  const pack = new Uint8Array(WORD * words.length + head.length + PAGE * numbers.length);
  wordsOf(pack).set(words);
  pack.set(head, WORD * words.length);
  const pages = wordsOf(pack.subarray(WORD * words.length + head.length));
  numbers.forEach((number, at) => {
    pages.set(rest.subarray(number * pageWords, (number + 1) * pageWords), at * pageWords);
  });
  return pack;
}

/**
 * Tells the parts of a packed image; raises an error for what is none.
 *
 * @param {Uint8Array} pack
 * @returns {Pack}
 */
export function readPack(pack) {
  const words = wordsOf(pack.subarray(0, pack.length - (pack.length % WORD)));
  const [headBytes, count] = words;
  const numbers = words.subarray(2, 2 + count);
  const headAt = WORD * (2 + count);
  if (!(count > 0) || headAt + headBytes + PAGE * count !== pack.length) {
    throw new Error("this is no memory image");
  }
  const pages = words.subarray((headAt + headBytes) / WORD);
  return { head: pack.slice(headAt, headAt + headBytes), numbers, pages };
}

/**
 * Puts the saved memory into that of a runtime which has started.
 *
 * @param {Uint8Array} memory
 * @param {Uint8Array} fresh
 * @param {Pack} pack
 */
export function restore(memory, fresh, { numbers, pages }) {
  memory.fill(0);
  memory.set(fresh);
  const words = wordsOf(memory);
  const pageWords = PAGE / WORD;
  numbers.forEach((number, at) => {
    const to = number * pageWords;
    const from = at * pageWords;
    for (let word = 0; word < pageWords; word += 1) words[to + word] ^= pages[from + word];
  });
}

/**
 * Where the image holds the one address that each browser has its own value of: that of the small
 * piece of code which counts a function's arguments.  WebKit's table of functions is longer than
 * the others', for there an entry of the table is never the same object as the export; where code
 * cannot look at a function's type, and on every iPad and iPhone, there is no such piece, and 0
 * stands for it.
 *
 * @param {RuntimeModule} module
 */
export function ownAddressAt(module) {
  return module.__PyRuntime + module.HEAP32[module.__PyEM_EMSCRIPTEN_COUNT_ARGS_OFFSET >> 2];
}

/**
 * Returns the maker of runtimes, whose runtimes restore a packed image; the loader hands over the
 * image's head.  What this browser had at its own address is put back.
 *
 * @param {MakeRuntime} make
 * @param {Pack} parts
 * @param {() => Uint8Array} fresh
 * @returns {MakeRuntime}
 */
export function fitted(make, parts, fresh) {
  return async (settings) => {
    settings.INITIAL_MEMORY = MEMORY_BYTES; // the loader takes the head for the whole image
    const module = await make(settings);
    const takeHead = module.API.restoreSnapshot;
    module.API.restoreSnapshot = (head) => {
      const state = takeHead(head);
      restore(module.HEAPU8, fresh(), parts);
      module.HEAP32[ownAddressAt(module) >> 2] = module._PyEM_CountArgsPtr;
      return state;
    };
    return module;
  };
}
