/* The folder edition, before the worker's own text: what it fetches is what the page sent it. */

/** @type {Promise<Map<string, Uint8Array<ArrayBuffer>>>} */
const sent = new Promise((resolve) => {
  self.addEventListener("message", (/** @type {MessageEvent} */ event) => {
    if (event.data?.kind !== "files") return;
    event.stopImmediatePropagation(); // it is no request
    resolve(new Map(event.data.files));
  });
});

self.fetch = async (resource) => {
  const address = resource instanceof Request ? resource.url : String(resource);
  const name = address.split("/").pop() ?? "";
  const bytes = (await sent).get(name);
  if (!bytes) throw new TypeError(`the folder has no ${name}`);
  return new Response(bytes);
};
