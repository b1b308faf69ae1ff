/* Saving the handbook on the device, and the visible word about it. */

/** @import { FromServiceWorker, ToServiceWorker } from "./messages.ts" */

import { plainButton } from "./dom.mjs";
import { isInFolder } from "./site.mjs";

const QUIET_MS = 4000; // without a file coming in: then saving has stopped for now
const CALM_MS = 500; // until the check: the first answer has the first claim on this machine
const AGAIN_MS = 30_000; // until saving is tried again by itself
const SWITCH_MS = 3000; // within which a newer version has come into use, as a rule
const FORBIDDEN = "this browser or address does not allow it";
const LOADED_FOR = "loaded-for"; // the edition that this tab has been loaded again for

let word = ""; // what stands at the top of the page
/** A newer version that waits to be used. @type {ServiceWorker | null} */
let update = null;
let isOutdated = false; // a newer one is in use, and this page could not be loaded again
/** Keeps what a reload would lose; tells whether that is possible. */
let keepInputs = () => true;

export function showWord() {
  const place = document.querySelector(".offline-word");
  if (!place) return;
  place.textContent = word;
  if (!update) return;
  const button = plainButton("Use the new version");
  button.addEventListener("click", useUpdate);
  place.append(" ", button);
}

function useUpdate() {
  /** @type {ToServiceWorker} */
  const message = { kind: "use-new-version" };
  update?.postMessage(message);
  // Chromium ends the older worker first.  Where something is asked of that just then, it starts it
  // anew, and looks at the newer one again when a page is loaded, or after half a minute of rest.
  setTimeout(reload, SWITCH_MS);
}

/** @param {string} text */
function say(text) {
  word = text;
  showWord();
}

/** Asks the browser never to clear what is kept here when space runs short; tells whether it says so. */
export async function askToKeep() {
  try {
    return (await navigator.storage?.persist?.()) ?? false;
  } catch {
    return false; // this browser keeps nothing
  }
}

/** The page on using the handbook has a button for it. */
export function offerToKeep() {
  /** @type {HTMLButtonElement | null} */
  const button = document.querySelector("button[data-keep]");
  if (!button) return;
  const told = /** @type {HTMLElement} */ (button.nextElementSibling);
  const tell = (/** @type {boolean} */ isKept) => {
    told.textContent = isKept
      ? "Kept: this browser does not clear it by itself."
      : "This browser decides by itself, and may clear it when space runs short.";
  };
  button.addEventListener("click", async () => tell(await askToKeep()));
}

/** @param {ServiceWorker} worker */
function offerUpdate(worker) {
  update = worker;
  say("Update ready; your inputs are kept.");
}

/** Takes the page over to the version that has come into use, in this tab or in another. */
function reload() {
  if (keepInputs()) return location.reload();
  update = null;
  isOutdated = true;
  return say("A new version is in use. Reload this page; what you typed here will be lost.");
}

/**
 * Loads a page again that is of another version than the service worker in charge of it; once, for
 * a host may mix them up.
 *
 * @param {FromServiceWorker | undefined} message
 */
function refuseMix(message) {
  if (message?.kind !== "edition" || isOutdated) return;
  const { edition } = message;
  if (edition === document.documentElement.dataset.edition) return;
  try {
    if (sessionStorage.getItem(LOADED_FOR) === edition) return;
    sessionStorage.setItem(LOADED_FOR, edition);
  } catch {
    return; // it might go on for ever
  }
  reload();
}

/* What is being saved, and what is there of it: one for the whole visit. */
class Saving {
  #percent = 0;
  #isSaving = false;
  #isFull = false; // there was no room for a file
  #quiet = 0; // the clock that runs while nothing comes
  #again = 0; // the clock until the next try
  /** @type {WeakSet<ServiceWorker>} */
  #followed = new WeakSet();
  /** @type {ServiceWorkerRegistration | null} */
  #registration = null;

