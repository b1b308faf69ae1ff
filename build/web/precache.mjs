/* Writes the list of all files into the service worker.  Run by Node at build, last:
   node precache.mjs SITE */

import { createHash } from "node:crypto";
import { readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { injectManifest } from "workbox-build";

/** @import { ManifestEntry } from "workbox-build" */

const [site] = process.argv.slice(2);
const EDITION = "self.__EDITION"; // where sw.mjs has it

/** @param {string} url  below the site */
function hashOf(url) {
  const content = readFileSync(join(site, decodeURI(url)));
  return `sha256-${createHash("sha256").update(content).digest("base64")}`;
}

let edition = "";

/**
 * Stamps every page with a hash of all files: a page that an older service worker has given can
 * tell when a newer one has come into use meanwhile.
 *
 * @param {(ManifestEntry & { size: number })[]} entries
 */
function stamp(entries) {
  const all = createHash("sha256");
  for (const { url, revision } of entries) all.update(`${url} ${revision}\n`);
  edition = all.digest("hex").slice(0, 16);
  return entries.map((entry) => {
    if (!entry.url.endsWith(".html")) return entry;
    const file = join(site, decodeURI(entry.url));
    const page = readFileSync(file, "utf8");
    const stamped = page.replace("<html ", `<html data-edition="${edition}" `);
    if (stamped === page) throw new Error(`${entry.url} has no <html …> to be stamped`);
    writeFileSync(file, stamped);
    return { ...entry, revision: createHash("md5").update(stamped).digest("hex") };
  });
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
    (entries) => ({ manifest: stamp(entries) }),
    (entries) => ({ manifest: entries.map((entry) => ({ ...entry, integrity: hashOf(entry.url) })) }),
  ],
  maximumFileSizeToCacheInBytes: 64 * 2 ** 20,
  swSrc: join(site, "sw.js"),
  swDest: join(site, "sw.done.js"),
});
if (warnings.length > 0) throw new Error(warnings.join("\n"));
renameSync(join(site, "sw.done.js"), join(site, "sw.js"));
const worker = readFileSync(join(site, "sw.js"), "utf8");
if (!worker.includes("index.html") || !worker.includes(EDITION)) {
  throw new Error("the list of files did not get into the service worker");
}
writeFileSync(join(site, "sw.js"), worker.replace(EDITION, JSON.stringify(edition)));
console.log(`${count} files, ${size} bytes`);
