// Pairs of ink and background met under a run's glyphs → its contrast: least, most, and the colours to show.
import { luminanceRatio, toLinear } from '../../src/colour/contrast-ratio.ts';
import type { Pair } from '../../src/pictures/under-glyphs.ts';
import { distance } from '../../src/pictures/under-glyphs.ts';

export interface PairContrast {
  /** The 1 % quantile by area, so that no single pixel decides; `lowest` is that pixel. */
  readonly min: number;
  readonly max: number;
  readonly lowest: number;
  /** Colours, 0xRRGGBB, at the least contrast. */
  readonly worst: { readonly ink: number; readonly background: number };
  /** Backgrounds met, most frequent first. */
  readonly spread: readonly { readonly background: number; readonly share: number }[];
}

/** Share of the area that may lie below `min` (ours). */
const QUANTILE = 0.01;
/** A background nearer than this to one listed already is not listed again, in codes. */
const LISTED_APART = 8;
const LISTED = 8;

/** @param rim colour around the glyphs that helps to tell them from the background, 0xRRGGBB */
export function contrastOfPairs(pairs: readonly Pair[], rim: number | null): PairContrast | null {
  if (pairs.length === 0) return null;
  const rated = pairs
    .map((pair) => {
      const background = luminanceOf(pair.background);
      const own = luminanceRatio(luminanceOf(pair.ink), background);
      const byRim = rim === null ? 0 : luminanceRatio(luminanceOf(rim), background);
      return { ...pair, contrast: Math.max(own, byRim) };
    })
    .sort((a, b) => a.contrast - b.contrast || a.background - b.background || a.ink - b.ink);
  const total = rated.reduce((sum, pair) => sum + pair.count, 0);
  let passed = 0;
  let quantile = rated[0];
  for (const pair of rated) {
    quantile = pair;
    passed += pair.count;
    if (passed > total * QUANTILE) break;
  }
  const first = rated[0];
  const last = rated.at(-1);
  if (first === undefined || last === undefined || quantile === undefined) return null;
  return {
    min: quantile.contrast,
    max: last.contrast,
    lowest: first.contrast,
    worst: { ink: quantile.ink, background: quantile.background },
    spread: spreadOf(pairs, total),
  };
}

function spreadOf(pairs: readonly Pair[], total: number): PairContrast['spread'] {
  const counts = new Map<number, number>();
  for (const pair of pairs) counts.set(pair.background, (counts.get(pair.background) ?? 0) + pair.count);
  const listed: { background: number; count: number }[] = [];
  for (const [background, count] of [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])) {
    const near = listed.find((entry) => distance(entry.background, background) < LISTED_APART);
    if (near !== undefined) near.count += count;
    else if (listed.length < LISTED) listed.push({ background, count });
  }
  return listed.sort((a, b) => b.count - a.count).map(({ background, count }) => ({ background, share: count / total }));
}

/** Relative luminance of each 8-bit code's channel. */
const LINEAR = Float64Array.from({ length: 256 }, (_, code) => toLinear(code / 255));

/** WCAG relative luminance of 0xRRGGBB. */
export function luminanceOf(color: number): number {
  return 0.2126 * (LINEAR[color >> 16] ?? 0) + 0.7152 * (LINEAR[(color >> 8) & 255] ?? 0) + 0.0722 * (LINEAR[color & 255] ?? 0);
}
