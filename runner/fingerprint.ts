// A hash over all that the samples of a view follow from: what the document is made of, what it looks like, how the theme was put on,
// and what was asked. The samples of two views with the same fingerprint are the same.
import { createHash } from 'node:crypto';
import { SAMPLE_FORMAT } from '../src/samples/sample.ts';
import type { Limits } from './limits.ts';
import type { CaptureWishes } from './capture-wishes.ts';
import type { WireSource } from './page/wire.ts';

export interface ViewFacts {
  readonly wishes: CaptureWishes;
  /** Version of what reads the page. */
  readonly reader: string;
  readonly limits: Limits;
  readonly source: WireSource;
  readonly png: Uint8Array;
}

/**
 * Hosts and ports of the app are left out, they change from night to night.
 * @returns two SHA-256, lower-case hex: of all that samples follow from, and of where in its files it is written
 */
export function fingerprintOf({ wishes, reader, limits, source, png }: ViewFacts): string {
  const { view, theme, viewport, level, rules, configured, dye } = wishes;
  const asked = [SAMPLE_FORMAT, reader, limits, view.id, theme, viewport, level, rules, [...configured], dye];
  const hash = createHash('sha256');
  hash.update(JSON.stringify(asked));
  hash.update(source.hash ?? sha256(source.text ?? ''));
  hash.update(png);
  return `${hash.digest('hex')}.${sha256(source.lengths)}`;
}

/** What of a view is still the same: everything, all but the lines at which it is written, or nothing that can be relied on. */
export function sameness(known: string | undefined, now: string | undefined): 'all' | 'but-lines' | 'none' {
  if (known === undefined || now === undefined) return 'none';
  if (known === now) return 'all';
  return known.split('.')[0] === now.split('.')[0] ? 'but-lines' : 'none';
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
