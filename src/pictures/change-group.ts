// The name of a change without its place: the same change on many pages has one name, and is one cause.
import type { Change } from '../samples/difference.ts';

export function changeGroup(change: Change): string {
  switch (change.kind) {
    case 'recoloured':
      return change.token === null
        ? join('recoloured', change.property, change.from, change.to)
        : join('recoloured', change.token, change.from, change.to);
    case 'rewired':
      return join('rewired', change.property, change.from, change.to);
    case 'text':
      return join('text', change.from, change.to);
    case 'moved':
      return join('moved', change.by.join(), change.grew.join());
    case 'added':
    case 'removed':
    case 'picture':
    case 'unexplained':
      return change.kind;
  }
}

/** Parts may hold any text of a page; quoting keeps them apart. */
function join(kind: string, ...parts: readonly string[]): string {
  return `${kind} ${parts.map((part) => JSON.stringify(part)).join(' ')}`;
}
