/* What bundling.mjs puts into the scripts. */

/** The decoder's code: see unpack.mjs. */
declare module "zstd.wasm" {
  const code: Uint8Array<ArrayBuffer>;
  export default code;
}

/** Tells the page and its worker whether they were made together. */
declare const EDITION: string;
