/* The requests of one calculator: the newest wins, and none waits for an older one for ever. */

import { PATIENCE_MS, python, Stopped, Superseded } from "./python.mjs";

const SLOW_MS = 500; // after which it is told that the answer takes a while

/* Requests whose replies bring a form: what they were to bring stands nowhere else. */
const FILLING = ["open", "fill", "file", "start", "take"];

export class Asking {
  #wanted = null; // newest request that has not been sent
  #busy = false;
  #turn = 0;
  #again = null; // what is asked for the second time, for Python stopped at the first
  #card;

  /* Calls card.isShown(), .slow(), .replied(reply, request), .unanswered(error), .showState() */
  constructor(card) {
    this.#card = card;
  }

  get isWaiting() {
    return Boolean(this.#busy || this.#wanted);
  }

  ask(request) {
    this.#wanted = request;
    if (!this.#busy || python.giveUpLong()) this.#send();
    else setTimeout(() => this.#askAgain(request), PATIENCE_MS);
    this.#card.showState();
  }

  #askAgain(request) {
    if (this.#wanted === request && python.giveUpLong()) this.#send();
  }

  async #send() {
    const request = this.#wanted;
    const turn = ++this.#turn;
    this.#wanted = null;
    this.#busy = true;
    const slow = setTimeout(() => this.#card.slow(), SLOW_MS);
    try {
      const reply = await python.ask(request);
      clearTimeout(slow);
      if (!this.#card.isShown()) return;
      if (!this.#wanted) this.#card.replied(reply, request);
    } catch (error) {
      clearTimeout(slow);
      if (error instanceof Superseded) {
        // Given up for another calculator's sake, it is asked again; for a newer request of
        // our own, that one is under way already.
        if (turn === this.#turn) {
          this.#wanted ??= request;
          this.#send();
        }
        return;
      }
      if (error instanceof Stopped && FILLING.includes(request.kind) && this.#again !== request) {
        this.#again = request;
        this.#wanted ??= request;
      } else this.#card.unanswered(error);
    }
    this.#busy = false;
    if (this.#wanted && python.state !== "failed") this.#send();
    this.#card.showState();
  }
}
