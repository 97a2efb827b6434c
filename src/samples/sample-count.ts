// How many places of a page were looked at. Pure.
import type { Sample } from './sample.ts';

/** Whole pictures are no places. */
export function sampleCount(samples: readonly Pick<Sample, 'kind'>[]): number {
  return samples.filter(({ kind }) => kind !== 'picture').length;
}
