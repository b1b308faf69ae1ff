/* Bundles the page's style sheets and scripts.  Run by Node at build:  node bundle.mjs SITE */

import { rmSync } from "node:fs";
import { join, resolve } from "node:path";
import { build } from "esbuild";
import { common, decoder, OF_NODE, ofThisEdition } from "./bundling.mjs";

const [site] = process.argv.slice(2);
const define = ofThisEdition(join(site, "assets/runtime"));

const style = join(site, "assets/style.css");
const { metafile } = await build({
  ...common,
  entryPoints: [style],
  external: ["*.woff2"],
  allowOverwrite: true,
  metafile: true,
  outfile: style,
});
for (const part of Object.keys(metafile.inputs)) if (resolve(part) !== style) rmSync(part);
await build({
  ...common,
  format: "esm",
  define,
  entryPoints: ["page.mjs"],
  outfile: join(site, "assets/page.js"),
});
await build({
  ...common,
  format: "esm",
  define,
  entryPoints: ["worker.mjs"],
  external: OF_NODE,
  plugins: [decoder],
  outfile: join(site, "assets/runtime/worker.js"),
});
await build({
  ...common,
  format: "iife",
  entryPoints: ["markup.mjs"],
  define: { "import.meta.url": "document.currentScript.src" }, // it is no module: it comes first
  outfile: join(site, "assets/markup.js"),
});
await build({
  ...common,
  format: "iife",
  entryPoints: ["sw.mjs"],
  define: { "process.env.NODE_ENV": '"production"' },
  outfile: join(site, "sw.js"),
});
