/* Putting replies into the page: form, answer, marks.  What is open and where the focus is stays. */

import { unfold } from "./inputs.mjs";
import { fillBoxes } from "./readings.mjs";

const openFolds = (part) => [...part.querySelectorAll("details")].map((fold) => fold.open);

function openAgain(part, open) {
  part.querySelectorAll("details").forEach((fold, at) => (fold.open = open[at] ?? false));
}

export function putForm(form, html, request) {
  const card = form.closest(".calculator");
  const open = openFolds(form);
  form.outerHTML = html;
  const put = card.querySelector("form");
  openAgain(put, open);
  // The button that was pressed is gone with the old form; its like has the focus.
  const pressed = request.query === "" ? "[data-action=reset]" : `[data-start="${request.start}"]`;
  put.querySelector(pressed)?.focus({ preventScroll: true });
}

/* Puts an answer in place of the one before, with the readings that were typed into it, if any. */
export function putAnswer(card, html, readings) {
  const answer = card.querySelector(".answer");
  const held = document.activeElement?.closest?.("[data-reading]")?.dataset.reading;
  const isStopping = Boolean(document.activeElement?.closest?.(".progress"));
  const open = openFolds(answer);
  answer.innerHTML = html;
  openAgain(answer, open);
  if (readings) fillBoxes(answer, readings);
  if (held) answer.querySelector(`[data-reading="${held}"]`)?.focus({ preventScroll: true });
  if (isStopping) answer.querySelector(".progress button")?.focus({ preventScroll: true });
  answer.classList.remove("answer--earlier");
  for (const gone of [".earlier", ".error-summary", ".qr"]) card.querySelector(gone).hidden = true;
}

export function markEarlier(card, hasAnswered) {
  const told = card.querySelector(".earlier");
  told.textContent = `This answer belongs to the ${hasAnswered ? "earlier inputs" : "worked example"}.`;
  told.hidden = false;
  card.querySelector(".answer").classList.add("answer--earlier");
}

/* Verdicts on the steps of the form. */
export function showMarks(form, marks) {
  for (const [heading, html] of Object.entries(marks)) {
    const legends = [...form.querySelectorAll("legend")];
    const legend = legends.find((one) => one.textContent === heading);
    if (!legend) continue;
    let mark = legend.nextElementSibling;
    if (!mark?.matches("[data-mark]")) {
      mark = document.createElement("p");
      mark.className = "mark";
      mark.dataset.mark = heading;
      legend.after(mark);
    }
    mark.innerHTML = html;
  }
}

/* Follows a link to a field or to a part of the answer; tells whether it was one.  The theme takes
   links over on their way up: these are no change of page, and the address goes on holding the
   figures alone. */
export function followWithin(event) {
  const link = event.target.closest(".error-summary a, a.jump");
  if (!link) return false;
  event.preventDefault();
  event.stopPropagation();
  const target = document.getElementById(link.getAttribute("href").split("#").pop());
  if (!target) return true;
  if (link.matches(".jump")) target.scrollIntoView();
  else {
    unfold(target);
    target.closest(".field").scrollIntoView({ block: "center" });
  }
  target.focus({ preventScroll: true });
  return true;
}
