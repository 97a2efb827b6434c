// What the gate must know of one theme in one run. Plain data: from-ledger.ts reads it, tests write it down.
import type { FindingKind } from '../ledger/records.ts';
import type { Exemption } from '../plan/configuration.ts';
import type { Cause, CheckId, Finding } from '../samples/finding.ts';
import type { ViewRef } from '../samples/view.ts';
import type { Doubt } from './doubts.ts';

/** The parts of a finding that a verdict and its forms need. */
export type GateFinding = Pick<
  Finding,
  | 'id'
  | 'check'
  | 'level'
  | 'status'
  | 'view'
  | 'page'
  | 'theme'
  | 'state'
  | 'viewport'
  | 'selector'
  | 'rect'
  | 'message'
  | 'cause'
  | 'owner'
  | 'since'
> &
  Partial<Pick<Finding, 'measured'>>;

/** Findings that no criterion tells apart. */
export interface GateKind extends Omit<FindingKind, 'theme' | 'first'> {
  /** The first few in plan order, where they have no cause. */
  readonly first: readonly GateFinding[];
}

export interface GateView extends ViewRef {
  /** `planned`: the run ended before it was rendered. */
  readonly status: 'planned' | 'captured' | 'failed';
  /** Why it failed; of a captured view, what moved although its pictures agreed; null when all is well. */
  readonly trouble: string | null;
  /** Of a view that only came on a further try: how the others ended; null when the first came. */
  readonly unsteady: string | null;
  /** Parts of it that were not looked into; null when there are none. */
  readonly unread: string | null;
  /** It failed because its pixels would not come to rest. */
  readonly unsettled: boolean;
  /** Null when nobody asked for accepted pictures. */
  readonly accepted: boolean | null;
}

/** Painted colour uses of one owner, '' for nobody. */
export interface GateCoverage {
  readonly owner: string;
  readonly uses: number;
  readonly throughTokens: number;
}

export interface GateExemption extends Exemption {
  /** Findings of the run, in all themes, that it covers; null when the run may not have known it. */
  readonly covers: number | null;
}

export interface GateFacts {
  readonly theme: string;
  readonly run: {
    readonly id: string;
    /** ISO 8601. */
    readonly startedAt: string;
    readonly finishedAt: string | null;
    readonly gloam: string;
    readonly browser: string;
    /** Narrowed on the command line, or one part of several. */
    readonly partial: boolean;
    /** Nothing was rendered: see `RunSummary.foretold`. */
    readonly foretold?: true;
  };
  /** YYYY-MM-DD */
  readonly today: string;
  readonly views: readonly GateView[];
  /** Views that may not be what they say. */
  readonly doubts: readonly Doubt[];
  /** Names of the pages there have to be. */
  readonly pages: readonly string[];
  /** Of this theme, the exempt ones too. */
  readonly findings: readonly GateKind[];
  /** Findings of the run before that are no longer there. */
  readonly gone: number;
  readonly causes: readonly Cause[];
  readonly coverage: readonly GateCoverage[];
  readonly exemptions: readonly GateExemption[];
  /** Checks that are switched off. */
  readonly off: readonly CheckId[];
  /** Id of the run that is compared with, when the criteria name one; of several the newest, and how many more. */
  readonly since: string | null;
}
