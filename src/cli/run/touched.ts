// Addresses that pages asked for, and files that changed → pages to render again.
import path from 'node:path';

/** Page name → files of the served folder that it loaded, or looked for. */
export type Loaded = ReadonlyMap<string, ReadonlySet<string>>;

/**
 * The files an address of the served folder may mean, as the server looks for them.
 * @param origin without a slash at the end @param folder absolute @returns none for addresses of elsewhere
 */
export function filesOf(
  address: string,
  { origin, folder }: { readonly origin: string; readonly folder: string },
): readonly string[] {
  if (!address.startsWith(`${origin}/`)) return [];
  let name: string;
  try {
    name = decodeURIComponent(new URL(address).pathname);
  } catch {
    return [];
  }
  const file = path.join(folder, name);
  return name.endsWith('/') ? [path.join(file, 'index.html')] : [file, `${file}.html`];
}

/** @returns names of pages; files that no page loaded touch none */
export function touchedBy(changed: readonly string[], loaded: Loaded): readonly string[] {
  return [...loaded].filter(([, files]) => changed.some((file) => files.has(file))).map(([page]) => page);
}
