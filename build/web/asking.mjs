/* The requests of one calculator: the newest wins, and none waits for an older one for ever. */

/** @import { CardReply, CardRequest } from "./messages.ts" */

import { PATIENCE_MS, python, Stopped, Superseded } from "./python.mjs";

const SLOW_MS = 500; // after which it is told that the answer takes a while

/* Requests whose replies bring a form: what they were to bring stands nowhere else. */
/** @type {CardRequest["kind"][]} */
const FILLING = ["open", "fill", "file", "start", "take"];

/** @param {CardRequest} request */
export const bringsForm = (request) => FILLING.includes(request.kind);

/**
 * Whoever asks, and what is called there.
 *
 * @typedef {object} Asker
 * @property {() => boolean} isShown
 * @property {() => void} slow  the reply takes a while
 * @property {(reply: CardReply, request: CardRequest) => void} replied
 * @property {(request: CardRequest) => void} unanswered  the newest one
 * @property {() => void} showState
 */

export class Asking {
  /** Newest request that has not been sent. @type {CardRequest | null} */
  #wanted = null;
  #isBusy = false;
  #turn = 0;
  /** What is asked again, for Python stopped the first time. @type {CardRequest | null} */
  #again = null;
  #asker;

  /** @param {Asker} asker */
  constructor(asker) {
    this.#asker = asker;
  }

  get isWaiting() {
    return Boolean(this.#isBusy || this.#wanted);
  }

  /** @param {CardRequest} request */
  ask(request) {
    this.#wanted = request;
    if (!this.#isBusy || python.giveUpLong()) this.#send(request);
    else setTimeout(() => this.#askAgain(request), PATIENCE_MS);
    this.#asker.showState();
  }

  /** @param {CardRequest} request */
  #askAgain(request) {
    if (this.#wanted === request && python.giveUpLong()) this.#send(request);
  }

  /** @param {CardRequest} request */
  async #send(request) {
    const turn = ++this.#turn;
    this.#wanted = null;
    this.#isBusy = true;
    const slow = setTimeout(() => this.#asker.slow(), SLOW_MS);
    try {
      const reply = await python.ask(request);
      clearTimeout(slow);
      if (!this.#asker.isShown()) return;
      if (!this.#wanted) this.#asker.replied(reply, request);
    } catch (error) {
      clearTimeout(slow);
      if (error instanceof Superseded) {
        // Given up for another calculator's sake, it is asked again; for a newer request of
        // our own, that one is under way already.
        if (turn === this.#turn) this.#send(this.#wanted ?? request);
        return;
      }
      if (error instanceof Stopped && bringsForm(request) && this.#again !== request) {
        this.#again = request;
        this.#wanted ??= request;
      } else if (!this.#wanted || python.state === "failed") {
        const newest = this.#wanted ?? request;
        this.#wanted = null;
        this.#asker.unanswered(newest);
      }
    }
    this.#isBusy = false;
    if (this.#wanted) this.#send(this.#wanted);
    this.#asker.showState();
  }
}
