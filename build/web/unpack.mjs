/* Unpacks what the build has packed with Zstandard: a fifth less to carry than with gzip, and gzip
   is all that every browser unpacks by itself.  The decoder is the one inside the package zstddec,
   whose own way keeps the memory for good; here it goes with the bytes. */

import code from "zstd.wasm"; // bundling.mjs takes it out of the package

/**
 * @typedef {object} Decoder
 * @property {WebAssembly.Memory} memory
 * @property {(size: number) => number} malloc
 * @property {(from: number, size: number) => bigint} ZSTD_findDecompressedSize  below 0: unknown
 * @property {(to: number, room: number, from: number, size: number) => number} ZSTD_decompress
 */

const compiled = WebAssembly.compile(code);
const imports = { env: { emscripten_notify_memory_growth() {} } };

/**
 * Returns what was packed; raises an error where that was something else, or is damaged.
 *
 * @param {Uint8Array} packed
 */
export async function unpack(packed) {
  const instance = await WebAssembly.instantiate(await compiled, imports);
  const decoder = /** @type {Decoder} */ (/** @type {unknown} */ (instance.exports));
  const from = decoder.malloc(packed.length);
  new Uint8Array(decoder.memory.buffer).set(packed, from);
  const size = Number(decoder.ZSTD_findDecompressedSize(from, packed.length));
  const to = size > 0 ? decoder.malloc(size) : 0;
  if (!to || decoder.ZSTD_decompress(to, size, from, packed.length) !== size) {
    throw new Error("this is no packed file, or a damaged one");
  }
  return new Uint8Array(decoder.memory.buffer, to, size);
}
