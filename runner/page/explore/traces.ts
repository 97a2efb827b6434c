// What a script leaves behind when it switches a theme: attributes near the root, stored entries, cookies, the address.
import { dom } from '../dom.ts';
import { pathOf } from './controls.ts';
import type { WireTraces } from '../wire/explore.ts';

/** A box that covers this share of the window may carry the theme. */
const LARGE = 0.5;

export function exploreTraces(): WireTraces {
  const { documentElement, body } = dom(document);
  const near = [...dom(body).children].flatMap((child) => [child, ...dom(child).children]).filter(isLarge);
  return {
    elements: [documentElement, body, ...near].map((el) => ({
      on: el === documentElement ? 'html' : pathOf(el),
      attributes: Object.fromEntries(
        [...dom(el).attributes].filter(({ name }) => name !== 'id').map(({ name, value }) => [name, value]),
      ),
    })),
    storage: storageEntries(),
    cookies: Object.fromEntries(
      dom(document)
        .cookie.split('; ')
        .filter((pair) => pair.includes('='))
        .map((pair) => [pair.slice(0, pair.indexOf('=')), pair.slice(pair.indexOf('=') + 1)]),
    ),
    query: Object.fromEntries(new URLSearchParams(location.search)),
  };
}

function isLarge(el: Element): boolean {
  const { width, height } = dom(el).getBoundingClientRect();
  return width * height >= LARGE * innerWidth * innerHeight;
}

/** A page may be barred from its storage. */
function storageEntries(): Readonly<Record<string, string>> {
  try {
    return Object.fromEntries(Object.keys(localStorage).map((key) => [key, localStorage.getItem(key) ?? '']));
  } catch {
    return {};
  }
}
