/* The decoder's code: see unpack.mjs. */

declare module "zstd.wasm" {
  const code: Uint8Array<ArrayBuffer>;
  export default code;
}
