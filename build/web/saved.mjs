/* What the service worker has saved, file by file: whether it is there and whole, and if not, once
   more from the network.  Of every file the list holds a hash of its content. */

import { cacheNames } from "workbox-core";
import { getCacheKeyForURL } from "workbox-precaching";

/** @typedef {{ url: string, revision: string | null, integrity: string }} Entry */

export const RARE = "rare-files";

/**
 * Where the list's rare files are kept, each by its version.
 *
 * @param {Entry} entry
 */
export function rareKey({ url, revision }) {
  const key = new URL(url, self.location.href);
  key.searchParams.set("version", String(revision));
  return key.href;
}

/**
 * @param {BufferSource} bytes
 * @param {string} integrity
 */
async function isAsListed(bytes, integrity) {
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return `sha256-${btoa(String.fromCharCode(...digest))}` === integrity;
}

/**
 * Returns what is saved of a file, if it is whole.
 *
 * @param {Cache} cache
 * @param {string} key
 * @param {Entry} entry
 */
export async function wholeIn(cache, key, entry) {
  const response = await cache.match(key);
  if (!response) return null;
  const copy = response.clone();
  return (await isAsListed(await copy.arrayBuffer(), entry.integrity)) ? response : null;
}

/**
 * Saves a file from the network; tells whether it could be had as it is listed.
 *
 * @param {Cache} cache
 * @param {string} key
 * @param {Entry} entry
 */
export async function save(cache, key, { url, integrity }) {
  try {
    const response = await fetch(new Request(url, { integrity, cache: "no-store" }));
    if (!response.ok) return false;
    await cache.put(key, response);
    return true;
  } catch {
    return false; // no network, another version, no room
  }
}

/**
 * Checks files and fetches again what is missing or damaged; returns how many are still missing.
 *
 * @param {Entry[]} entries  those of the precache
 * @param {Entry[]} rare  those that are wanted besides
 */
export async function missingOf(entries, rare) {
  let missing = 0;
  const places = [
    { name: cacheNames.precache, list: entries, keyOf: (/** @type {Entry} */ { url }) => getCacheKeyForURL(url) ?? url },
    { name: RARE, list: rare, keyOf: rareKey },
  ];
  for (const { name, list, keyOf } of places) {
    if (list.length === 0) continue;
    const cache = await caches.open(name);
    // One after the other: the page that is open has the first claim on this machine.
    for (const entry of list) {
      const key = keyOf(entry);
      if (await wholeIn(cache, key, entry)) continue;
      if (!(await save(cache, key, entry))) missing += 1;
    }
  }
  return missing;
}
