// Painted boxes too small to be surfaces: dots beside words, hairlines. Nothing is judged by them; they show which colours are used.
import { dom } from '../dom.ts';
import { isTransparent } from './colors.ts';
import type { PlaceFacts } from './place-facts.ts';
import type { Pseudo } from './places.ts';
import type { Entry } from '../scene/scene.ts';
import type { WireSpeck } from '../wire/places.ts';

/** Of one page at most; those that look alike and are called alike count once. */
const MOST = 200;

export interface Specks {
  /** @param which pseudo-element that is the speck */
  add(entry: Entry, style: CSSStyleDeclaration, which?: Pseudo): void;
  list(): readonly WireSpeck[];
}

export function openSpecks({ identity }: Pick<PlaceFacts, 'identity'>): Specks {
  const found = new Map<string, WireSpeck>();
  return {
    add: (entry, { backgroundColor: color }, which) => {
      if (isTransparent(color) || found.size >= MOST) return;
      const key = [color, dom(entry.el).localName, dom(entry.el).getAttribute('class') ?? '', which ?? ''].join(' ');
      if (!found.has(key)) found.set(key, { selector: `${identity.selectorOf(entry)}${which ?? ''}`, color });
    },
    list: () => [...found.values()],
  };
}
