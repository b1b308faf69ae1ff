/* What is private to Pyodide and used all the same, as far as it is used; see “The page's
   Python” in DEVELOPERS.md. */

import type { PyodideAPI } from "pyodide";

/** A runtime, once its code is there. */
export interface RuntimeModule {
  readonly HEAP8: Int8Array;
  readonly HEAPU8: Uint8Array;
  readonly HEAP32: Int32Array;
  /** Addresses in its memory, for ownAddressAt() in image.mjs. */
  readonly __PyRuntime: number;
  readonly __PyEM_EMSCRIPTEN_COUNT_ARGS_OFFSET: number;
  readonly _PyEM_CountArgsPtr: number;
  readonly API: { restoreSnapshot: (image: Uint8Array) => unknown };
}

export type MakeRuntime = (settings: { INITIAL_MEMORY?: number }) => Promise<RuntimeModule>;

export type Python = PyodideAPI & { readonly _module: RuntimeModule };

/** `calc.app.page.respond` */
export type Respond = (text: string) => string;

declare global {
  var _createPyodideModule: MakeRuntime;
}
