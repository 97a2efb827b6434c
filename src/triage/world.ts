// What triage reasons about: tokens, cases, and the faults to be explained (a check that fires on a case), with the ways from one to the other.
import type { Check, GivenOptions, Judge } from '../checks/check.ts';
import type { ContrastLevel } from '../colour/text-requirement.ts';
import type { CheckId } from '../samples/finding.ts';
import type { Case } from './cases/case.ts';
import { appendTo } from './counting.ts';
import { refKey, tokensOf } from './cases/paint-ref.ts';
import type { CasesOfToken, ReachOf } from './cases/reach.ts';
import { openReach } from './cases/reach.ts';
import type { TableIndex } from './tokens/table-index.ts';

/** A check that is on, with its options. */
export interface ActiveCheck {
  readonly check: Check;
  readonly options: GivenOptions;
}

/** One check that fires on one case. */
export interface CaseFault {
  /** Place in the list of faults. */
  readonly id: number;
  readonly case: Case;
  readonly check: CheckId;
  /** Places in the list of findings, ascending. */
  readonly findings: readonly number[];
  /** What mending it is worth: grows with the number of findings, but slowly, so that a fault seen on one page counts too. */
  readonly weight: number;
}

/** What a check says of a case. `part`: only together with others, which the run decides. */
export type Answer = 'no' | 'part' | 'yes';

/** By a key of the colours; `compares` where the check wants to know how the place looks in the reference theme. */
export type AnswersOfCheck = Map<string | number, Answer | 'compares'>;
export type Answers = WeakMap<Case, Map<Judge, AnswersOfCheck>>;

export interface World {
  readonly index: TableIndex;
  readonly cases: readonly Case[];
  readonly faults: readonly CaseFault[];
  /** The checks that are on. */
  readonly judges: ReadonlyMap<CheckId, Judge>;
  /** Which contrast is asked of text. */
  readonly level: ContrastLevel;
  /** The checks that a case is under, whether or not they found anything. */
  dutiesOf(one: Case): readonly Judge[];
  readonly casesOf: CasesOfToken;
  readonly reachOf: ReachOf;
  /** Cases of a family, one or more a theme, ascending. */
  familyOf(one: Case): readonly Case[];
  /** The same place in the reference theme: the same elements for surfaces, else what is painted by the same things; null without. */
  inReference(one: Case): Case | null;
  /** What checks said to colours that were asked about before; also those of other worlds of the same samples. */
  readonly answers: Answers;
  /** What they say of cases as they are here. */
  readonly now: Map<string, Answer>;
  faultsOf(one: Case): readonly CaseFault[];
}

/** What n equal places weigh. */
export function weightOf(places: number): number {
  return Math.log2(1 + places);
}

export function openWorld(from: {
  readonly index: TableIndex;
  readonly cases: readonly Case[];
  readonly judges: ReadonlyMap<CheckId, Judge>;
  readonly level: ContrastLevel;
  /** Of a world of the same samples, checks and level. */
  readonly answers?: Answers;
}): World {
  const { index, cases, judges, level, answers = new WeakMap<Case, Map<Judge, AnswersOfCheck>>() } = from;
  const byToken = index.table.themes.map(() => new Map<number, number[]>());
  const families = new Map<string, Case[]>();
  const faults: CaseFault[] = [];
  const faultsByCase = new Map<number, CaseFault[]>();
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
  const casesOf: CasesOfToken = (theme, token) => byToken[theme]?.get(token) ?? [];
  const familyOf = (one: Case): readonly Case[] => families.get(one.family) ?? [];
  const { reference } = index.table;
  const surfaces = new Map<number, number>();
  /** What is drawn with one paint on an element, though what lies there is painted by something else in another theme. */
  const drawn = new Map<string, number>();
  const drawnOn = ({ role, fore }: Case, ground: number): string => `${role} ${refKey(fore)} ${String(ground)}`;
  /** The same place, where what lies behind it is painted by something else as well. */
  const shown = new Map<string, Case>();
  for (const one of cases) {
    if (one.theme !== reference) continue;
    shown.set(shownAt(one), one);
    if (one.role === 'surface') for (const element of one.elements) surfaces.set(element, one.id);
    else
      for (const ground of one.grounds) {
        const known = cases[drawn.get(drawnOn(one, ground)) ?? -1];
        if (known === undefined || (known.foreFixed && !one.foreFixed)) drawn.set(drawnOn(one, ground), one.id);
      }
  }
  const counterparts = new Map<number, Case | null>();
  const counterpartOf = (one: Case): Case | null => {
    let least = Infinity;
    if (one.role === 'surface') for (const element of one.elements) least = Math.min(least, surfaces.get(element) ?? Infinity);
    const inFamily = familyOf(one).filter((each) => each.theme === reference);
    // Under the shadow of an open menu a text is a case of its own, and not how it looks at rest.
    const found = cases[least] ?? inFamily.find((each) => each.foreFixed === one.foreFixed);
    if (found !== undefined || one.role === 'surface') return found ?? inFamily[0] ?? null;
    for (const ground of one.grounds) least = Math.min(least, drawn.get(drawnOn(one, ground)) ?? Infinity);
    return cases[least] ?? shown.get(shownAt(one)) ?? inFamily[0] ?? null;
  };
  return {
    index,
    cases,
    faults,
    judges,
    level,
    dutiesOf: openDuties([...judges.values()]),
    casesOf,
    reachOf: openReach(index, casesOf),
    familyOf,
    inReference: (one) => {
      let found = counterparts.get(one.id);
      if (found === undefined) counterparts.set(one.id, (found = counterpartOf(one)));
      return found;
    },
    answers,
    now: new Map(),
    faultsOf: (one) => faultsByCase.get(one.id) ?? [],
  };
}

/** Where it is shown as an example, whatever the theme. */
function shownAt({ role, fore, place: { view, sample } }: Case): string {
  return JSON.stringify([role, refKey(fore), view.page, view.state, view.viewport, sample?.key]);
}

function openDuties(judges: readonly Judge[]): (one: Case) => readonly Judge[] {
  const byKind = new Map<Case['facts']['kind'], readonly Judge[]>();
  return ({ facts: { kind }, exempt }) => {
    let found = byKind.get(kind);
    if (found === undefined) byKind.set(kind, (found = judges.filter(({ kinds }) => kinds.includes(kind))));
    return exempt.size === 0 ? found : found.filter(({ id }) => !exempt.has(id));
  };
}

function byCheck(one: readonly [CheckId, unknown], other: readonly [CheckId, unknown]): number {
  return one[0] < other[0] ? -1 : 1;
}
