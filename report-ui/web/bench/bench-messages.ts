// What the page and its worker tell each other. The worker holds the cases; the page only ever sees what comes of a proposal.
import type { ProposedChange } from '../../../src/forecast/proposal.ts';
import type { LightnessBand, Weighed } from '../../../src/forecast/weigh-proposal.ts';
import type { ViewRef } from '../../../src/samples/view.ts';
import type { TokenTable } from '../../../src/triage/tokens/token-table.ts';

export type ToWorker =
  | { readonly kind: 'open'; readonly packed: string }
  /** `other`: the one that the proposal is compared with. */
  | { readonly kind: 'weigh' | 'other'; readonly id: number; readonly changes: readonly ProposedChange[] }
  | {
      readonly kind: 'band';
      readonly id: number;
      readonly changes: readonly ProposedChange[];
      readonly at: { readonly token: string; readonly theme: string };
    };

export type FromWorker =
  | {
      readonly kind: 'opened';
      readonly table: TokenTable;
      readonly samples: number;
      readonly cases: number;
      readonly views: readonly ViewRef[];
    }
  | { readonly kind: 'weighed' | 'other'; readonly id: number; readonly weighed: Weighed; readonly tookMs: number }
  | { readonly kind: 'band'; readonly id: number; readonly band: LightnessBand };
