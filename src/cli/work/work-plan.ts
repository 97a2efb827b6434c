// What travels through the queue: the plan of a run, its groups, and what workers report of them. Plain data without secrets.
import type { Stopwatch } from '../../../runner/tab/stopwatch.ts';
import type { Page } from '../../plan/configuration.ts';
import type { PageGroup } from '../../plan/plan-groups.ts';
import type { EffectFacts } from '../run/theme-effects.ts';
import type { MachineFacts } from './machine-facts.ts';

/** Changes with the shape of what is below; a worker of another gloam refuses the plan by its version anyway. */
export const WORK_FORMAT = 'gloam-work/1';

export interface WorkPlan {
  readonly format: typeof WORK_FORMAT;
  readonly machine: MachineFacts;
  /** Found once for all machines. */
  readonly pages: readonly Page[];
  /** Accepted sets to compare with; the first that has a view decides. */
  readonly sets: readonly string[];
  /** YYYY-MM-DD, for exemptions. */
  readonly today: string;
  /** Read every view anew. */
  readonly anew: boolean;
}

export type WorkGroup = Pick<PageGroup, 'name' | 'page' | 'viewport' | 'views'>;

export interface GroupReport {
  readonly captured: number;
  readonly failed: number;
  readonly unchanged: number;
  /** Selectors of the configuration that found something. */
  readonly ruled: readonly string[];
  readonly effects: EffectFacts;
  readonly time: ReturnType<Stopwatch['rows']>;
  readonly ms: number;
}

/** What comes out of the queue was put in by a gloam of the same version, or its plan is refused. */
export function asPlan(data: unknown): WorkPlan | null {
  const isPlan = typeof data === 'object' && data !== null && 'format' in data && data.format === WORK_FORMAT;
  return isPlan ? (data as WorkPlan) : null;
}

export function asGroup(data: unknown): WorkGroup {
  return data as WorkGroup;
}

export function asReport(data: unknown): GroupReport {
  return data as GroupReport;
}
