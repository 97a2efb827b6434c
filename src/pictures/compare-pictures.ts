// The accepted and the current picture of a view → whether they agree, and where they do not. From cheap to dear: raw pixels, raw pixels
// without what is masked, rows and columns that are equal, and only for the rest a tolerant comparison.
import type { Region } from '../samples/difference.ts';
import { alignRows } from './align-rows.ts';
import { blankAreas } from './blank-areas.ts';
import { gatherRegions, type MaskRegion } from './gather-regions.ts';
import { type MergedRows, mergeRows, rowIn } from './merged-rows.ts';
import type { Area } from './pixels.ts';
import { isSamePicture, type RgbaPicture } from './rgba-picture.ts';

export interface CompareOptions {
  /**
   * 0–1, YIQ distance that passes for equal as a share of that of black and white. 0.01 lets a grey differ by 2 codes of 255 and
   * no more (derived: 0.5053 · d² ≤ 35215 · 0.01²).
   */
  readonly threshold: number;
  /** Changed pixels that are put up with. */
  readonly allowedPixels: number;
  /** Parts left out, px of the picture they belong to; what either masks is left out of both. */
  readonly masks?: { readonly accepted: readonly Area[]; readonly current: readonly Area[] };
}

export interface PictureComparison {
  readonly verdict: 'same' | 'changed';
  /** Which step settled it. */
  readonly by: 'pixels' | 'masks' | 'tolerance' | 'difference';
  readonly changedPixels: number;
  /** Pixels of the larger picture. */
  readonly totalPixels: number;
  /** Empty when the verdict is `same`. */
  readonly regions: readonly Region[];
  /** For explaining and drawing; null when nothing had to be compared pixel by pixel. */
  readonly merged: MergedRows | null;
}

export function comparePictures(accepted: RgbaPicture, current: RgbaPicture, options: CompareOptions): PictureComparison {
  const totalPixels = Math.max(accepted.widthPx * accepted.heightPx, current.widthPx * current.heightPx);
  const same = (by: PictureComparison['by'], changedPixels = 0, merged: MergedRows | null = null): PictureComparison => ({
    ...{ verdict: 'same', by, changedPixels, totalPixels, regions: [], merged },
  });
  if (isSamePicture(accepted, current)) return same('pixels');
  const areas = [...(options.masks?.accepted ?? []), ...(options.masks?.current ?? [])];
  const [before, now] = [blankAreas(accepted, areas), blankAreas(current, areas)];
  if (areas.length > 0 && isSamePicture(before, now)) return same('masks');
  const merged = mergeRows(before, now, alignRows(before, now), options);
  const regions = regionsOf(merged);
  const changedPixels = regions.reduce((sum, region) => sum + region.pixels, 0);
  if (changedPixels <= options.allowedPixels) return same('tolerance', changedPixels, merged);
  return { verdict: 'changed', by: 'difference', changedPixels, totalPixels, regions, merged };
}

/** Rows that came in or went are regions of their own; the rest is gathered from the changed pixels. */
export function regionsOf(merged: MergedRows): readonly Region[] {
  const { widthPx, heightPx } = merged;
  const mask = merged.mask.slice();
  const whole: Region[] = [];
  for (const { kind, top, rows, acceptedTop, currentTop } of merged.bands) {
    if (kind !== 'inserted' && kind !== 'removed') continue;
    mask.fill(0, top * widthPx, (top + rows) * widthPx);
    whole.push({
      kind,
      accepted: [0, acceptedTop, widthPx, kind === 'removed' ? rows : 0],
      current: [0, currentTop, widthPx, kind === 'inserted' ? rows : 0],
      pixels: rows * widthPx,
    });
  }
  const changed = gatherRegions({ widthPx, heightPx, mask }).map((region) => changedRegion(merged, region));
  return [...whole, ...changed].sort((a, b) => a.current[1] - b.current[1] || a.current[0] - b.current[0]);
}

function changedRegion(merged: MergedRows, { left, top, right, bottom, pixels }: MaskRegion): Region {
  const on = (side: 'accepted' | 'current'): Region['current'] => {
    const first = rowIn(side, merged, top);
    return [left, first, right - left, rowIn(side, merged, bottom - 1) + 1 - first];
  };
  return { kind: 'changed', accepted: on('accepted'), current: on('current'), pixels };
}
