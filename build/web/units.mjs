/* A number with its own unit behind it, as people type it. */

/**
 * Returns a figure without its own unit behind it: `50 W` is 50, `4 ohm` is 4.  Another unit stays
 * where it is, and is refused.
 *
 * @param {string} text
 * @param {string} [unit]  the field's
 */
export function withoutUnit(text, unit) {
  if (!unit) return text;
  const [, figure, sign] = /^(.*\d)\s*([^\d\s.,][^\s]*)\s*$/.exec(text) ?? [];
  return figure !== undefined && sign !== undefined && isUnit(sign, unit) ? figure : text;
}

/**
 * Tells whether a sign stands for a unit.  Capitals are told apart where a prefix may be one of
 * two: mΩ and MΩ.
 *
 * @param {string} sign
 * @param {string} unit
 */
function isUnit(sign, unit) {
  const spelt = sign.normalize("NFKC").replace(/ohms?$/i, "Ω"); // the sign of the ohm is two signs
  const plain = unit.normalize("NFKC");
  if (spelt === plain) return true;
  if (/Ω$/.test(plain) && plain.length > 1) return false;
  return spelt === plain.toLowerCase() || spelt === plain.replace("°", "");
}
