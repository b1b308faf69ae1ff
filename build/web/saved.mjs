/* What the service worker has saved, file by file: whether it is there and whole, and if not, once
   more from the network.  Of every file the list holds a hash of its content. */

import { cacheNames } from "workbox-core";

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
 * @param {Cache} cache
 * @param {string} key
 * @param {Entry} entry
 */
async function isWhole(cache, key, { integrity }) {
  const response = await cache.match(key);
  if (!response) return false;
  const bytes = await response.arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
  return `sha256-${btoa(String.fromCharCode(...digest))}` === integrity;
}

/**
 * Saves a file from the network; tells whether it could be had as it is listed.
 *
 * @param {Cache} cache
 * @param {string} key
 * @param {Entry} entry
 */
async function save(cache, key, { url, integrity }) {
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
 * Fetches a file again where it is missing or damaged; tells whether it is there and whole now.
 *
 * @param {Cache} cache
 * @param {string} key
 * @param {Entry} entry
 */
export async function mend(cache, key, entry) {
  return (await isWhole(cache, key, entry)) || save(cache, key, entry);
}

/**
 * Mends all files of a list; returns how many are still missing.
 *
 * @param {string} name  of their cache
 * @param {Entry[]} entries
 * @param {(entry: Entry) => string} keyOf
 */
async function missingIn(name, entries, keyOf) {
  let missing = 0;
  const cache = await caches.open(name);
  // One after the other: the page that is open has the first claim on this machine.
  for (const entry of entries) if (!(await mend(cache, keyOf(entry), entry))) missing += 1;
  return missing;
}

/**
 * Mends what is saved; returns how many files are still missing.
 *
 * @param {Entry[]} entries  those of the precache
 * @param {(url: string) => string | undefined} keyOf  where it keeps a file
 * @param {Entry[]} rare  those that are wanted besides
 */
export async function missingOf(entries, keyOf, rare) {
  const listed = await missingIn(cacheNames.precache, entries, ({ url }) => keyOf(url) ?? url);
  return listed + (await missingIn(RARE, rare, rareKey));
}
