// What triage reasons about: tokens, cases, and the faults to be explained (a check that fires on a case), with the ways from one to the other.
import type { Check, GivenOptions } from '../checks/check.ts';
import type { CheckId } from '../samples/finding.ts';
import type { Case } from './case.ts';
import type { CasesOfToken } from './change.ts';
import { appendTo } from './counting.ts';
import { tokensOf } from './paint-ref.ts';
import type { TableIndex } from './table-index.ts';

/** A check that is on, with its options. */
export interface ActiveCheck {
  readonly check: Check;
  readonly options: GivenOptions;
}

/** One check that fires on one case. */
export interface Fault {
  /** Place in the list of faults. */
  readonly id: number;
  readonly case: Case;
  readonly check: CheckId;
  /** Places in the list of findings, ascending. */
  readonly findings: readonly number[];
  /** What mending it is worth: grows with the number of findings, but slowly, so that a fault seen on one page counts too. */
  readonly weight: number;
}

export interface World {
  readonly index: TableIndex;
  readonly cases: readonly Case[];
  readonly faults: readonly Fault[];
  readonly checks: ReadonlyMap<CheckId, ActiveCheck>;
  readonly casesOf: CasesOfToken;
  /** Cases of a family, one or more a theme, ascending. */
  familyOf(one: Case): readonly Case[];
  /** The same things painted in the reference theme; null where there are none. */
  inReference(one: Case): Case | null;
  faultsOf(one: Case): readonly Fault[];
}

/** What n equal places weigh. */
export function weightOf(places: number): number {
  return Math.log2(1 + places);
}

export function openWorld(from: {
  readonly index: TableIndex;
  readonly cases: readonly Case[];
  readonly checks: ReadonlyMap<CheckId, ActiveCheck>;
}): World {
  const { index, cases, checks } = from;
  const byToken = index.table.themes.map(() => new Map<number, number[]>());
  const families = new Map<string, Case[]>();
  const faults: Fault[] = [];
  const faultsByCase = new Map<number, Fault[]>();
  for (const one of cases) {
    const tokens = new Set([...tokensOf(one.fore), ...one.back.flatMap((layer) => tokensOf(layer.ref))]);
    const here = byToken[one.theme];
    if (here !== undefined) for (const token of tokens) appendTo(here, token, one.id);
    appendTo(families, one.family, one);
    for (const [check, findings] of [...one.findings].sort(byCheck)) {
      const fault = {
        id: faults.length,
        case: one,
        check,
        findings: [...findings].sort((a, b) => a - b),
        weight: weightOf(findings.length),
      };
      faults.push(fault);
      appendTo(faultsByCase, one.id, fault);
    }
  }
  const familyOf = (one: Case): readonly Case[] => families.get(one.family) ?? [];
  return {
    index,
    cases,
    faults,
    checks,
    casesOf: (theme, token) => byToken[theme]?.get(token) ?? [],
    familyOf,
    inReference: (one) => familyOf(one).find((each) => each.theme === index.table.reference) ?? null,
    faultsOf: (one) => faultsByCase.get(one.id) ?? [],
  };
}

function byCheck(one: readonly [CheckId, unknown], other: readonly [CheckId, unknown]): number {
  return one[0] < other[0] ? -1 : 1;
}
