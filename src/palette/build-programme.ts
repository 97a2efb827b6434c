// Requirements and rules of ramps, where things stand now → one programme: the least movement under which they hold.
import { deltaEOk } from '../colour/lightness.ts';
import type { TableIndex } from '../triage/tokens/table-index.ts';
import type { Assignment, Driver } from './assignment.ts';
import { colorAt, LEAST_LOG, logLuminance, MOST_LOG } from './log-luminance.ts';
import type { Alias, Movable } from './movable.ts';
import type { Programme, Constraint, Term, Variable } from './programme.ts';
import type { RampRule } from './ramp-rules.ts';
import type { Requirement } from './requirements.ts';

/** Whether a demand must hold, may be missed at a cost for each unit of logarithm, or is not made at all. */
export type Stance = 'firm' | 'dropped' | { readonly cost: number };

/** How firmly each demand is made. */
export interface Stances {
  readonly pin: (step: number) => Stance;
  /** By place in the list of rules. */
  readonly rule: (at: number) => Stance;
  readonly requirement: (key: string) => Stance;
  /** Whether movement costs anything. */
  readonly isMovementPaid: boolean;
}

/** What it costs to fall short by one unit of logarithm: more than any palette moves in all. */
const UNMET = 1000;

/** The least movement; what cannot be met is missed by as little as can be. */
export const LEAST_MOVEMENT: Stances = {
  pin: () => 'firm',
  rule: () => 'firm',
  requirement: () => ({ cost: UNMET }),
  isMovementPaid: true,
};
/** What pointing an alias elsewhere costs beyond how far its colour moves, in ΔE OK: one just noticeable difference (CSS Color 4 §13.2). */
const REPOINT = 0.02;
/** A place below which nothing moves: a quarter of an 8-bit code (ours). */
export const STILL = 1e-3;
/** Any two logarithms differ by less. */
const APART = MOST_LOG - LEAST_LOG;
/** Steps tried on a side of where an alias points. */
const FARTHEST = 6;

/** Which way an alias would have to go for what fails now: to a lighter step, a darker one, or either. */
export interface Ways {
  readonly lighter: boolean;
  readonly darker: boolean;
}

export interface Asked {
  readonly index: TableIndex;
  readonly movable: Movable;
  readonly assignment: Assignment;
  readonly requirements: readonly Requirement[];
  readonly rules: readonly RampRule[];
  /** Aliases that may be pointed elsewhere, as places in the list, and which way. */
  readonly open: ReadonlyMap<number, Ways>;
}

/** Which variables say what, so that an answer can be read. */
export interface Built {
  readonly programme: Programme;
  /** Place in the list of steps → variable of its logarithm. */
  readonly stepAt: ReadonlyMap<number, number>;
  /** Alias → its choices. */
  readonly choices: ReadonlyMap<number, readonly { readonly target: number; readonly variable: number }[]>;
  /** What was not met, by `demandKey`: the variables that say by how much. */
  readonly missedAt: ReadonlyMap<string, readonly number[]>;
}

export function demandKey(kind: 'pin' | 'rule' | 'requirement', of: number | string): string {
  return `${kind} ${of}`;
}

