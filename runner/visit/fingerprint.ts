// A hash over all that the samples of a view follow from: what the document is made of, what it looks like, how the theme was put on,
// and what was asked. The samples of two views with the same fingerprint are the same.
import { createHash } from 'node:crypto';
import { SAMPLE_FORMAT } from '../../src/samples/sample.ts';
import type { Limits } from '../tab/limits.ts';
import type { CaptureWishes } from './capture-wishes.ts';
import type { WireSource } from '../page/wire/wire.ts';

export interface ViewFacts {
  readonly wishes: CaptureWishes;
  /** Version of what reads the page. */
  readonly reader: string;
  readonly limits: Limits;
  readonly source: WireSource;
  readonly png: Uint8Array;
}

/**
 * Hosts and ports of the app are left out, they change from night to night. So is all that samples are only judged by: exemptions,
 * levels, options of checks.
 * @returns three SHA-256, lower-case hex: of all that samples follow from, of where in its files it is written, of the selectors that
 *   mark places (exemptions, owners)
 */
export function fingerprintOf({ wishes, reader, limits, source, png }: ViewFacts): string {
  const { view, theme, viewport, rules, dye, beside } = wishes;
  const { exempt, owners, ...read } = rules;
  const asked = [
    SAMPLE_FORMAT,
    reader,
    limits,
    view.id,
    theme,
    viewport,
    read,
    dye,
    ...(beside == null ? [] : [partsOf(beside)[0]]),
  ];
  const hash = createHash('sha256');
  hash.update(JSON.stringify(asked));
  hash.update(source.hash ?? sha256(source.text ?? ''));
  hash.update(png);
  return [hash.digest('hex'), sha256(source.lengths), sha256(JSON.stringify([exempt, owners]))].join('.');
}

/** What of a view that is still the same has to be looked up anew all the same. */
export interface Sameness {
  /** The lines at which its colours are written. */
  readonly linesMoved: boolean;
  /** Which exemptions and owners its places have. */
  readonly marksMoved: boolean;
}

/** @returns null where nothing that was known can be relied on */
export function sameness(known: string | undefined, now: string | undefined): Sameness | null {
  const [one, other] = [partsOf(known), partsOf(now)];
  if (one[0] === undefined || one[0] !== other[0]) return null;
  return { linesMoved: one[1] !== other[1], marksMoved: one[2] !== other[2] };
}

function partsOf(fingerprint: string | undefined): readonly string[] {
  return fingerprint?.split('.') ?? [];
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
