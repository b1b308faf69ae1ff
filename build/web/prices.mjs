/* The shop's own prices on a kit list.  They are typed into the list and stay on this device: by the
   article, so that a price typed once stands wherever the article does; never in a link.  Lines and
   sum are worked out here, for no answer depends on them. */

import { parts, targetOf } from "./dom.mjs";

const KEPT = "kit prices";
const MOST = 400; // articles; the oldest is forgotten
const PRICE = /^\d{1,7}([.,]\d{1,4})?$/;

/** @typedef {Record<string, string>} Prices */

/**
 * Returns the prices that this device keeps, by article.
 *
 * @returns {Prices}
 */
export function keptPrices() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT) ?? "{}");
    const isRecord = typeof kept === "object" && kept !== null && !Array.isArray(kept);
    const entries = isRecord ? Object.entries(kept) : [];
    return Object.fromEntries(entries.filter(([, text]) => typeof text === "string"));
  } catch {
    return {};
  }
}

/**
 * Keeps a price, or forgets it where nothing is typed; tells whether the browser does.
 *
 * @param {string} article
 * @param {string} text
 */
function keep(article, text) {
  const { [article]: _, ...others } = keptPrices();
  const entries = text ? [...Object.entries(others), [article, text]] : Object.entries(others);
  try {
    localStorage.setItem(KEPT, JSON.stringify(Object.fromEntries(entries.slice(-MOST))));
    return true;
  } catch {
    return false; // a browser that keeps nothing: the sum works, and is forgotten
  }
}

/**
 * @param {ParentNode} answer
 * @returns {HTMLInputElement[]}
 */
const boxesOf = (answer) =>
  parts(answer, "[data-price]").map((box) => /** @type {HTMLInputElement} */ (box));

/** @param {HTMLInputElement} box */
const articleOf = (box) => box.dataset.price ?? "";

/**
 * Returns what was typed as a number; null where that is no price.
 *
 * @param {string} text
 */
const priceOf = (text) => (PRICE.test(text) ? Number(text.replace(",", ".")) : null);

/** @param {number} value  to the smallest coin */
const rounded = (value) => Math.round(value * 100 + 1e-6) / 100;

/**
 * Returns what is typed into the list, by article.
 *
 * @param {ParentNode} answer
 * @returns {Prices}
 */
export function typedPrices(answer) {
  const typed = boxesOf(answer).filter((box) => box.value.trim());
  return Object.fromEntries(typed.map((box) => [articleOf(box), box.value.trim()]));
}

/**
 * Shows the prices that are kept, and what they come to.
 *
 * @param {ParentNode} answer
 */
export function showPrices(answer) {
  const kept = keptPrices();
  for (const box of boxesOf(answer)) {
    if (!box.value) box.value = kept[articleOf(box)] ?? "";
  }
  showSums(answer);
}

/**
 * Returns what brings the focus back to the price that is being typed, once the list is a new one.
 *
 * @param {ParentNode} answer
 */
export function priceInHand(answer) {
  const box = boxesOf(answer).find((each) => each === document.activeElement);
  if (!box) return () => {};
  const { value } = box;
  return () => {
    const like = boxesOf(answer).find((each) => articleOf(each) === articleOf(box));
    if (!like) return;
    like.value = value;
    like.focus({ preventScroll: true });
    like.setSelectionRange(value.length, value.length);
  };
}

/**
 * Takes what is being typed; tells whether it was a price, and says where it is not kept.
 *
 * @param {Event} event
 * @param {ParentNode} answer
 * @param {(text: string) => void} say
 */
export function priceIsTyped(event, answer, say) {
  const box = targetOf(event);
  if (!(box instanceof HTMLInputElement) || box.dataset.price === undefined) return false;
  const text = box.value.trim();
  for (const other of boxesOf(answer)) {
    if (other !== box && articleOf(other) === articleOf(box)) other.value = text;
  }
  const isWell = text === "" || priceOf(text) !== null;
  if (isWell && !keep(articleOf(box), text)) say("This browser cannot keep the prices.");
  showSums(answer);
  if (event.type === "change" && !isWell) say(`‘${text}’ is not a price. Enter a number, such as 4.50.`);
  return true;
}

/**
 * Shows what each line comes to, and the sum of those that have a price.
 *
 * @param {ParentNode} answer
 */
function showSums(answer) {
  for (const foot of parts(answer, ".prices")) {
    const list = foot.parentElement;
    if (list) showSum(boxesOf(list), foot);
  }
}

/**
 * @param {HTMLInputElement[]} boxes
 * @param {HTMLElement} foot
 */
function showSum(boxes, foot) {
  let sum = 0;
  let unpriced = 0;
  let open = 0;
  for (const box of boxes) {
    const price = priceOf(box.value.trim());
    const isWrong = box.value.trim() !== "" && price === null;
    if (isWrong) box.setAttribute("aria-invalid", "true");
    else box.removeAttribute("aria-invalid");
    const { amount } = box.dataset;
    const cost = price === null || amount === undefined ? null : rounded(price * Number(amount));
    sum += cost ?? 0;
    if (price === null) unpriced += 1;
    else if (cost === null) open += 1;
    const place = box.parentElement?.querySelector(".price__sum");
    if (place) place.textContent = cost === null ? "" : cost.toFixed(2);
  }
  const isPriced = unpriced < boxes.length;
  foot.classList.toggle("prices--typed", isPriced);
  for (const table of parts(/** @type {ParentNode} */ (foot.parentElement), "table:has([data-price])")) {
    table.classList.toggle("figures-table--priced", isPriced);
  }
  const words = foot.querySelector(".prices__sum");
  if (!(words instanceof HTMLElement)) return;
  words.dataset.empty ??= words.textContent ?? "";
  words.textContent = isPriced ? sumWords(sum, unpriced, open) : words.dataset.empty;
}

/**
 * @param {number} sum
 * @param {number} unpriced
 * @param {number} open
 */
function sumWords(sum, unpriced, open) {
  const words = [`Sum: ${rounded(sum).toFixed(2)}`];
  if (unpriced) words.push(unpriced === 1 ? "1 line without a price" : `${unpriced} lines without a price`);
  if (open) words.push(open === 1 ? "1 line still to measure" : `${open} lines still to measure`);
  return `${words.join("; ")}.`;
}
