// A hash over all that the samples of a view follow from: what the document is made of, what it looks like, how the theme was put on,
// and what was asked. The samples of two views with the same fingerprint are the same.
import { createHash } from 'node:crypto';
import { SAMPLE_FORMAT } from '../src/samples/sample.ts';
import type { Limits } from './limits.ts';
import type { CaptureWishes } from './capture-wishes.ts';

export interface ViewFacts {
  readonly wishes: CaptureWishes;
  /** Version of what reads the page. */
  readonly reader: string;
  readonly limits: Limits;
  readonly source: readonly string[];
  readonly png: Uint8Array;
}

/** @returns SHA-256, lower-case hex; ports and hosts of the app are left out, they change from night to night */
export function fingerprintOf({ wishes, reader, limits, source, png }: ViewFacts): string {
  const { view, theme, viewport, level, rules, configured, dye } = wishes;
  const asked = [SAMPLE_FORMAT, reader, limits, view.id, theme, viewport, level, rules, [...configured], dye];
  const { origin } = new URL(view.url);
  const hash = createHash('sha256');
  hash.update(JSON.stringify(asked));
  hash.update(JSON.stringify(source).replaceAll(origin, ''));
  hash.update(png);
  return hash.digest('hex');
}
