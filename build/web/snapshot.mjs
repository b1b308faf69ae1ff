/* Makes what the page's Python starts from.  Run by Node at build:

       node snapshot.mjs PACKAGES OUT LIBRARY

   PACKAGES  folder whose files become the runtime's site-packages
   OUT       folder for snapshot.raw (the memory image) and modules.json (the standard
             library's modules that the plain way of loading needs)
   LIBRARY   the standard library, compiled                                            */

import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { loadPyodide } from "pyodide";
import { LOCK, MEMORY_BYTES, SITE_PACKAGES, START } from "./start.mjs";

const [packages, out, stdLibURL] = process.argv.slice(2);

function copyInto(runtime, from, to) {
  runtime.FS.mkdirTree(to);
  for (const entry of readdirSync(from, { withFileTypes: true })) {
    const source = join(from, entry.name);
    const target = `${to}/${entry.name}`;
    if (entry.isDirectory()) copyInto(runtime, source, target);
    else runtime.FS.writeFile(target, readFileSync(source));
  }
}

/* Memory that nothing uses still holds old bytes.  Filling it with zeroes makes the image
   compress a fifth better; growing is blocked meanwhile, for a larger image could not be
   restored into the memory that the runtime starts with. */
function zeroFreeMemory(runtime) {
  const grow = WebAssembly.Memory.prototype.grow;
  WebAssembly.Memory.prototype.grow = () => {
    throw new RangeError("no growth while the free memory is filled");
  };
  try {
    runtime.runPython(`
def _fill():
    # Large blocks first; then every size that Python has pools of its own for.
    sizes = [*(1 << power for power in range(20, 9, -1)), *range(512, 0, -16)]
    blocks = []
    for size in sizes:
        try:
            while True:
                blocks.append(bytearray(size - 1))  # Python adds a byte
        except MemoryError:
            continue
_fill()
del _fill
gc.collect()
del gc
`);
  } finally {
    WebAssembly.Memory.prototype.grow = grow;
  }
}

const plain = await loadPyodide({ lockFileContents: LOCK, packageBaseUrl: "./", stdLibURL });
copyInto(plain, packages, SITE_PACKAGES);
plain.runPython(START);
const modules = plain.runPython("import sys; ' '.join(sorted(sys.modules))").split(" ");
writeFileSync(join(out, "modules.json"), JSON.stringify(modules));

const runtime = await loadPyodide({
  lockFileContents: LOCK,
  packageBaseUrl: "./",
  stdLibURL,
  _makeSnapshot: true,
});
copyInto(runtime, packages, SITE_PACKAGES);
runtime.runPython(START);
runtime.runPython("import gc; gc.collect()");
zeroFreeMemory(runtime);
const image = runtime.makeMemorySnapshot();
if (runtime._module.HEAP8.length > MEMORY_BYTES) {
  throw new Error("the image is larger than the memory that the runtime starts with");
}
writeFileSync(join(out, "snapshot.raw"), image);
