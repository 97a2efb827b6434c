// How a page looks at one moment, coarse but quick: the colours of its elements and a thinned picture of the first screen.
import type { Pixels } from '../../src/pictures/pixels.ts';
import type { Tone } from '../../src/samples/view.ts';
import { decodePng } from '../driver/decode-png.ts';
import type { Tab } from '../tab/tab.ts';

export interface Look {
  /** A number for each visible element. */
  readonly marks: readonly number[];
  /** Style sheets that the page asked for and did not get. */
  readonly lostSheets: number;
  /** Red, green, blue of every fourth pixel in both directions. */
  readonly pixels: Uint8Array;
}

const MOST_ELEMENTS = 3_000;
const STEP = 4;
/** Of 255; anti-aliasing of moved glyphs stays below it on most pixels (ours). */
const PIXEL_DIFFERS = 8;
const CLEARLY_ANOTHER = 32;

export async function look(tab: Tab): Promise<Look> {
  const { marks, lostSheets } = await tab.call('explorePaint', { most: MOST_ELEMENTS });
  const png = await tab.guard('taking a picture', tab.driver.picture());
  return { marks, lostSheets, pixels: thin(await decodePng(png, { leftPx: 0, topPx: 0 })) };
}

function thin({ data, widthPx, heightPx, channels }: Pixels): Uint8Array {
  const wide = Math.floor(widthPx / STEP);
  const high = Math.floor(heightPx / STEP);
  const pixels = new Uint8Array(wide * high * 3);
  for (let y = 0, to = 0; y < high; y += 1) {
    for (let x = 0; x < wide; x += 1, to += 3) {
      const from = (y * STEP * widthPx + x * STEP) * channels;
      pixels.set(data.subarray(from, from + 3), to);
    }
  }
  return pixels;
}

/** Shares of elements and pixels that differ, 0–1. */
export interface Difference {
  readonly elements: number;
  readonly pixels: number;
}

export function difference(a: Look, b: Look): Difference {
  const most = Math.max(a.marks.length, b.marks.length, 1);
  let elements = Math.abs(a.marks.length - b.marks.length);
  for (let i = 0; i < Math.min(a.marks.length, b.marks.length); i += 1) if (a.marks[i] !== b.marks[i]) elements += 1;
  const length = Math.min(a.pixels.length, b.pixels.length);
  let pixels = 0;
  for (let i = 0; i < length; i += 3) if (differs(a.pixels, b.pixels, i)) pixels += 1;
  return { elements: elements / most, pixels: length === 0 ? 0 : pixels / (length / 3) };
}

function differs(a: Uint8Array, b: Uint8Array, at: number): boolean {
  for (let c = at; c < at + 3; c += 1) if (Math.abs((a[c] ?? 0) - (b[c] ?? 0)) > PIXEL_DIFFERS) return true;
  return false;
}

/** Whether another colour covers most of the picture, with as much drawn on it as before. */
export function isRepainted(before: Look, after: Look): boolean {
  const [was, is] = [groundOf(before), groundOf(after)];
  const moved = Math.max(...[0, 1, 2].map((c) => Math.abs((was.color[c] ?? 0) - (is.color[c] ?? 0))));
  return moved > PIXEL_DIFFERS && is.drawn >= was.drawn / 2;
}

/** The commonest colour, in steps of 8, and the share of pixels that are clearly another. */
function groundOf({ pixels }: Look): { readonly color: readonly number[]; readonly drawn: number } {
  const counts = new Map<number, number>();
  const keyAt = (i: number): number =>
    (((pixels[i] ?? 0) >> 3) << 10) | (((pixels[i + 1] ?? 0) >> 3) << 5) | ((pixels[i + 2] ?? 0) >> 3);
  for (let i = 0; i < pixels.length; i += 3) counts.set(keyAt(i), (counts.get(keyAt(i)) ?? 0) + 1);
  const [key = 0] = [...counts].sort((a, b) => b[1] - a[1])[0] ?? [];
  const color = [key >> 10, (key >> 5) & 31, key & 31].map((step) => step * 8 + 4);
  let drawn = 0;
  for (let i = 0; i < pixels.length; i += 3) {
    if (color.some((value, c) => Math.abs(value - (pixels[i + c] ?? 0)) > CLEARLY_ANOTHER)) drawn += 1;
  }
  return { color, drawn: drawn / Math.max(1, pixels.length / 3) };
}

/** Of the median pixel: luma (Rec. 709 weights on coded values) below the middle reads as dark. */
export function toneOf({ pixels }: Look): Tone {
  const counts = new Uint32Array(256);
  for (let i = 0; i < pixels.length; i += 3) {
    const luma = 0.2126 * (pixels[i] ?? 0) + 0.7152 * (pixels[i + 1] ?? 0) + 0.0722 * (pixels[i + 2] ?? 0);
    const bin = Math.round(luma);
    counts[bin] = (counts[bin] ?? 0) + 1;
  }
  let left = pixels.length / 3 / 2;
  for (let bin = 0; bin < 256; bin += 1) {
    left -= counts[bin] ?? 0;
    if (left <= 0) return bin < 128 ? 'dark' : 'light';
  }
  return 'light';
}
