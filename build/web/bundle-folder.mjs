/* Bundles the scripts of the folder edition: classic ones, for a browser takes no module from a file.
   Run by Node at build:  node bundle-folder.mjs FOLDER */

import { readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { build } from "esbuild";
import { common, decoder, OF_NODE } from "./bundling.mjs";

const [folder] = process.argv.slice(2);
const assets = join(folder, "assets");
/** @param {Record<string, string>} others  modules by those that they stand in for */
const standIns = (others) => ({
  name: "stand-ins",
  /** @param {import("esbuild").PluginBuild} build */
  setup(build) {
    for (const [name, other] of Object.entries(others)) {
      build.onResolve({ filter: new RegExp(`/${name}$`) }, () => ({ path: resolve(other) }));
    }
  },
});

/** @param {import("esbuild").BuildOptions} options */
async function textOf(options) {
  const { outputFiles } = await build({ ...common, format: "iife", write: false, ...options });
  return /** @type {import("esbuild").OutputFile[]} */ (outputFiles)[0].text;
}

/**
 * @param {string} text
 * @param {string} mark  a string literal's content
 * @param {string} content  that it becomes
 */
function put(text, mark, content) {
  const parts = text.split(`"${mark}"`);
  if (parts.length !== 2) throw new Error(`${mark} stands there ${parts.length - 1} times`);
  return parts.join(JSON.stringify(content));
}

const edition = { EDITION: '"folder"' }; // page and worker are one script
const worker =
  readFileSync("folder-files.js", "utf8") +
  (await textOf({
    entryPoints: ["worker.mjs"],
    external: OF_NODE,
    // No file is read from there: the name alone counts.
    define: { ...edition, "import.meta.url": '"file:///handbook/runtime/worker.js"' },
    plugins: [decoder, standIns({ "run-script.mjs": "folder-script.mjs" })],
  }));
const page = await textOf({
  entryPoints: ["page.mjs"],
  define: { ...edition, "import.meta.url": "handbookScript" },
  banner: { js: "var handbookScript=document.currentScript.src;" },
  plugins: [standIns({ "make-worker.mjs": "folder-worker.mjs" })],
});
writeFileSync(join(assets, "page.js"), put(page, "WORKER_TEXT", worker));

const later = readFileSync(join(assets, "search-later.js"), "utf8");
const [call, name] = later.match(/const place = "([^"]+)"/) ?? [];
if (!call) throw new Error("search-later.js takes in the theme's search in another way now");
const script = '{ type: "text/javascript" }';
const theirs = JSON.stringify(readFileSync(join(assets, name), "utf8"));
const search = later.replace(
  call,
  () => `const place = URL.createObjectURL(new Blob([${theirs}], ${script}))`,
);
writeFileSync(
  join(assets, "folder.js"),
  put(readFileSync("folder.js", "utf8"), "SEARCH_TEXT", search),
);
