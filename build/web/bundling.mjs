/* What both ways of bundling the scripts share. */

import { readFileSync } from "node:fs";

/** @type {import("esbuild").BuildOptions} */
export const common = {
  bundle: true,
  minify: true,
  target: ["es2022"],
  legalComments: "none",
  logLevel: "warning",
};

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
