// Puts a theme on in place and takes the one before off, so that each theme starts from the page as it was loaded.
import { dom } from '../dom.ts';
import { EARLY_MARK } from './early-mark.ts';
import type { WireTheme } from '../wire/wire.ts';

export interface Wardrobe {
  /** @returns selectors that match nothing */
  putOn(theme: WireTheme): { missing: readonly string[] };
}

export function openWardrobe(): Wardrobe {
  let takeOff: () => void = () => undefined;
  return {
    putOn: (theme) => {
      takeOff();
      takeOff = () => undefined;
      const put = putOn(theme);
      takeOff = put.takeOff;
      return { missing: put.missing };
    },
  };
}

function putOn(theme: WireTheme): { readonly missing: readonly string[]; readonly takeOff: () => void } {
  const undo: (() => void)[] = [];
  const missing: string[] = [];
  const found = new Map<Element, Before>();
  for (const { on, name, value } of theme.attributes ?? []) {
    for (const el of all(on, missing)) {
      const { attributes } = beforeOf(el, found);
      const before = name in attributes ? (attributes[name] ?? null) : dom(el).getAttribute(name);
      undo.push(() => {
        if (before === null) dom(el).removeAttribute(name);
        else dom(el).setAttribute(name, before);
      });
      dom(el).setAttribute(name, value);
    }
  }
  if (theme.class !== undefined) {
    const { on, add, remove } = theme.class;
    for (const el of all(on, missing)) {
      const { classes } = beforeOf(el, found);
      const added = add.filter((name) => !classes.includes(name));
      const removed = remove.filter((name) => classes.includes(name));
      undo.push(() => {
        dom(el).classList.remove(...added);
        dom(el).classList.add(...removed);
      });
      dom(el).classList.remove(...remove);
      dom(el).classList.add(...add);
    }
  }
  return {
    missing,
    takeOff: () => {
      for (const step of undo.reverse()) step();
    },
  };
}

interface Before {
  /** Of those that were put on early; null where there was none. */
  readonly attributes: Readonly<Record<string, string | null>>;
  readonly classes: readonly string[];
}

/** As the page was loaded: of an element that had the theme put on early, that is noted on it (put-on-early.ts). */
function beforeOf(el: Element, found: Map<Element, Before>): Before {
  const known = found.get(el);
  if (known !== undefined) return known;
  const noted = dom(el).getAttribute(EARLY_MARK);
  dom(el).removeAttribute(EARLY_MARK);
  const before = (noted === null ? null : parse(noted)) ?? { attributes: {}, classes: [...dom(el).classList] };
  found.set(el, before);
  return before;
}

/** @returns null where the page wrote something of its own there */
function parse(noted: string): Before | null {
  try {
    const [attributes, classes]: readonly unknown[] = JSON.parse(noted) as readonly unknown[];
    if (typeof classes !== 'string' || typeof attributes !== 'object' || attributes === null) return null;
    const before = Object.entries(attributes).map(([name, value]) => [name, typeof value === 'string' ? value : null] as const);
    return { attributes: Object.fromEntries(before), classes: classes.split(/\s+/u).filter((name) => name !== '') };
  } catch {
    return null;
  }
}

function all(selector: string, missing: string[]): readonly Element[] {
  let found: readonly Element[] = [];
  try {
    found = [...dom(document).querySelectorAll(selector)];
  } catch {
    // Named as missing.
  }
  if (found.length === 0) missing.push(selector);
  return found;
}
