/* The service worker: the whole site on the device.  A new version waits until the reader
   asks for it, so that an open page never meets files of another version.  Every file is fetched
   with its hash: one that is cut short, or of another version, is not saved. */

/** @import { RouteHandlerCallbackOptions } from "workbox-core" */
/** @import { FromServiceWorker, ToServiceWorker } from "./messages.ts" */

import { clientsClaim, registerQuotaErrorCallback } from "workbox-core";
import { cleanupOutdatedCaches, PrecacheController, PrecacheRoute } from "workbox-precaching";
import { NavigationRoute, registerRoute, setCatchHandler } from "workbox-routing";
import { mend, missingOf, RARE, rareKey } from "./saved.mjs";

const all = self.__WB_MANIFEST;
/* The plain way of loading Python is rarely wanted: its library is saved where it is used. */
const isRare = (/** @type {{ url: string }} */ { url }) => url.endsWith("/library.zip");
const rare = all.filter(isRare);
const manifest = all.filter((entry) => !isRare(entry));
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const scope = new URL(worker.registration.scope);
let done = 0;

/** @param {FromServiceWorker} message */
async function tellAll(message) {
  const clients = await worker.clients.matchAll({ includeUncontrolled: true, type: "window" });
  for (const client of clients) client.postMessage(message);
}

function tellProgress() {
  done += 1;
  return tellAll({ kind: "saving", percent: Math.floor((100 * done) / manifest.length) });
}
registerQuotaErrorCallback(() => tellAll({ kind: "no-room" }));

const AT_ONCE = 4; // files being fetched: what the page itself asks for must get through as well

/* By itself a precache fetches one file after the other: on a slow line each waits for the last. */
class Saved extends PrecacheController {
  /** @param {ExtendableEvent} event */
  install(event) {
    const left = [...this.getURLsToCacheKeys()].values();
    const saveSome = async () => {
      for (const [url, cacheKey] of left) {
        const integrity = this.getIntegrityForCacheKey(cacheKey);
        const request = new Request(url, { integrity, credentials: "same-origin" });
        await Promise.all(this.strategy.handleAll({ params: { cacheKey }, request, event }));
      }
    };
    const all = Promise.all(Array.from({ length: AT_ONCE }, saveSome));
    event.waitUntil(all);
    return all.then(() => ({ updatedURLs: [], notUpdatedURLs: [] })); // nobody asks which
  }
}

const saved = new Saved({
  plugins: [
    {
      // What the page has just loaded is asked about, and not fetched a second time.
      requestWillFetch: async ({ request }) => new Request(request, { cache: "no-cache" }),
      handlerDidComplete: async ({ event }) => {
        if (event?.type === "install") await tellProgress();
      },
    },
  ],
});
saved.precache(manifest);
cleanupOutdatedCaches();
clientsClaim();

/* Every page is saved whole; what a link adds to its address is for the page, not for us. */
const options = {
  directoryIndex: "index.html",
  cleanURLs: false,
  ignoreURLParametersMatching: [/.*/],
};
registerRoute(new PrecacheRoute(saved, options));

/**
 * Addresses that are not saved: without their last slash, newer than this copy, or wrong.
 *
 * @param {RouteHandlerCallbackOptions} asked
 */
async function notSaved({ url, request }) {
  if (!url.pathname.endsWith("/")) {
    const folder = new URL(`${url.pathname}/index.html`, url);
    if (await saved.matchPrecache(folder.href)) {
      return Response.redirect(`${url.pathname}/${url.search}`, 302);
    }
  }
  try {
    return await fetch(request);
  } catch {
    const page = await saved.matchPrecache(new URL("404.html", scope).href);
    if (!page) return Response.error();
    return new Response(page.body, { status: 404, headers: page.headers });
  }
}
registerRoute(new NavigationRoute(notSaved));

const rareAt = new Map(rare.map((entry) => [new URL(entry.url, scope).href, entry]));
registerRoute(
  ({ url }) => rareAt.has(url.href),
  async ({ request }) => {
    const entry = rareAt.get(request.url);
    if (!entry) return fetch(request);
    const cache = await caches.open(RARE);
    const key = rareKey(entry);
    return ((await mend(cache, key, entry)) && (await cache.match(key))) || fetch(request);
  },
);

/* A page that is in the list and not on the device is told in words. */
const NOT_HERE = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Not saved</title>
<meta name="viewport" content="width=device-width"><h1>This page is not saved on this device</h1>
<p>There is no network now. Open it again when there is one. <a href="${scope.pathname}">To the
start</a>`;
setCatchHandler(async ({ request }) => {
  if (!(request instanceof Request) || request.mode !== "navigate") return Response.error();
  const headers = { "Content-Type": "text/html; charset=utf-8" };
  return new Response(NOT_HERE, { status: 503, headers });
});

worker.addEventListener("activate", (event) => event.waitUntil(dropOutdated()));
async function dropOutdated() {
  const cache = await caches.open(RARE);
  const own = rare.map(rareKey);
  for (const { url } of await cache.keys()) if (!own.includes(url)) await cache.delete(url);
}

let isPlain = false; // a page could not use the memory image
/** @type {Promise<void>} */
let checking = Promise.resolve();

/** @param {ExtendableMessageEvent["source"]} asker */
function check(asker) {
  checking = checking.then(async () => {
    const wanted = isPlain ? rare : [];
    const missing = await missingOf(manifest, (url) => saved.getCacheKeyForURL(url), wanted);
    /** @type {FromServiceWorker} */
    const message = { kind: "checked", missing, of: manifest.length + wanted.length };
    asker?.postMessage(message);
  });
  return checking;
}

worker.addEventListener("message", (event) => {
  const message = /** @type {ToServiceWorker | undefined} */ (event.data);
  if (message?.kind === "use-new-version") worker.skipWaiting();
  if (message?.kind === "edition") {
    /** @type {FromServiceWorker} */
    const answer = { kind: "edition", edition: self.__EDITION };
    event.source?.postMessage(answer);
  }
  if (message?.kind !== "check") return;
  isPlain ||= message.isPlain;
  event.waitUntil(check(event.source));
});
