/* The service worker: the whole site on the device.  A new version waits until the reader
   asks for it, so that an open page never meets files of another version. */

/** @import { RouteHandlerCallbackOptions } from "workbox-core" */
/** @import { FromServiceWorker, ToServiceWorker } from "./messages.ts" */

import { clientsClaim } from "workbox-core";
import {
  addPlugins,
  cleanupOutdatedCaches,
  matchPrecache,
  precacheAndRoute,
} from "workbox-precaching";
import { NavigationRoute, registerRoute, setCatchHandler } from "workbox-routing";

const manifest = self.__WB_MANIFEST;
const worker = /** @type {ServiceWorkerGlobalScope} */ (/** @type {unknown} */ (self));
const scope = new URL(worker.registration.scope);
let done = 0;

async function tellProgress() {
  done += 1;
  const percent = Math.floor((100 * done) / manifest.length);
  const clients = await worker.clients.matchAll({ includeUncontrolled: true, type: "window" });
  /** @type {FromServiceWorker} */
  const message = { kind: "saving", percent };
  for (const client of clients) client.postMessage(message);
}

addPlugins([
  {
    handlerDidComplete: async ({ event }) => {
      if (event?.type === "install") await tellProgress();
    },
  },
]);
cleanupOutdatedCaches();
clientsClaim();

/* Every page is saved whole; what a link adds to its address is for the page, not for us. */
precacheAndRoute(manifest, {
  directoryIndex: "index.html",
  cleanURLs: false,
  ignoreURLParametersMatching: [/.*/],
});

/**
 * Addresses that are not saved: without their last slash, newer than this copy, or wrong.
 *
 * @param {RouteHandlerCallbackOptions} asked
 */
async function notSaved({ url, request }) {
  if (!url.pathname.endsWith("/")) {
    const folder = new URL(`${url.pathname}/index.html`, url);
    if (await matchPrecache(folder.href)) {
      return Response.redirect(`${url.pathname}/${url.search}`, 302);
    }
  }
  try {
    return await fetch(request);
  } catch {
    const page = await matchPrecache(new URL("404.html", scope).href);
    if (!page) return Response.error();
    return new Response(page.body, { status: 404, headers: page.headers });
  }
}
registerRoute(new NavigationRoute(notSaved));

/* The plain way of loading Python is rarely wanted: its library is saved when it is used. */
const RARE = "rare-files";
registerRoute(
  ({ url }) => url.pathname.endsWith("/runtime/library.zip"),
  async ({ request }) => {
    const cache = await caches.open(RARE);
    try {
      const response = await fetch(request);
      if (response.ok) await cache.put(request, response.clone());
      return response;
    } catch (error) {
      const kept = await cache.match(request);
      if (kept) return kept;
      throw error;
    }
  },
);
setCatchHandler(async () => Response.error());

worker.addEventListener("message", ({ data }) => {
  const message = /** @type {ToServiceWorker | undefined} */ (data);
  if (message?.kind === "use-new-version") worker.skipWaiting();
});
