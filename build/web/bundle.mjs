/* Bundles the page's scripts.  Run by Node at build:  node bundle.mjs SITE */

import { join } from "node:path";
import { build } from "esbuild";

const [site] = process.argv.slice(2);
/** @type {import("esbuild").BuildOptions} */
const common = {
  bundle: true,
  format: "esm",
  minify: true,
  target: ["es2022"],
  legalComments: "none",
  logLevel: "warning",
  define: { "process.env.NODE_ENV": '"production"' },
};

await build({ ...common, entryPoints: ["page.mjs"], outfile: join(site, "assets/page.js") });
await build({
  ...common,
  entryPoints: ["worker.mjs"],
  external: ["node:*", "ws"], // what the loader would take in Node
  outfile: join(site, "assets/runtime/worker.js"),
});
await build({
  ...common,
  format: "iife",
  entryPoints: ["markup.mjs"],
  outfile: join(site, "assets/markup.js"),
});
await build({
  ...common,
  format: "iife",
  entryPoints: ["sw.mjs"],
  outfile: join(site, "sw.js"),
});
