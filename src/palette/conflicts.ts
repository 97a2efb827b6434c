// Why a requirement cannot be met: an irreducible set of demands (pins, other requirements, rules of ramps) that contradict it. Found by
// letting demands give way until the rest alone is contradictory, then leaving out one after the other (Chinneck, "Feasibility and
// Infeasibility in Optimization", 2008: elastic filter and deletion filter; from memory).
import type { Asked, Stance, Stances } from './build-programme.ts';
import { buildProgramme, demandKey, STILL } from './build-programme.ts';
import type { Solver } from './programme.ts';
import type { Requirement } from './requirements.ts';

export interface Conflict {
  /** Places in the list of steps. */
  readonly pins: readonly number[];
  /** Other pairs, by their keys. */
  readonly requirements: readonly string[];
  /** Names of rules of ramps. */
  readonly rules: readonly string[];
}

/** More demands than this make no explanation. */
const MOST_DEMANDS = 40;

/**
 * @param unmet keys of requirements that cannot be met either: they stand in nobody's way
 * @returns null where no contradiction was found among few demands
 */
export function conflictOf(all: Asked, target: Requirement, unmet: ReadonlySet<string>, solver: Solver): Conflict | null {
  const requirementsAsked = all.requirements.flatMap((each) =>
    each.key === target.key ? [target] : unmet.has(each.key) ? [] : [each],
  );
  const asked = { ...all, requirements: requirementsAsked };
  const firm = new Set<string>();
  for (;;) {
    const given = missed(asked, target, solver, (key) => (firm.has(key) ? 'firm' : { cost: 1 }));
    if (given === null) break;
    const before = firm.size;
    for (const key of given) firm.add(key);
    if (firm.size === before || firm.size > MOST_DEMANDS) return null;
  }
  for (const key of [...firm].sort(pinsLast)) {
    firm.delete(key);
    const isContradictory = missed(asked, target, solver, (each) => (firm.has(each) ? 'firm' : 'dropped')) === null;
    if (!isContradictory) firm.add(key);
  }
  const { movable, requirements, rules } = asked;
  return {
    pins: movable.steps.flatMap((_, at) => (firm.has(demandKey('pin', at)) ? [at] : [])),
    requirements: requirements.flatMap(({ key }) => (firm.has(demandKey('requirement', key)) ? [key] : [])),
    rules: rules.flatMap(({ name }, at) => (firm.has(demandKey('rule', at)) ? [name] : [])),
  };
}

/** A pin is what somebody can take back: it is left out last, so that it stays where either would do. */
function pinsLast(one: string, other: string): number {
  return Number(one.startsWith('pin ')) - Number(other.startsWith('pin '));
}

/** @returns the demands that gave way; null where the firm ones contradict the target */
function missed(asked: Asked, target: Requirement, solver: Solver, stance: (key: string) => Stance): readonly string[] | null {
  const stances: Stances = {
    pin: (at) => stance(demandKey('pin', at)),
    rule: (at) => stance(demandKey('rule', at)),
    requirement: (key) => (key === target.key ? 'firm' : stance(demandKey('requirement', key))),
    isMovementPaid: false,
  };
  const built = buildProgramme(asked, stances);
  const solved = solver(built.programme);
  if (solved.status === 'infeasible') return null;
  if (solved.status === 'gave-up') return [];
  return [...built.missedAt].flatMap(([key, variables]) => (variables.some((at) => (solved.values[at] ?? 0) > STILL) ? [key] : []));
}
