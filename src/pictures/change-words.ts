// A change in a few words, as part of a sentence.
import type { Change } from '../samples/difference.ts';

/** @param name what people call the token, where that is not its custom property */
export function changeWords(change: Change, name?: string): string {
  switch (change.kind) {
    case 'recoloured':
      return `${name ?? change.token ?? change.property} went from ${change.from} to ${change.to}`;
    case 'rewired':
      return `${change.property} takes ${change.to} instead of ${change.from}`;
    case 'text':
      return `text “${short(change.from)}” became “${short(change.to)}”`;
    case 'moved': {
      const [x, y] = change.by;
      return `moved by ${Math.round(x)}, ${Math.round(y)} px`;
    }
    case 'added':
      return 'something was added';
    case 'removed':
      return 'something was taken away';
    case 'picture':
      return 'a picture shows something else';
    case 'unexplained':
      return 'unexplained';
  }
}

function short(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
