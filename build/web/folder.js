/* The folder edition, before the theme's script: its search has a worker, which no browser makes from
   a file; and where a link ends at a folder, a page lies in it. */

(() => {
  const OfBrowser = window.Worker;
  const searchText = "SEARCH_TEXT"; // the build puts it here
  /** @param {string} text */
  const placeOf = (text) => URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  window.Worker = class extends OfBrowser {
    /** @param {string | URL} address @param {WorkerOptions} [options] */
    constructor(address, options) {
      const isSearch = /search/.test(String(address));
      super(isSearch ? placeOf(searchText) : address, options);
    }
  };

  addEventListener(
    "click",
    (event) => {
      const link = event.target instanceof Element ? event.target.closest("a[href]") : null;
      if (!(link instanceof HTMLAnchorElement)) return;
      const address = new URL(link.href, location.href);
      if (address.protocol !== "file:" || !address.pathname.endsWith("/")) return;
      address.pathname += "index.html";
      link.href = address.href;
    },
    true,
  );
})();
