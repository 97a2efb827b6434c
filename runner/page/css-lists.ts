// Computed lists and shadows, taken apart: in the page and in Node.

export interface WrittenShadow {
  readonly color: string;
  readonly x: number;
  readonly y: number;
  readonly blur: number;
  readonly spread: number;
  readonly inset: boolean;
}

/** @param value computed `box-shadow` or `text-shadow`; first written first */
export function parseShadowList(value: string): readonly WrittenShadow[] {
  return splitOutside(value, ',').flatMap((part) => parseShadow(part) ?? []);
}

/** CSS px; thinner lines are not seen. */
export const LEAST_LINE = 0.5;

/** Without blur it draws a line along a side, or around. */
export function isLine({ x, y, blur, spread }: WrittenShadow): boolean {
  return blur === 0 && Math.max(spread, Math.abs(x), Math.abs(y)) >= LEAST_LINE;
}

/** `drop-shadow()` functions of a computed `filter`, in order. */
export function parseDropShadows(filter: string): readonly WrittenShadow[] {
  return functionsNamed(filter, 'drop-shadow').flatMap((part) => parseShadow(part) ?? []);
}

/** Chromium writes the colour first, then lengths in px, then `inset`; authors may write them otherwise. */
function parseShadow(text: string): WrittenShadow | null {
  const words = splitOutside(text, ' ').filter((word) => word !== '');
  const inset = words.includes('inset');
  const lengths = words.filter((word) => /^[+-]?[\d.]+(?:e[+-]?\d+)?(?:px)?$/u.test(word)).map((word) => Number.parseFloat(word));
  const color = words.find((word) => word !== 'inset' && !/^[+-]?[\d.]/u.test(word));
  const [x, y, blur = 0, spread = 0] = lengths;
  return color === undefined || x === undefined || y === undefined ? null : { color, x, y, blur, spread, inset };
}

/** Where no bracket is open. */
export function splitOutside(text: string, separator: string): readonly string[] {
  const parts: string[] = [];
  let depth = 0;
  let from = 0;
  for (let i = 0; i < text.length; i += 1) {
    if (text[i] === '(') depth += 1;
    else if (text[i] === ')') depth -= 1;
    else if (text[i] === separator && depth === 0) {
      parts.push(text.slice(from, i));
      from = i + 1;
    }
  }
  return [...parts, text.slice(from)].map((part) => part.trim());
}

function functionsNamed(text: string, name: string): readonly string[] {
  return splitOutside(text, ' ').flatMap((part) => (part.startsWith(`${name}(`) ? [part.slice(name.length + 1, -1)] : []));
}
