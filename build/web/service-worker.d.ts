/* What the build writes into the service worker. */

interface WorkerGlobalScope {
  readonly __WB_MANIFEST: { url: string; revision: string | null; integrity: string }[];
}