export function buildProgramme(asked: Asked, stances: Stances): Built {
  const { movable, requirements, rules, open } = asked;
  const variables: Variable[] = [];
  const rows: Constraint[] = [];
  const add = (variable: Variable): number => variables.push(variable) - 1;
  const stepAt = new Map<number, number>();
  const aliasAt = new Map<string, number>();
  const choices = new Map<number, readonly { readonly target: number; readonly variable: number }[]>();
  const missedAt = new Map<string, number[]>();

  /** Terms by which a demand may be missed upwards and downwards; none where it is firm. */
  const slack = (key: string, stance: Stance): { readonly up: readonly Term[]; readonly down: readonly Term[] } => {
    if (typeof stance === 'string') return { up: [], down: [] };
    const [up, down] = [1, 2].map(() => add({ lower: 0, upper: Infinity, cost: stance.cost }));
    if (up === undefined || down === undefined) return { up: [], down: [] };
    missedAt.set(key, [up, down]);
    return { up: [{ variable: up, factor: 1 }], down: [{ variable: down, factor: 1 }] };
  };
  const paid = (cost: number): number => (stances.isMovementPaid ? cost : 0);

  /** The distance from a place, paid for on either side. */
  const addMovable = (from: number, cost: number, pin: { readonly key: string; readonly stance: Stance } | null): number => {
    const stays = pin?.stance === 'firm';
    const log = add({ lower: stays ? from : LEAST_LOG, upper: stays ? from : MOST_LOG, cost: 0 });
    if (stays || pin?.stance === 'dropped') return log;
    const price = typeof pin?.stance === 'object' ? pin.stance.cost : paid(cost);
    const up = add({ lower: 0, upper: APART, cost: price });
    const down = add({ lower: 0, upper: APART, cost: price });
    if (pin !== null) missedAt.set(pin.key, [up, down]);
    const terms = [
      { variable: log, factor: 1 },
      { variable: up, factor: -1 },
      { variable: down, factor: 1 },
    ];
    rows.push({ terms, lower: from, upper: from });
    return log;
  };
  const stepVariable = (at: number): number => {
    let known = stepAt.get(at);
    const step = movable.steps[at];
    if (known === undefined && step !== undefined) {
      const pin = step.isPinned ? { key: demandKey('pin', at), stance: stances.pin(at) } : null;
      known = addMovable(logLuminance(step.start), costOf(step.start), pin);
      stepAt.set(at, known);
    }
    return known ?? 0;
  };
  const aliasVariable = (theme: number, at: number): number => {
    const key = `${theme} ${at}`;
    let known = aliasAt.get(key);
    if (known === undefined) aliasAt.set(key, (known = addAlias(theme, at)));
    return known;
  };
  const addAlias = (theme: number, at: number): number => {
    const alias = movable.aliases[at];
    if (alias === undefined) return 0;
    const log = add({ lower: LEAST_LOG, upper: MOST_LOG, cost: 0 });
    const own = choices.get(at) ?? addChoices(at);
    for (const { target, variable } of own) {
      const step = movable.stepAt(theme, target);
      if (step < 0) {
        rows.push({ terms: [{ variable, factor: 1 }], upper: 0 });
        continue;
      }
      // Where it is chosen, both logarithms are equal.
      const terms = [
        { variable: log, factor: 1 },
        { variable: stepVariable(step), factor: -1 },
      ];
      rows.push({ terms: [...terms, { variable, factor: APART }], upper: APART });
      rows.push({ terms: [...terms, { variable, factor: -APART }], lower: -APART });
    }
    return log;
  };
  const addChoices = (at: number): readonly { readonly target: number; readonly variable: number }[] => {
    const alias = movable.aliases[at];
    if (alias === undefined) return [];
    const made = nearOf(asked, at, alias).map((target) => {
      // How far the steps lie apart; where an alias follows its step, the step has paid.
      const cost = target === alias.target ? 0 : paid(REPOINT + movementOf(movable, alias, target));
      return { target, variable: add({ lower: 0, upper: 1, cost, isChoice: true }) };
    });
    rows.push({ terms: made.map(({ variable }) => ({ variable, factor: 1 })), lower: 1, upper: 1 });
    choices.set(at, made);
    return made;
  };
  const variableOf = (theme: number, driver: Driver): number =>
    driver.kind === 'alias' && open.has(driver.at)
      ? aliasVariable(theme, driver.at)
      : stepVariable(driver.kind === 'alias' ? stepUnder(asked, theme, driver) : driver.at);

  for (const each of requirements) {
    const key = demandKey('requirement', each.key);
    const stance = stances.requirement(each.key);
    if (stance === 'dropped') continue;
    let constant = each.difference;
    const terms: Term[] = [];
    for (const { theme, driver, factor } of each.pulls) {
      const step = stepUnder(asked, theme, driver);
      const now = asked.assignment.steps.get(step) ?? movable.steps[step]?.start;
      if (now === undefined) continue;
      constant -= factor * logLuminance(now);
      terms.push({ variable: variableOf(theme, driver), factor: factor * each.side });
    }
    rows.push({ terms: [...together(terms), ...slack(key, stance).up], lower: each.least + each.spare - each.side * constant });
  }
  // Only ramps of which something is asked.
  const asks = new Set(stepAt.keys());
  const ramps = new Set([...asks].flatMap((at) => rampsOf(asked, at)));
  rules.forEach((rule, at) => {
    const stance = stances.rule(at);
    if (stance === 'dropped' || !rule.terms.some(({ step }) => rampsOf(asked, step).some((ramp) => ramps.has(ramp)))) return;
    const { up, down } = slack(demandKey('rule', at), stance);
    const terms = rule.terms.map(({ step, factor }) => ({ variable: stepVariable(step), factor }));
    const missed = [...up, ...down.map(({ variable }) => ({ variable, factor: -1 }))];
    rows.push({ terms: [...together(terms), ...missed], lower: rule.lower, upper: rule.upper });
  });
  return { programme: { variables, rows }, stepAt, choices, missedAt };
}

