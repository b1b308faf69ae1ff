/* What the build writes into the service worker. */

interface WorkerGlobalScope {
  readonly __WB_MANIFEST: { url: string; revision: string | null; integrity: string }[];
  /** What the pages of this version are stamped with. */
  readonly __EDITION: string;
}
