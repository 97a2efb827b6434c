// A colour shown in the terminal: a 24-bit patch where colours are on, its text always.
import type { Io } from './io.ts';

/** @param hex `#rrggbb`; other notations are shown as text alone */
export function swatch(io: Pick<Io, 'color'>, hex: string): string {
  const codes = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(hex);
  if (!io.color || codes === null) return hex;
  const [red, green, blue] = codes.slice(1).map((pair) => parseInt(pair, 16));
  return `\u001b[48;2;${String(red)};${String(green)};${String(blue)}m  \u001b[49m ${hex}`;
}
