// What a rule takes alike on several surfaces is one thing to do, however many changes it was found as.
import { refKey } from '../cases/paint-ref.ts';
import type { Part } from '../propose/candidate.ts';

/** The same token in place of the same colour, on several surfaces. */
export function isOneChange(parts: readonly Part[]): boolean {
  const said = parts.map(({ change }) =>
    change.kind === 'use' && change.inks.length === 0 ? `${refKey(change.site.ref)} ${change.token}` : '',
  );
  return said[0] !== '' && new Set(said).size === 1;
}
