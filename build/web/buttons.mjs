/* What the buttons of a calculator's card do. */

/** @import { Parts } from "./calculator.mjs" */
/** @import { What } from "./hand-over.mjs" */

import { around, control, part } from "./dom.mjs";
import { emptyExample, keepExample } from "./example.mjs";
import { save } from "./files.mjs";
import { handOver } from "./hand-over.mjs";
import { handleClick } from "./inputs.mjs";
import { toAnswer } from "./next-step.mjs";
import { askToKeep } from "./offline.mjs";
import { pasteInto } from "./pasting.mjs";
import { fillBoxes } from "./readings.mjs";
import { playSound, saveSound } from "./sound.mjs";
import { pressToAdd } from "./stock.mjs";
import { forgetFigures } from "./system.mjs";

/**
 * What is done by the name of the action; the form's own buttons have others.
 *
 * @type {Record<string, (parts: Parts, button: HTMLButtonElement) => void>}
 */
const ACTIONS = {
  "clear-readings"({ card, questions, replies }) {
    fillBoxes(card.answer, []);
    replies.keepReadings();
    questions.answer();
  },
  stop({ questions }) {
    questions.step({ stop: true });
  },
  "go-on"({ questions }) {
    questions.step({ stop: false });
  },
  undo({ card, keeping, questions, replies }) {
    if (questions.isComing) return; // what an earlier press brings is on its way
    const inputs = keeping.undo(card.figures());
    replies.showAside();
    if (inputs) questions.fill(inputs);
    else card.say("Brought back.");
  },
  "keep-mine"({ card, keeping, replies }) {
    askToKeep();
    const isMine = keeping.keepGuest(card.figures(), replies.query);
    replies.showAside();
    card.say(isMine ? "Kept as your system." : "This browser cannot keep the system.");
  },
  "save-file"({ card }, button) {
    const name = button.dataset.name ?? "";
    const area = control(around(button, ".document"), "textarea");
    save(area.value, name, "text/csv;charset=utf-8");
    card.say(`Saved as ${name}.`);
  },
  "choose-row"({ card, questions }, button) {
    card.arranged?.choose(button);
    questions.answer();
  },
  "choose-rows"({ card, questions }, button) {
    card.arranged?.choose(button);
    questions.answer();
  },
  "set-field"({ card, questions, replies }, button) {
    const { setField, setText } = button.dataset;
    const entry = control(part(card.form, `[data-field="${setField}"]`), "[name]");
    entry.value = setText ?? "";
    delete entry.dataset.example; // a wish: nothing is asked of the example's figures for it
    replies.answerIsDue();
    card.arranged?.isEarlier();
    toAnswer(card.element); // what was pressed goes with the answer that it stands in
    questions.answer();
  },
  "empty-example"({ card, questions }) {
    emptyExample(card.form);
    card.arranged?.start();
    questions.answer();
  },
  "keep-example"({ card }) {
    keepExample(card.form);
    card.arranged?.showBar();
  },
  "open-parts"({ card }) {
    card.arranged?.unplan();
  },
  paste(parts, button) {
    pasteInto(parts, button);
  },
  stock(parts, button) {
    void pressToAdd(button, parts);
  },
  reset({ card, questions }) {
    questions.mayReplace();
    if (card.holdsSystem) forgetFigures();
    questions.open("");
  },
};

/**
 * Does what a button of the card is for.
 *
 * @param {HTMLButtonElement} button
 * @param {Parts} parts
 */
export function press(button, parts) {
  const { card, questions, replies } = parts;
  const { action, sound, start, exchange, about } = button.dataset;
  if (action && Object.hasOwn(ACTIONS, action)) ACTIONS[action]?.(parts, button);
  else if (sound) makeSound(sound, parts);
  else if (start) questions.start(Number(start));
  else if (exchange === "take") questions.take(Number(about ?? 0));
  else if (exchange === "give") questions.give();
  else if (button.dataset.handOver) takeAway(/** @type {What} */ (button.dataset.handOver), parts);
  else if (handleClick(card.form, button)) {
    replies.answerIsDue();
    card.arranged?.pressed(button);
    questions.answer();
  }
}

/**
 * @param {string} sound  "play" or "save"
 * @param {Parts} parts
 */
function makeSound(sound, { card, replies }) {
  if (replies.isRefused) {
    card.say("Correct the inputs first; nothing was played.");
    return;
  }
  const asked = {
    calculator: card.name,
    inputs: card.inputs(),
    title: card.part(".sound__title").textContent,
    say: card.say.bind(card),
  };
  if (sound === "play") playSound(asked);
  else saveSound(asked);
}

/**
 * @param {What} what
 * @param {Parts} parts
 */
function takeAway(what, { card, replies }) {
  // A template is the same whatever stands in the form.
  if (replies.isRefused && what !== "template") {
    card.say("Correct the inputs first; nothing was taken.");
    return;
  }
  handOver(what, {
    card: card.element,
    calculator: card.name,
    inputs: card.inputs(),
    query: replies.query,
    say: card.say.bind(card),
  });
}
