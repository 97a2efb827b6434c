// What the gate says: whether a theme may launch, criterion by criterion, in words a person can sign.
import type { Cause } from '../samples/finding.ts';
import type { ViewRef } from '../samples/view.ts';
import type { GateExemption, GateFacts, GateFinding } from './facts.ts';

/** Something to go and look at. Forms turn it into a command or an address. */
export interface Link {
  readonly kind: 'finding' | 'cause' | 'view';
  readonly id: string;
  readonly label: string;
  /** The view it lies in; absent for causes. */
  readonly at?: Omit<ViewRef, 'id'>;
}

export interface Criterion {
  /** Stable: `text-contrast:error`, `coverage`, `owner:pilots:coverage`, `views-failed` … */
  readonly id: string;
  readonly name: string;
  readonly met: boolean;
  readonly needed: string;
  readonly found: string;
  /** Least number of single things to put right until it is met; 0 when it is. */
  readonly distance: number;
  /** The same in words, '' when met. */
  readonly step: string;
  readonly links: readonly Link[];
  /** How many more there are; 0 when absent. */
  readonly more?: number;
}

/** An exemption and how it stands today. */
export interface ExemptionStanding {
  readonly exemption: GateExemption;
  readonly state: 'holds' | 'ending' | 'expired';
  /** Days until its last day, counted from today; null without an end. */
  readonly daysLeft: number | null;
  /** Covers no finding of the run: nothing needs it any more. */
  readonly idle: boolean;
}

export interface GateJudgement {
  readonly theme: string;
  readonly run: GateFacts['run'];
  readonly today: string;
  /** Every criterion is met. */
  readonly may: boolean;
  /** Missing ones first, the nearest to being met before the farther; then those that hold. */
  readonly criteria: readonly Criterion[];
  readonly counts: { readonly new: number; readonly known: number; readonly exempt: number; readonly gone: number };
  readonly exemptions: readonly ExemptionStanding[];
  /** What the verdict says nothing about: shown above it. */
  readonly notAsked: readonly string[];
  /** No reason to say no, but somebody should know. */
  readonly warnings: readonly string[];
  /** Run the criteria compare with; of several the newest, and how many more. */
  readonly since: string | null;
  /** Causes of the theme's findings that count. */
  readonly causes: readonly Cause[];
}

/** With what the forms list. */
export interface GateVerdict extends GateJudgement {
  /** The theme's findings that count, the exempt ones left out. */
  readonly findings: readonly GateFinding[];
}