/** Ink and ground may hang on one step: solvers take a variable once a row. */
function together(terms: readonly Term[]): readonly Term[] {
  const sums = new Map<number, number>();
  for (const { variable, factor } of terms) sums.set(variable, (sums.get(variable) ?? 0) + factor);
  return [...sums].map(([variable, factor]) => ({ variable, factor }));
}

/** The step that an alias points at as assigned now; of a step itself. */
export function stepUnder({ movable, assignment }: Pick<Asked, 'movable' | 'assignment'>, theme: number, driver: Driver): number {
  if (driver.kind === 'step') return driver.at;
  const target = assignment.aliases.get(driver.at);
  return target === undefined ? driver.step : movable.stepAt(theme, target);
}

function rampsOf({ index, movable }: Asked, at: number): readonly number[] {
  const token = movable.steps[at]?.token;
  const place = token === undefined ? null : index.stepOf(token);
  return place === null ? [] : [place.ramp];
}

/** Where an alias points, and the steps near it on the side where what fails would be mended: the other side makes it worse. */
function nearOf({ movable, open }: Asked, at: number, { candidates, target, themes }: Alias): readonly number[] {
  const here = candidates.indexOf(target);
  const ways = open.get(at) ?? { lighter: true, darker: true };
  const logOf = (theme: number, token: number): number | undefined => {
    const start = movable.steps[movable.stepAt(theme, token)]?.start;
    return start === undefined ? undefined : logLuminance(start);
  };
  const leads = (token: number): boolean =>
    themes.some((theme) => {
      const [from, to] = [logOf(theme, target), logOf(theme, token)];
      return from !== undefined && to !== undefined && (to > from ? ways.lighter : ways.darker);
    });
  return candidates.filter((token, place) => token === target || (Math.abs(place - here) <= FARTHEST && leads(token)));
}

/** ΔE OK between where an alias points and another step, the largest of its themes. */
function movementOf(movable: Movable, alias: Alias, target: number): number {
  const distances = alias.themes.map((theme) => {
    const [from, to] = [alias.target, target].map((token) => movable.steps[movable.stepAt(theme, token)]?.start);
    return from === undefined || to === undefined ? 0 : deltaEOk(from, to);
  });
  return Math.max(0, ...distances);
}

/** ΔE OK per unit of logarithm, near a colour. */
function costOf(start: Parameters<typeof colorAt>[0]): number {
  const from = logLuminance(start);
  const span = 0.25;
  const near = [from - span, from + span].filter((log) => log >= LEAST_LOG && log <= MOST_LOG);
  const costs = near.map((log) => deltaEOk(start, colorAt(start, log)) / span);
  return Math.max(0.02, costs.reduce((sum, cost) => sum + cost, 0) / Math.max(1, costs.length));
}
