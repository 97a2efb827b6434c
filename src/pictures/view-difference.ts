// One view held against its accepted capture: compared, and explained where it changed.
import type { Difference } from '../samples/difference.ts';
import { type CompareOptions, comparePictures } from './compare-pictures.ts';
import { explainRegions } from './explain-regions.ts';
import type { MergedRows } from './merged-rows.ts';
import type { RgbaPicture } from './rgba-picture.ts';
import type { Capture } from './sample-changes.ts';

export interface ViewPair {
  readonly accepted: Capture & { readonly picture: RgbaPicture };
  readonly current: Capture & { readonly picture: RgbaPicture };
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

export function viewDifference(pair: ViewPair, options: CompareOptions): ViewDifference {
  const { accepted, current, scale } = pair;
  const { verdict, changedPixels, totalPixels, regions, merged } = comparePictures(accepted.picture, current.picture, options);
  const explanations = verdict === 'same' || merged === null ? [] : explainRegions({ merged, accepted, current, scale });
  const kept = regions.toSorted((a, b) => b.pixels - a.pixels).slice(0, REGIONS_KEPT);
  const inOrder = regions.filter((region) => kept.includes(region));
  return { verdict, merged, difference: { changedPixels, totalPixels, regions: inOrder, explanations } };
}
