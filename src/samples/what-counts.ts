// What is counted when findings and causes are counted: the same for the summary of a run, the list of runs, explain, gate, export and
// report. Exempt findings are shown where they are, and counted as exempt alone. Every cause counts, the unknown ones too.
import type { Cause, FindingStatus } from './finding.ts';

/** Some findings that are alike; one when it has no count. */
interface Counted {
  readonly status: FindingStatus;
  readonly count?: number;
}

export interface FindingCounts {
  /** New and known. */
  readonly total: number;
  readonly fresh: number;
  readonly known: number;
  readonly exempt: number;
}

export function isCounted({ status }: Counted): boolean {
  return status !== 'exempt';
}

export function countFindings(findings: Iterable<Counted>): FindingCounts {
  const sums = { new: 0, known: 0, exempt: 0 } satisfies Record<FindingStatus, number>;
  for (const { status, count = 1 } of findings) sums[status] += count;
  return { total: sums.new + sums.known, fresh: sums.new, known: sums.known, exempt: sums.exempt };
}

export interface CauseCounts {
  readonly total: number;
  /** Of these, the causes that could not be told. */
  readonly unknown: number;
  /** Findings that they explain, or would. */
  readonly findings: number;
}

export function countCauses(causes: readonly Pick<Cause, 'layer' | 'findings'>[]): CauseCounts {
  return {
    total: causes.length,
    unknown: causes.filter(({ layer }) => layer === 'unknown').length,
    findings: causes.reduce((sum, { findings }) => sum + findings, 0),
  };
}

/** Counts by check, as a run keeps them, together. */
export function sumOfChecks(findings: Readonly<Record<string, number>>): number {
  return Object.values(findings).reduce((sum, count) => sum + count, 0);
}
