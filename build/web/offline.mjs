/* Saving the handbook on the device, and the visible word about it. */

/** @import { FromServiceWorker, ToServiceWorker } from "./messages.ts" */

import { plainButton } from "./dom.mjs";
import { messageOf } from "./python.mjs";

let word = ""; // what stands at the top of the page
/** A newer version that waits to be used. @type {ServiceWorker | null} */
let update = null;
let isOutdated = false; // a newer one is in use, and this page could not be loaded again

export function showWord() {
  const place = document.querySelector(".offline-word");
  if (!place) return;
  place.textContent = word;
  if (!update) return;
  const button = plainButton("Use the new version");
  /** @type {ToServiceWorker} */
  const message = { kind: "use-new-version" };
  button.addEventListener("click", () => update?.postMessage(message));
  place.append(" ", button);
}

/** @param {string} text */
function say(text) {
  word = text;
  showWord();
}

/**
 * Tells what becomes of a version that is being saved.
 *
 * @param {ServiceWorker | null} worker
 * @param {ServiceWorkerRegistration} registration
 */
function follow(worker, registration) {
  if (!worker) return;
  worker.addEventListener("statechange", () => {
    if (worker.state === "installed" && registration.active && registration.waiting) {
      offerUpdate(registration.waiting);
    } else if (worker.state === "activated" && !isOutdated) {
      say("Saved for offline use");
    } else if (worker.state === "redundant" && worker !== registration.active) {
      say("Not saved for offline use: saving was interrupted. It continues at your next visit.");
    }
  });
}

/** @param {ServiceWorker} worker */
function offerUpdate(worker) {
  update = worker;
  say("Update ready; your inputs are kept.");
}

/**
 * Takes the page over to the version that has come into use, in this tab or in another.
 *
 * @param {() => boolean} keepInputs
 */
function reloadWith(keepInputs) {
  if (keepInputs()) return location.reload();
  update = null;
  isOutdated = true;
  return say("A new version is in use. Reload this page; what you typed here will be lost.");
}

/**
 * Saves the handbook on the device.
 *
 * @param {URL} base  the handbook's address
 * @param {() => boolean} keepInputs  keeps what a reload would lose; tells whether that is possible
 */
export async function keepOffline(base, keepInputs) {
  if (!("serviceWorker" in navigator)) {
    say("Not saved for offline use: this browser or address does not allow it.");
    return;
  }
  // At the first visit the version that is saved, the page's own, takes over once by itself.
  let isFirst = !navigator.serviceWorker.controller;
  let reloading = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (!isFirst && !reloading) {
      reloading = true;
      reloadWith(keepInputs);
    }
    isFirst = false;
  });
  navigator.serviceWorker.addEventListener("message", ({ data }) => {
    const message = /** @type {FromServiceWorker | undefined} */ (data);
    if (message?.kind !== "saving" || update) return;
    say(`Saving for offline use… ${message.percent} %`);
  });
  try {
    const registration = await navigator.serviceWorker.register(new URL("sw.js", base), {
      scope: base.pathname,
      updateViaCache: "none",
    });
    // A page that was loaded past the saved version: whatever takes over is another one.
    if (registration.active?.state === "activated") isFirst = false;
    if (registration.waiting) offerUpdate(registration.waiting);
    else if (registration.installing) {
      say("Saving for offline use…");
      follow(registration.installing, registration);
    } else if (registration.active) say("Saved for offline use");
    registration.addEventListener("updatefound", () =>
      follow(registration.installing, registration),
    );
  } catch (error) {
    say(`Not saved for offline use: ${messageOf(error)}`);
  }
}
