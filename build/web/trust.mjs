/* What may become part of a page, where the engine enforces it (Trusted Types).  What Python replies
   is escaped there and is put in as it is; whatever else wants to become part of a page, which is
   what the theme makes, goes through markup.mjs. */

const replies = window.trustedTypes?.createPolicy("reply", { createHTML: (html) => html });

/**
 * Vouches for markup that came from Python.
 *
 * @param {string} html
 */
export const asReply = (html) =>
  /** @type {string} */ (/** @type {unknown} */ (replies?.createHTML(html) ?? html));
