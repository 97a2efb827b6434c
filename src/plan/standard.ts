// What a run judges by, besides the options of single checks: kept with it, so that its samples can be shown with the verdicts of that
// night. Types only.
import type { Exemption } from './configuration.ts';

export interface Standard {
  /** Which contrast is asked of text. */
  readonly level: 'AA' | 'AAA';
  /** In their order: samples name those that match them by index. */
  readonly exempt: readonly Exemption[];
}
