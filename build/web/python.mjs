/* The page's end of the worker: one for the whole visit, kept over in-site navigation. */

/** @import { FromWorker, ReplyTo, Request, ToWorker } from "./messages.ts" */

import { makeWorker } from "./make-worker.mjs";

/** @typedef {"idle" | "starting" | "ready" | "stopped" | "failed"} State */

/**
 * A request that is under way.
 *
 * @typedef {object} Waiting
 * @property {(reply: any) => void} resolve  takes the reply to its request; see ask()
 * @property {(error: Error) => void} reject
 * @property {number} begun
 */

export const PATIENCE_MS = 2000; // that a newer request waits for an older one

/** The worker had started, and ended: what was asked is lost, the next request starts another. */
export class Stopped extends Error {}

class Python {
  /** @type {Worker | null} */
  #worker = null;
  /** By their numbers. @type {Map<number, Waiting>} */
  #waiting = new Map();
  #next = 1;
  #stops = 0; // since the last reply
  /** Of the page that is shown. @type {Set<(state: State) => void>} */
  #listeners = new Set();
  /** Of the whole visit. @type {Set<(state: State) => void>} */
  #lasting = new Set();
  /** @type {State} */
  state = "idle";
  reason = "";

  /**
   * Calls back at once and on every change of state.
   *
   * @param {(state: State) => void} listener
   * @param {"page" | "always"} [howLong]
   */
  onState(listener, howLong = "page") {
    (howLong === "page" ? this.#listeners : this.#lasting).add(listener);
    listener(this.state);
  }

  /** Forgets the listeners of a page that is no longer shown. */
  forgetListeners() {
    this.#listeners.clear();
  }

  /** @param {State} state */
  #become(state) {
    this.state = state;
    document.documentElement.dataset.python = state;
    for (const listener of [...this.#listeners, ...this.#lasting]) listener(state);
  }

  start() {
    if (this.#worker) return;
    this.#become("starting");
    let worker;
    try {
      // The page's head may have started it already; a second one is ours to make.
      worker =
        // If it could not be loaded, its place is empty again, and this one's error is heard.
        window.handbookWorker ?? makeWorker();
      window.handbookWorker = null;
    } catch (error) {
      this.#fail(String(error));
      return;
    }
    this.#worker = worker;
    worker.onmessage = ({ data }) => {
      if (worker === this.#worker) this.#heard(data);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      if (worker !== this.#worker) return;
      if (this.state === "starting") this.#fail(event.message || "the worker did not load");
      else this.#stop(event.message || "an error");
    };
    this.#tell({ kind: "life" });
    this.#tell({ kind: "report" });
  }

  /** @param {ToWorker} message */
  #tell(message) {
    this.#worker?.postMessage(message);
  }

  /**
   * A worker that the browser ends tells nobody.  While it lives it holds a lock: whoever is
   * given that lock knows.
   *
   * @param {string} life
   */
  async #watch(life) {
    const worker = this.#worker;
    try {
      await navigator.locks.request(life, () => {});
    } catch {
      return; // no lock is to be had: then an end is not noticed
    }
    if (worker === this.#worker) this.#stop("the browser ended it");
  }

  /** @param {string} reason */
  #stop(reason) {
    if (this.state === "failed") return; // told already
    this.#worker?.terminate();
    this.#stops += 1;
    if (this.#stops > 1) {
      this.#fail(`it stopped again: ${reason}; reload the page to try once more`);
      return;
    }
    this.#worker = null;
    this.reason = reason;
    this.#become("stopped");
    this.#reject(new Stopped(reason));
  }

  /** @param {FromWorker} message */
  #heard(message) {
    if (message.kind === "ready" && message.edition !== EDITION) {
      // A tab that stayed open over a newer version, or a host that mixes two.
      this.#fail("it is of another version than this page: reload the page");
    } else if (message.kind === "ready") {
      document.documentElement.dataset.pythonWay = message.way;
      this.#become("ready");
    } else if (message.kind === "failed") {
      this.#fail(message.reason);
    } else if (message.kind === "alive") {
      this.#watch(message.life);
    } else if (message.kind === "crashed") {
      this.#stop(message.reason);
    } else {
      this.#stops = 0;
      const asked = this.#waiting.get(message.id);
      if (!asked) return;
      this.#waiting.delete(message.id);
      if (message.kind === "reply") asked.resolve(JSON.parse(message.text));
      else asked.reject(new Error(message.reason));
    }
  }

  /** @param {string} reason */
  #fail(reason) {
    this.reason = reason;
    this.#become("failed");
    this.#reject(new Error(reason));
  }

  /** @param {Error} error */
  #reject(error) {
    const lost = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const asked of lost) asked.reject(error);
  }

  /**
   * Asks Python; throws where there is no reply.
   *
   * @template {Request} R
   * @param {R} request
   * @returns {Promise<ReplyTo<R>>}
   */
  ask(request) {
    this.start();
    if (this.state === "failed") return Promise.reject(new Error(this.reason));
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject, begun: performance.now() });
      this.#tell({ kind: "request", id, text: JSON.stringify(request) });
    });
  }

  /**
   * Has Python made ready for a request that may come soon.
   *
   * @param {Request} request
   */
  practise(request) {
    this.#tell({ kind: "practise", text: JSON.stringify(request) });
  }

  /** Gives up a request that has run for long, so that a newer one need not wait for it. */
  giveUpLong() {
    const now = performance.now();
    const long = [...this.#waiting.values()].some((asked) => now - asked.begun >= PATIENCE_MS);
    if (this.state !== "ready" || !long) return false;
    this.#worker?.terminate();
    this.#worker = null;
    this.#reject(new Superseded());
    this.start();
    return true;
  }

  /** What the reader is told of the state, where there is something to tell. */
  get word() {
    if (this.state === "failed") {
      return (
        `The calculator could not be started (${this.reason}). The page and its worked example ` +
        "can still be read."
      );
    }
    if (this.state !== "stopped") return "";
    return (
      `The calculator stopped (${this.reason}). It starts again at your next input; your inputs ` +
      "are kept."
    );
  }

  /**
   * Says why a request was not answered.
   *
   * @param {unknown} error
   */
  reasonOf(error) {
    if (this.state === "failed") return `the calculator could not be started (${this.reason})`;
    if (error instanceof Stopped) return `the calculator stopped (${error.message}); try again`;
    if (error instanceof Superseded) return "newer inputs replaced it; try again";
    // The last line of what Python tells is the error itself.
    return `an error in the calculator (${messageOf(error).trim().split("\n").pop()})`;
  }
}

/** The request was given up for a newer one. */
export class Superseded extends Error {}

/**
 * Returns the message of whatever was thrown.
 *
 * @param {unknown} error
 */
export const messageOf = (error) => (error instanceof Error ? error.message : String(error));

export const python = new Python();
