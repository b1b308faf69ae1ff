/* Compiles what the page's Python runs, in that very Python.  Run by Node at build:

       node compile.mjs PACKAGES LIBRARY LIBRARY_ZIP CODE COMPILER

   PACKAGES     folder of the packages' sources; compiled files take their places
   LIBRARY      folder of the standard library's sources, likewise; only those modules are left that
                an answer imports
   LIBRARY_ZIP  the same sources, packed, from which the runtime starts
   CODE         folder of the runtime's loader and code, as they come: they are trimmed meanwhile
   COMPILER     build/byte_code.py                                                        */

import { readFileSync } from "node:fs";
import { loadPyodide } from "pyodide";
import { settled } from "./settled.mjs";
import { LOCK, START } from "./start.mjs";

const [packages = "", library = "", stdLibURL = "", indexURL = "", compiler = ""] =
  process.argv.slice(2);
const env = settled();
const options = { env, indexURL, lockFileContents: LOCK, packageBaseUrl: "./", stdLibURL };

/**
 * Imports whatever an answer does, and compiles that.
 *
 * @param {import("pyodide").PyodideAPI} python
 */
function compileIn(python) {
  python.mountNodeFS("/packages", packages);
  python.mountNodeFS("/library", library);
  python.runPython("import sys; sys.path.insert(0, '/packages')");
  python.runPython(START);
  python.runPython("wanted = set(sys.modules)"); // those of the compiler are none of them
  python.runPython(readFileSync(compiler, "utf8"));
  python.runPython("compile_all('/library', wanted); compile_all('/packages')");
}

compileIn(await loadPyodide(options));
