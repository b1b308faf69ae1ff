/* How the worker runs the loader's script.  The folder edition has another way: folder-script.mjs. */

/**
 * @param {URL} address
 * @returns {Promise<unknown>}
 */
export const runScript = (address) => import(address.href);
