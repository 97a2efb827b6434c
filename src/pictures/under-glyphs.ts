// Which pairs of ink and background lie where the glyphs of a text run are, read from pictures of the same place: as it is,
// without text, and with the run's boxes filled with its ink.
import type { Area, Pixels } from './pixels.ts';
import { cutTo, isEmpty, offsetOf } from './pixels.ts';

export interface GlyphPictures {
  readonly normal: Pixels;
  readonly bare: Pixels;
  /** Absent where the ink cannot be shown as an area. */
  readonly inked: Pixels | null;
}

/** A pair of colours, each 0xRRGGBB, and how many pixels show it. */
export interface Pair {
  readonly background: number;
  readonly ink: number;
  readonly count: number;
}

export interface UnderGlyphs {
  readonly pairs: readonly Pair[];
  /** Pixels that change when the text goes. */
  readonly glyphPixels: number;
  /** Share of the area where the filled box does not show: under a cover, or in the very colour of the ink. 0–1. */
  readonly unfilled: number;
  /** The pixel that differs most from what lies behind: the ink of large letters, less than it for thin ones. */
  readonly strongest: Pair | null;
}

/** Up to this many colours a background counts as flat areas, not as a picture (ours). */
const FLAT_COLORS = 12;
/** Codes by which a colour beside a glyph may differ from one under it and still be the same background. */
const SAME_CODES = 6;

/** @param area the run's boxes: whole device px */
export function underGlyphs({ normal, bare, inked }: GlyphPictures, wanted: Area): UnderGlyphs {
  const area = cutTo(cutTo(wanted, normal), bare);
  if (isEmpty(area)) return { pairs: [], glyphPixels: 0, unfilled: 0, strongest: null };
  const width = area.right - area.left;
  const height = area.bottom - area.top;
  const mask = new Uint8Array(width * height);
  let glyphPixels = 0;
  let strongest: Pair | null = null;
  let most = 0;
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      const a = colorAt(normal, area.left + x, area.top + y);
      const b = colorAt(bare, area.left + x, area.top + y);
      if (a === b) continue;
      mask[y * width + x] = CORE;
      glyphPixels += 1;
      const d = distance(a, b);
      if (d > most) {
        most = d;
        strongest = { background: b, ink: a, count: 1 };
      }
    }
  }
  if (glyphPixels > 0) grow(mask, width, height);

  const core = new Map<number, number>();
  const pairs = new Map<number, Pair>();
  const visit = (state: number, take: (background: number, ink: number) => void): void => {
    for (let row = 0; row < height; row += 1) {
      for (let column = 0; column < width; column += 1) {
        if (mask[row * width + column] !== state) continue;
        const [x, y] = [area.left + column, area.top + row];
        const background = colorAt(bare, x, y);
        const ink = inked === null ? background : colorAt(inked, x, y);
        // A box that does not show here lies under something else.
        if (inked !== null && ink === background && state !== CORE) continue;
        if (inked !== null && ink !== background && isEdgeOfCover(bare, inked, area, x, y)) continue;
        take(background, ink);
      }
    }
  };
  const add = (background: number, ink: number): void => {
    const key = background * 0x1000000 + ink;
    const known = pairs.get(key);
    pairs.set(key, { background, ink, count: (known?.count ?? 0) + 1 });
  };
  visit(CORE, (background, ink) => {
    core.set(background, (core.get(background) ?? 0) + 1);
    add(background, ink);
  });
  const flat = core.size <= FLAT_COLORS;
  const colors = [...core.keys()];
  visit(GROWN, (background, ink) => {
    // Beside the glyphs on a flat background another colour is a neighbour: a border, an icon.
    if (!flat || colors.some((color) => distance(color, background) <= SAME_CODES)) add(background, ink);
  });
  return { pairs: [...pairs.values()], glyphPixels, unfilled: inked === null ? 0 : unfilledShare(bare, inked, area), strongest };
}

function unfilledShare(bare: Pixels, inked: Pixels, area: Area): number {
  let count = 0;
  for (let y = area.top; y < area.bottom; y += 1) {
    for (let x = area.left; x < area.right; x += 1) if (colorAt(inked, x, y) === colorAt(bare, x, y)) count += 1;
  }
  return count / ((area.right - area.left) * (area.bottom - area.top));
}

/** A pixel beside one where the box does not show and another colour is seen: the soft edge or round corner of what covers it. */
function isEdgeOfCover(bare: Pixels, inked: Pixels, area: Area, x: number, y: number): boolean {
  const own = colorAt(bare, x, y);
  for (let ny = Math.max(area.top, y - 1); ny <= Math.min(area.bottom - 1, y + 1); ny += 1) {
    for (let nx = Math.max(area.left, x - 1); nx <= Math.min(area.right - 1, x + 1); nx += 1) {
      const other = colorAt(bare, nx, ny);
      if (other === colorAt(inked, nx, ny) && distance(other, own) > SAME_CODES) return true;
    }
  }
  return false;
}

const CORE = 1;
const GROWN = 2;

/** By one pixel to all eight sides. */
function grow(mask: Uint8Array, width: number, height: number): void {
  for (let y = 0; y < height; y += 1) {
    for (let x = 0; x < width; x += 1) {
      if (mask[y * width + x] !== CORE) continue;
      for (let ny = Math.max(0, y - 1); ny <= Math.min(height - 1, y + 1); ny += 1) {
        for (let nx = Math.max(0, x - 1); nx <= Math.min(width - 1, x + 1); nx += 1) {
          if (mask[ny * width + nx] === 0) mask[ny * width + nx] = GROWN;
        }
      }
    }
  }
}

/** 0xRRGGBB at page coordinates; outside the picture black. */
export function colorAt(pixels: Pixels, x: number, y: number): number {
  const i = offsetOf(pixels, x, y);
  const { data } = pixels;
  return ((data[i] ?? 0) << 16) | ((data[i + 1] ?? 0) << 8) | (data[i + 2] ?? 0);
}

/** Largest difference in a channel, 0–255. */
export function distance(a: number, b: number): number {
  return Math.max(Math.abs((a >> 16) - (b >> 16)), Math.abs(((a >> 8) & 255) - ((b >> 8) & 255)), Math.abs((a & 255) - (b & 255)));
}
