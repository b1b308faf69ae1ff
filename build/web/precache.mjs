/* Writes the list of all files into the service worker.  Run by Node at build, last:
   node precache.mjs SITE */

import { createHash } from "node:crypto";
import { readFileSync, renameSync } from "node:fs";
import { join } from "node:path";
import { injectManifest } from "workbox-build";

const [site] = process.argv.slice(2);

/** @param {string} url  below the site */
function hashOf(url) {
  const content = readFileSync(join(site, decodeURI(url)));
  return `sha256-${createHash("sha256").update(content).digest("base64")}`;
}

const { count, size, warnings } = await injectManifest({
  globDirectory: site,
  globPatterns: ["**/*"],
  // The large icon is asked for once, by a browser that installs the handbook while online.
  globIgnores: [
    "sw.js",
    "sitemap.xml.gz",
    "_headers",
    "hosting/**",
    // Whoever wants paper asks for it while there is a network.
    "print/**",
    "assets/icon-512.png",
    "assets/licences/*.cdx.json",
  ],
  // By its hash the browser refuses what was cut on the way or belongs to another version.
  manifestTransforms: [
    (entries) => ({ manifest: entries.map((entry) => ({ ...entry, integrity: hashOf(entry.url) })) }),
  ],
  maximumFileSizeToCacheInBytes: 64 * 2 ** 20,
  swSrc: join(site, "sw.js"),
  swDest: join(site, "sw.done.js"),
});
if (warnings.length > 0) throw new Error(warnings.join("\n"));
renameSync(join(site, "sw.done.js"), join(site, "sw.js"));
if (!readFileSync(join(site, "sw.js"), "utf8").includes("index.html")) {
  throw new Error("the list of files did not get into the service worker");
}
console.log(`${count} files, ${size} bytes`);
