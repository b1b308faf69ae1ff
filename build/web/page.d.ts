/* What the page's scripts find there that is not of their making. */

interface Window {
  /** The theme's: tells every page that it shows, the first one included. */
  document$?: { subscribe(listener: () => void): void };
  /** The worker that the page's head started; empty once it is taken or could not be loaded. */
  handbookWorker?: Worker | null;
}