  /** @param {URL} base  the handbook's address */
  constructor(base) {
    this.base = base;
    window.addEventListener("online", () => this.#goOn());
    navigator.serviceWorker.addEventListener("message", ({ data }) => this.#heard(data));
  }

  async begin() {
    try {
      /** What forbids service workers may answer with nothing. @type {ServiceWorkerRegistration | undefined} */
      const registration = await navigator.serviceWorker.register(new URL("sw.js", this.base), {
        scope: this.base.pathname,
        updateViaCache: "none",
      });
      if (!registration) {
        say(`Not saved for offline use: ${FORBIDDEN}.`);
        return null;
      }
      const isNew = registration !== this.#registration;
      this.#registration = registration;
      if (registration.waiting) offerUpdate(registration.waiting);
      else if (registration.installing) this.#follow(registration.installing);
      else this.#check();
      // Not every engine looks for a newer version by itself when a page is opened.
      registration.update().catch(() => {}); // no network
      if (isNew) {
        registration.addEventListener("updatefound", () => this.#follow(registration.installing));
      }
      return registration;
    } catch (error) {
      // In our own words: an engine's name functions and addresses.
      this.#failed(error instanceof DOMException && error.name === "SecurityError" ? FORBIDDEN : undefined);
      return null;
    }
  }

  /** Whether all is there and whole is for the service worker to find out. */
  #check() {
    setTimeout(() => {
      if (update || isOutdated) return;
      const isPlain = document.documentElement.dataset.pythonWay === "plain";
      /** @type {ToServiceWorker} */
      const message = { kind: "check", isPlain };
      this.#registration?.active?.postMessage(message);
    }, CALM_MS);
  }

  /** @param {FromServiceWorker | undefined} message */
  #heard(message) {
    if (update || isOutdated) return;
    if (message?.kind === "no-room") {
      this.#isFull = true;
      if (!this.#isSaving) this.#failed();
    } else if (message?.kind === "saving" && this.#isSaving) {
      this.#percent = message.percent;
      say(`Saving for offline use… ${message.percent} %`);
      this.#listen();
    } else if (message?.kind === "checked") {
      const { missing, of } = message;
      if (missing === 0) say("Saved for offline use");
      else {
        say(
          `Not all is saved for offline use: ${missing} of ${of} files are missing. They are ` +
            "fetched when there is a network.",
        );
      }
    }
  }

  /** Begins to count how long nothing comes in. */
  #listen() {
    clearTimeout(this.#quiet);
    this.#quiet = setTimeout(() => {
      say(
        `Saving for offline use has stopped at ${this.#percent} %: nothing comes in. It goes on ` +
          "by itself.",
      );
    }, QUIET_MS);
  }

  /**
   * Tells what becomes of a version that is being saved.
   *
   * @param {ServiceWorker | null} worker
   */
  #follow(worker) {
    if (!worker || this.#followed.has(worker)) return;
    this.#followed.add(worker);
    this.#isSaving = true;
    this.#isFull = false;
    if (!update) say("Saving for offline use…");
    this.#listen();
    worker.addEventListener("statechange", () => {
      clearTimeout(this.#quiet);
      this.#isSaving = false;
      const { waiting, active } = this.#registration ?? {};
      if (worker.state === "installed" && active && waiting) offerUpdate(waiting);
      else if (worker.state === "activated") this.#check();
      else if (worker.state === "redundant" && worker !== active) this.#failed();
    });
  }

  /** @param {string} [told]  why, where it is known */
  #failed(told) {
    if (isOutdated) return;
    if (this.#registration?.active) return this.#check(); // the older version is still there
    const full = "there is too little room on this device";
    const reason = told ?? (this.#isFull ? full : "saving was interrupted");
    say(`Not saved for offline use: ${reason}. It is tried again by itself.`);
    clearTimeout(this.#again);
    this.#again = setTimeout(() => this.#goOn(), AGAIN_MS);
  }

  /** There may be a network again: what is saved already is not fetched once more. */
  #goOn() {
    clearTimeout(this.#again);
    const registration = this.#registration;
    if (registration?.active) this.#check();
    else if (!registration?.installing) this.begin();
  }
}

/**
 * Saves the handbook on the device.
 *
 * @param {URL} base  the handbook's address
 * @param {() => boolean} keep  keeps what a reload would lose; tells whether that is possible
 */
export async function keepOffline(base, keep) {
  keepInputs = keep;
  if (isInFolder) {
    say("Opened from a folder: everything works without a network.");
    return;
  }
  if (!("serviceWorker" in navigator)) {
    say(`Not saved for offline use: ${FORBIDDEN}.`);
    return;
  }
  // At the first visit the version that is saved, the page's own, takes over once by itself.
  let isFirst = !navigator.serviceWorker.controller;
  let reloading = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (!isFirst && !reloading) {
      reloading = true;
      reload();
    }
    isFirst = false;
  });
  // The older one may have given this page just before the newer one took over.
  navigator.serviceWorker.addEventListener("message", ({ data }) => refuseMix(data));
  /** @type {ToServiceWorker} */
  const question = { kind: "edition" };
  navigator.serviceWorker.controller?.postMessage(question);
  const registration = await new Saving(base).begin();
  // A page that was loaded past the saved version: whatever takes over is another one.
  if (registration?.active?.state === "activated") isFirst = false;
}
