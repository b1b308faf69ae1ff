/* What both ways of bundling the scripts share. */

import { createHash } from "node:crypto";
import { globSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** @type {import("esbuild").BuildOptions} */
export const common = {
  bundle: true,
  minify: true,
  target: ["es2022"],
  legalComments: "none",
  logLevel: "warning",
};

/**
 * Returns the definition of a name for what is built now: other scripts, or another runtime, have
 * another one.
 *
 * @param {string} runtime  its folder
 */
export function ofThisEdition(runtime) {
  const hash = createHash("sha256");
  const files = [...globSync("*.mjs"), ...globSync(join(runtime, "*.{bin,asm.js}"))];
  for (const file of files.sort()) hash.update(readFileSync(file));
  return { EDITION: JSON.stringify(hash.digest("hex").slice(0, 16)) };
}

/** What the loader would take in Node. */
export const OF_NODE = ["node:*", "ws"];

/** The code of the decoder that unpack.mjs uses, from the package whose text holds it.
    @type {import("esbuild").Plugin} */
export const decoder = {
  name: "decoder",
  setup(build) {
    build.onResolve({ filter: /^zstd\.wasm$/ }, ({ path }) => ({ path, namespace: "decoder" }));
    build.onLoad({ filter: /./, namespace: "decoder" }, () => {
      const text = readFileSync("node_modules/zstddec/dist/zstddec.mjs", "utf8");
      const [, code] = text.match(/^const wasm = "([A-Za-z0-9+/=]+)";$/m) ?? [];
      if (!code) throw new Error("the package zstddec holds its code in another way now");
      return { contents: Buffer.from(code, "base64"), loader: "binary" };
    });
  },
};
