/* The folder edition: a worker without an address runs a script from what the page sent it. */

/**
 * @param {URL} address
 * @returns {Promise<void>}
 */
export async function runScript(address) {
  const content = await (await fetch(address)).blob();
  const place = URL.createObjectURL(new Blob([content], { type: "text/javascript" }));
  const trust = /** @type {any} */ (self).trustedTypes;
  const vouched = trust?.createPolicy("worker", { createScriptURL: () => place });
  importScripts(vouched?.createScriptURL("") ?? place);
  URL.revokeObjectURL(place);
}
