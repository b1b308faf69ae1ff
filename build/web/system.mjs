/* The system that the pages of choosing and planning share.  It stays on this device, in the
   browser's storage, as the texts of the form's fields. */

const KEY = "system";

export function keptSystem() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY));
    return kept && typeof kept === "object" && !Array.isArray(kept) ? kept : null;
  } catch {
    return null;
  }
}

/* Keeps what this page has of it, and leaves what only another page has. */
export function keepSystem(inputs) {
  try {
    localStorage.setItem(KEY, JSON.stringify({ ...keptSystem(), ...inputs }));
    return true;
  } catch {
    return false; // a browser that keeps nothing: the page works, and forgets
  }
}

export function forgetSystem() {
  try {
    localStorage.removeItem(KEY);
  } catch {
    // nothing was kept
  }
}
