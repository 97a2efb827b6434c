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
  if (theme.attribute !== undefined) {
    const { on, name, value } = theme.attribute;
    for (const el of all(on, missing)) {
      const { attribute } = beforeOf(el, name, found);
      undo.push(() => {
        if (attribute === null) dom(el).removeAttribute(name);
        else dom(el).setAttribute(name, attribute);
      });
      dom(el).setAttribute(name, value);
    }
  }
  if (theme.class !== undefined) {
    const { on, add, remove } = theme.class;
    for (const el of all(on, missing)) {
      const { classes } = beforeOf(el, '', found);
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
  readonly attribute: string | null;
  readonly classes: readonly string[];
}

/** As the page was loaded: of an element that had the theme put on early, that is noted on it (put-on-early.ts). */
function beforeOf(el: Element, name: string, found: Map<Element, Before>): Before {
  const known = found.get(el);
  if (known !== undefined) return known;
  const noted = dom(el).getAttribute(EARLY_MARK);
  dom(el).removeAttribute(EARLY_MARK);
  const before: Before =
    noted === null
      ? { attribute: name === '' ? null : dom(el).getAttribute(name), classes: [...dom(el).classList] }
      : parse(noted, el);
  found.set(el, before);
  return before;
}

function parse(noted: string, el: Element): Before {
  const now = { attribute: null, classes: [...dom(el).classList] };
  try {
    const [attribute, classes]: readonly unknown[] = JSON.parse(noted) as readonly unknown[];
    return typeof classes === 'string'
      ? {
          attribute: typeof attribute === 'string' ? attribute : null,
          classes: classes.split(/\s+/u).filter((name) => name !== ''),
        }
      : now;
  } catch {
    // The page wrote something of its own there.
    return now;
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
