// Entries of a page's storage that are there before its own scripts run, on the first page of an origin as well: where nothing of the
// origin was loaded yet, the browser's protocol has no storage to write to.

/** @returns a script for the start of each document, in a world of its own that shares the storage with the page */
export function storing(entries: Readonly<Record<string, string>>): string {
  return `(${String(storeEntries)})(${JSON.stringify(Object.entries(entries))})`;
}

interface EntryStore {
  setItem(key: string, value: string): void;
}

/** Travels as text: it may name nothing but its arguments and what a browser has. */
function storeEntries(entries: readonly (readonly [key: string, value: string])[]): void {
  const browser = globalThis as unknown as {
    readonly top: unknown;
    readonly localStorage: EntryStore;
    readonly sessionStorage: EntryStore;
  };
  if (browser.top !== globalThis) return;
  // Apps keep a theme in the one or the other; which of them is theirs to know.
  for (const store of ['localStorage', 'sessionStorage'] as const) {
    try {
      for (const [key, value] of entries) browser[store].setItem(key, value);
    } catch {
      // The empty first document of a tab and a sandboxed page have no storage.
    }
  }
}
