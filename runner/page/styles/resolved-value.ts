// The computed text of a custom property → the colour that it comes to where it stands. Browsers leave `light-dark()`, mixes and relative
// colours as they are written until a property of a known type takes them.
import { splitOutside } from '../css-lists.ts';
import type { Scheme } from '../scene/color-scheme.ts';

export type Resolve = (value: string, scheme: () => Scheme) => string;

/** One for each page: what a browser draws on is made once, where it is wanted. */
export function openResolver(): Resolve {
  let pen: OffscreenCanvasRenderingContext2D | null | undefined;
  return (value, scheme) => {
    const chosen = value.includes(CHOICE) ? choose(value, scheme()) : value;
    if (!COMPUTED.test(chosen) || /currentcolor/iu.test(chosen) || !CSS.supports('color', chosen)) return chosen;
    pen ??= openPen();
    if (pen === null) return chosen;
    pen.fillStyle = UNSET;
    pen.fillStyle = chosen;
    return pen.fillStyle === UNSET ? chosen : pen.fillStyle;
  };
}

/** Null where the page has taken it away, or put something else in its place. */
function openPen(): OffscreenCanvasRenderingContext2D | null {
  try {
    return new OffscreenCanvas(1, 1).getContext('2d');
  } catch {
    return null;
  }
}

const CHOICE = 'light-dark(';
/** CSS Color 5 §3 and §4. */
const COMPUTED = /color-mix\(|\(\s*from\s/iu;
/** What is no colour leaves the pen as it is (HTML §4.12.5.1.9). */
const UNSET = '#010203';

/** CSS Color 5 §7: one of both for each scheme, nested or within a longer value. */
function choose(value: string, scheme: Scheme): string {
  let out = value;
  for (let at = out.lastIndexOf(CHOICE); at !== -1; at = out.lastIndexOf(CHOICE)) {
    const end = closing(out, at + CHOICE.length);
    const [light = '', dark = ''] = splitOutside(out.slice(at + CHOICE.length, end), ',');
    out = out.slice(0, at) + (scheme === 'dark' ? dark : light) + out.slice(end + 1);
  }
  return out;
}

/** Where the bracket is closed that was opened before. */
function closing(text: string, from: number): number {
  let depth = 1;
  for (let at = from; at < text.length; at += 1) {
    if (text[at] === '(') depth += 1;
    else if (text[at] === ')') depth -= 1;
    if (depth === 0) return at;
  }
  return text.length;
}
