/* What the build and the page's worker must agree on to start Python. */

export const SITE_PACKAGES = "/lib/python3.13/site-packages";

/* A lock file without packages: everything the page needs is in the image. */
export const LOCK = JSON.stringify({
  info: {
    abi_version: "2025_0",
    arch: "wasm32",
    platform: "emscripten_4_0_9",
    python: "3.13.2",
    version: "0.29.5",
  },
  packages: {},
});

/* The memory that the page's Python starts with.  The runtime's own 20 MiB do not hold every
   chapter; an image can only be restored into as much as it was saved with. */
export const MEMORY_BYTES = 32 * 2 ** 20;

/* Python looks for circles of garbage at every two thousand new objects, and now and then through
   all that there are.  Answers leave none to speak of: the search took half the time of a long one,
   and a short one now and then tens of milliseconds. */
const FEWER_SEARCHES = `
import gc
gc.collect()
gc.freeze()
gc.set_threshold(50_000, 10, 10)
`;

/* The plain way: what an answer needs is imported when it is asked for. */
export const START_PLAIN = `
from calc.app import lean
lean.begin()
from calc.app.page import respond
${FEWER_SEARCHES}`;

/* Imports all that an answer will ever import; an image holds no other module. */
export const START = `
from calc.app import lean
lean.begin()
import calc.renderers.qr
from calc.app.page import respond
from calc.app.warming import warm_up
warm_up()
lean.end()
import re
re.purge()
del re
${FEWER_SEARCHES}`;
