/* The page's end of the worker: one for the whole visit, kept over in-site navigation. */

export const PATIENCE_MS = 2000; // that a newer request waits for an older one

class Python {
  #worker = null;
  #waiting = new Map(); // id → { resolve, reject, begun }
  #next = 1;
  #listeners = new Set(); // of the page that is shown
  #lasting = new Set(); // of the whole visit
  state = "idle"; // "idle" | "starting" | "ready" | "failed"
  reason = "";
  way = "";

  /* Calls back at once and on every change of state. */
  onState(listener, howLong = "page") {
    (howLong === "page" ? this.#listeners : this.#lasting).add(listener);
    listener(this.state);
  }

  /* Forgets the listeners of a page that is no longer shown. */
  forgetListeners() {
    this.#listeners.clear();
  }

  #become(state) {
    this.state = state;
    document.documentElement.dataset.python = state;
    for (const listener of [...this.#listeners, ...this.#lasting]) listener(state);
  }

  start() {
    if (this.#worker) return;
    this.#become("starting");
    try {
      // The page's head may have started it already; a second one is ours to make.
      this.#worker =
        // If it could not be loaded, its place is empty again, and this one's error is heard.
        window.handbookWorker ??
        new Worker(new URL("./runtime/worker.js", import.meta.url), { type: "module" });
      window.handbookWorker = null;
    } catch (error) {
      this.#fail(String(error));
      return;
    }
    this.#worker.onmessage = ({ data }) => this.#heard(data);
    this.#worker.postMessage({ kind: "report" });
    this.#worker.onerror = (event) => {
      event.preventDefault();
      if (this.state === "starting") this.#fail(event.message || "the worker did not load");
    };
  }

  #heard(message) {
    if (message.kind === "ready") {
      this.way = message.way;
      document.documentElement.dataset.pythonWay = message.way;
      this.#become("ready");
    } else if (message.kind === "failed") {
      this.#fail(message.reason);
    } else {
      const asked = this.#waiting.get(message.id);
      if (!asked) return;
      this.#waiting.delete(message.id);
      if (message.kind === "reply") asked.resolve(JSON.parse(message.text));
      else asked.reject(new Error(message.reason));
    }
  }

  #fail(reason) {
    this.reason = reason;
    this.#become("failed");
    for (const asked of this.#waiting.values()) asked.reject(new Error(reason));
    this.#waiting.clear();
  }

  ask(request) {
    this.start();
    if (this.state === "failed") return Promise.reject(new Error(this.reason));
    const id = this.#next++;
    return new Promise((resolve, reject) => {
      this.#waiting.set(id, { resolve, reject, begun: performance.now() });
      this.#worker.postMessage({ id, text: JSON.stringify(request) });
    });
  }

  /* Gives up a request that has run for long, so that a newer one need not wait for it. */
  giveUpLong() {
    const now = performance.now();
    const long = [...this.#waiting.values()].some((asked) => now - asked.begun >= PATIENCE_MS);
    if (this.state !== "ready" || !long) return false;
    this.#worker.terminate();
    this.#worker = null;
    const given = [...this.#waiting.values()];
    this.#waiting.clear();
    for (const asked of given) asked.reject(new Superseded());
    this.start();
    return true;
  }
}

export class Superseded extends Error {}
export const python = new Python();
