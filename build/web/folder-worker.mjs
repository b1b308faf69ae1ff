/* The folder edition: a browser makes no worker from a file that lies in a folder, and gives a worker
   no file from there.  So its text stands in a script of the page's, as do the runtime's files, which
   are read when the first worker is made and sent to each. */

/** @typedef {Record<string, string>} Files  in base 64, by their names */

const workerText = "WORKER_TEXT"; // the build puts it here

/** @type {Promise<Files> | null} */
let files = null;

/** @returns {Promise<Files>} */
function readFiles() {
  return new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = new URL("./runtime/files.js", import.meta.url).href;
    script.onload = () => resolve(/** @type {any} */ (globalThis).handbookFiles);
    script.onerror = () => reject(new Error("a file of the folder is missing"));
    document.head.append(script);
  });
}

/** @param {string} text  in base 64 */
const bytesOf = (text) => Uint8Array.from(atob(text), (sign) => sign.charCodeAt(0));

/** @returns {Worker} */
export function makeWorker() {
  const worker = new Worker(URL.createObjectURL(new Blob([workerText], { type: "text/javascript" })));
  files ??= readFiles();
  files.then(
    (all) => {
      const names = Object.keys(all);
      worker.postMessage({ kind: "files", files: names.map((name) => [name, bytesOf(all[name])]) });
    },
    (error) => worker.dispatchEvent(new ErrorEvent("error", { message: error.message })),
  );
  return worker;
}
