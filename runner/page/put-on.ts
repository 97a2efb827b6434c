// Puts a theme on in place and takes the one before off, so that each theme starts from the page as it was loaded.
import type { WireTheme } from './wire.ts';

let takeOff: () => void = () => undefined;

export function putOn(theme: WireTheme): { missing: readonly string[] } {
  takeOff();
  takeOff = () => undefined;
  const undo: (() => void)[] = [];
  const missing: string[] = [];
  if (theme.attribute !== undefined) {
    const { on, name, value } = theme.attribute;
    for (const el of all(on, missing)) {
      const before = el.getAttribute(name);
      undo.push(() => {
        if (before === null) el.removeAttribute(name);
        else el.setAttribute(name, before);
      });
      el.setAttribute(name, value);
    }
  }
  if (theme.class !== undefined) {
    const { on, add, remove } = theme.class;
    for (const el of all(on, missing)) {
      const added = add.filter((name) => !el.classList.contains(name));
      const removed = remove.filter((name) => el.classList.contains(name));
      undo.push(() => {
        el.classList.remove(...added);
        el.classList.add(...removed);
      });
      el.classList.remove(...remove);
      el.classList.add(...add);
    }
  }
  takeOff = () => {
    for (const step of undo.reverse()) step();
  };
  return { missing };
}

function all(selector: string, missing: string[]): readonly Element[] {
  let found: readonly Element[] = [];
  try {
    found = [...document.querySelectorAll(selector)];
  } catch {
    // Named as missing.
  }
  if (found.length === 0) missing.push(selector);
  return found;
}
