// One view held against its accepted capture: compared, and explained where it changed.
import type { Difference } from '../samples/difference.ts';
import type { Rect } from '../samples/view.ts';
import { maskAreas } from './blank-areas.ts';
import { type CompareOptions, comparePictures } from './compare-pictures.ts';
import { explainRegions } from './explain-regions.ts';
import type { MergedRows } from './merged-rows.ts';
import type { RgbaPicture } from './rgba-picture.ts';
import type { Capture } from './sample-changes.ts';

export interface DecodedCapture extends Capture {
  readonly picture: RgbaPicture;
  /** CSS px: left out, in both. */
  readonly masks: readonly Rect[];
}

export interface ViewPair {
  readonly accepted: DecodedCapture;
  readonly current: DecodedCapture;
  /** Device px per CSS px. */
  readonly scale: number;
}

export interface ViewDifference {
  readonly verdict: 'same' | 'changed';
  readonly difference: Difference;
  /** For `drawDifference`; null when the pixels were equal. */
  readonly merged: MergedRows | null;
}

/** Regions that are kept with a view; the pixels of all count all the same. */
const REGIONS_KEPT = 200;

export function viewDifference(pair: ViewPair, options: Omit<CompareOptions, 'masks'>): ViewDifference {
  const { accepted, current, scale } = pair;
  const masks = { accepted: maskAreas(accepted.masks, scale), current: maskAreas(current.masks, scale) };
  const compared = comparePictures(accepted.picture, current.picture, { ...options, masks });
  const { verdict, changedPixels, totalPixels, regions, merged } = compared;
  const explanations = verdict === 'same' || merged === null ? [] : explainRegions({ merged, accepted, current, scale });
  const kept = regions.toSorted((a, b) => b.pixels - a.pixels).slice(0, REGIONS_KEPT);
  const inOrder = regions.filter((region) => kept.includes(region));
  return { verdict, merged, difference: { changedPixels, totalPixels, regions: inOrder, explanations } };
}
