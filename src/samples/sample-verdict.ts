// How a text or graphic fares under what a run asks: the members of an exported sample that are no facts. Types only.
import type { ExemptReason } from './sample.ts';

export type Verdict = 'pass' | 'fail' | 'mixed' | 'exempt' | 'unknown';

export interface SampleVerdict {
  /** Null where nothing is asked. */
  readonly required: 3 | 4.5 | 7 | null;
  /** `configured` and `logotype`: by an exemption of the configuration. */
  readonly exempt: ExemptReason | 'logotype' | 'configured' | null;
  readonly verdict: Verdict;
  /** Why it is exempt, or why nothing can be said. */
  readonly why?: string;
}
