// The least change of steps and aliases under which every measured pair reaches its ratio: solved, rounded to 8 bits, measured again on
// all cases, and solved anew around there until the numbers agree.
import type { Color } from '../colour/color.ts';
import { deltaEOk } from '../colour/lightness.ts';
import type { Case } from '../triage/cases/case.ts';
import type { World } from '../triage/world.ts';
import type { Assignment } from './assignment.ts';
import { AS_IT_IS } from './assignment.ts';
import type { Asked, Built, Ways } from './build-programme.ts';
import { buildProgramme, demandKey, LEAST_MOVEMENT, STILL } from './build-programme.ts';
import { colorAt, LEAST_LOG, logLuminance, MOST_LOG } from './log-luminance.ts';
import { inBlocks } from './in-blocks.ts';
import type { Movable } from './movable.ts';
import type { Solver } from './programme.ts';
import { rampRules } from './ramp-rules.ts';
import type { Requirement } from './requirements.ts';
import { requirementsUnder } from './requirements.ts';

const NONE: ReadonlyMap<number, Ways> = new Map();

export interface SolvedPalette {
  readonly assignment: Assignment;
  /** As they stand under the assignment. */
  readonly requirements: readonly Requirement[];
  /** Of these, those that cannot be met. */
  readonly unmet: readonly Requirement[];
  readonly outOfReach: readonly Case[];
  /** What is asked where things stand in the end: where conflicts are looked for. */
  readonly asked: Asked;
  readonly rounds: number;
  /** In the solver's words, where it gave up; what was reached till then stands. */
  readonly gaveUp?: string;
}

/** Tangents are drawn anew this often at most; two or three are usual. */
const MOST_ROUNDS = 24;
/** ΔE OK: half of what is just noticeable (CSS Color 4 §13.2). */
const TRIFLE = 0.01;
const MOST_TRIFLES = 24;
/** Requirements that are tried once more after they were given up. */
const MOST_AGAIN = 8;
/** Room, as a logarithm of the ratio, up to which a pair is asked from the start (ours: a tenth of the ratio). */
const ROOM = 0.1;
/** What rounding to 8 bits takes at most, nearly always: half of what one code is worth near black. */
const SPARE = 0.004;

/** @param others ids of cases that are no matter of the palette: what fails there is left as it is */
export function solvePalette(world: World, movable: Movable, solver: Solver, others: ReadonlySet<number>): SolvedPalette {
  const { index } = world;
  const solveApart = inBlocks(solver);
  const spare = new Map<string, number>();
  let assignment = AS_IT_IS;
  let under = requirementsUnder({ world, movable, assignment, others }, spare);
  const open = openAliases(under.requirements);
  /** What fails now and cannot be met with the rest: it is asked only not to become worse, and pulls at nothing. */
  const givenUp = new Map<string, number>();
  const atFirst = new Map(under.requirements.map((each) => [each.key, each.side * each.difference]));
  /** What fails or nearly does, and what ever did: the rest has room, and is asked once an answer takes that away. */
  const near = new Set<string>();
  const takeIn = (): void => {
    for (const each of under.requirements) if (shortBy(each) > -ROOM) near.add(each.key);
  };
  takeIn();
  // What no choice reaches need not be searched for.
  const hopeless = new Set(under.requirements.flatMap((each) => (isHopeless(each, movable) ? [each.key] : [])));
  for (const key of hopeless) givenUp.set(key, atFirst.get(key) ?? 0);
  const withGivenUp = (each: Requirement): Requirement => {
    const least = givenUp.get(each.key);
    return least === undefined ? each : { ...each, least, spare: 0 };
  };
  /** @param choices `kept`: aliases point where they were last pointed; what is left is linear, and told many times quicker */
  const ask = (choices: 'open' | 'kept'): Asked => ({
    index,
    movable,
    assignment,
    open: choices === 'open' ? open : NONE,
    requirements: under.requirements.filter(({ key }) => near.has(key)).map(withGivenUp),
    rules: rampRules({ index, movable, assignment }),
  });
  let gaveUp: string | undefined;
  let rounds = 0;
  const solve = (choices: 'open' | 'kept'): (Answer & { readonly short: readonly Requirement[] }) | null => {
    const asked = ask(choices);
    const built = buildProgramme(asked, LEAST_MOVEMENT);
    const solved = solveApart(built.programme);
    if (solved.status !== 'solved') {
      if (choices === 'kept') return null;
      gaveUp = solved.status === 'gave-up' ? solved.why : 'the rules of the ramps and the pins contradict each other';
      return null;
    }
    const { values } = solved;
    const short = asked.requirements.filter(
      ({ key, least }) =>
        !givenUp.has(key) &&
        (atFirst.get(key) ?? 0) < least &&
        (built.missedAt.get(demandKey('requirement', key)) ?? []).some((variable) => (values[variable] ?? 0) > STILL),
    );
    return { built, values, short };
  };
  /** One answer in which nothing is short but what was given up. */
  const answer = (): Answer | null => {
    const same = rounds > 1 ? solve('kept') : null;
    if (same?.short.length === 0) return same;
    for (;;) {
      const found = solve('open');
      if (found === null || found.short.length === 0) return found;
      for (const { key } of found.short) givenUp.set(key, atFirst.get(key) ?? 0);
    }
  };
  const isOpen = (each: Requirement): boolean => isMissed(each) && !givenUp.has(each.key);
  const settle = (): boolean => {
    while (rounds < MOST_ROUNDS && under.requirements.some(isOpen)) {
      rounds += 1;
      const found = answer();
      if (found === null) return false;
      assignment = assignmentFrom(movable, found, assignment);
      under = requirementsUnder({ world, movable, assignment, others }, spare);
      for (const each of under.requirements) {
        // Of what was asked, rounding took something away.
        if (isOpen(each) && near.has(each.key)) spare.set(each.key, each.spare + shortBy(each) + SPARE);
      }
      takeIn();
    }
    return true;
  };
  settle();
  // Several that contradict each other were given up together: what can be had without the rest is taken back, the most findings first.
  const again = under.requirements
    .filter(({ key }) => givenUp.has(key) && !hopeless.has(key))
    .toSorted((one, other) => placesOf(other) - placesOf(one));
  for (const { key } of again.slice(0, MOST_AGAIN)) {
    const least = givenUp.get(key) ?? 0;
    givenUp.delete(key);
    const isMet = (choices: 'open' | 'kept'): boolean => solve(choices)?.short.length === 0;
    if (!isMet('kept') && !isMet('open')) givenUp.set(key, least);
    else settle();
  }
  const kept = withoutTrifles({ world, movable, others, assignment }, under.requirements.filter(isMissed).length);
  if (kept !== assignment) {
    assignment = kept;
    under = requirementsUnder({ world, movable, assignment, others }, spare);
  }
  const { requirements, outOfReach } = under;
  return {
    assignment,
    requirements,
    unmet: requirements.filter(isMissed),
    outOfReach,
    // What is no matter to the answer may still stand in the way of what is missing.
    asked: { ...ask('open'), requirements: requirements.map(withGivenUp) },
    rounds,
    ...(gaveUp === undefined ? {} : { gaveUp }),
  };
}

function placesOf({ cases }: Requirement): number {
  return cases.reduce((sum, { samples }) => sum + samples, 0);
}

interface Answer {
  readonly built: Built;
  readonly values: readonly number[];
}

/** A step that hardly moves, and without which all holds as well, was moved by a tangent only. */
function withoutTrifles(setting: Parameters<typeof requirementsUnder>[0], missed: number): Assignment {
  const { movable, assignment } = setting;
  let kept = assignment;
  const trifles = [...assignment.steps]
    .map(([at, color]) => ({ at, moved: deltaEOk(movable.steps[at]?.start ?? color, color) }))
    .filter(({ moved }) => moved < TRIFLE)
    .sort((one, other) => one.moved - other.moved);
  for (const { at } of trifles.slice(0, MOST_TRIFLES)) {
    const steps = new Map(kept.steps);
    steps.delete(at);
    const tried = { ...kept, steps };
    const { requirements } = requirementsUnder({ ...setting, assignment: tried }, new Map());
    if (requirements.filter(isMissed).length <= missed) kept = tried;
  }
  return kept;
}

/**
 * Even if all that pulls at it went as far as it can, without regard to anything else. Told of opaque colours only: what is asked of others
 * is a tangent, and may be had after all.
 */
function isHopeless(each: Requirement, { steps }: Movable): boolean {
  const { side, pulls } = each;
  if (!isMissed(each) || pulls.some(({ factor }) => Math.abs(factor) !== 1)) return false;
  const gains = pulls.map(({ driver, factor }) => {
    const step = steps[driver.kind === 'step' ? driver.at : driver.step];
    if (step === undefined || (driver.kind === 'step' && step.isPinned)) return 0;
    const isUp = side * factor > 0;
    return isUp ? MOST_LOG - logLuminance(step.start) : logLuminance(step.start) - LEAST_LOG;
  });
  return shortBy(each) > gains.reduce((sum, gain) => sum + gain, 0);
}

export function isMissed(each: Requirement): boolean {
  return shortBy(each) > 0;
}

/** On the scale of logarithms; negative where there is room. */
export function shortBy({ side, difference, least }: Requirement): number {
  return least - side * difference;
}

/** Aliases of tokens that paint what fails, and the way that would mend it. Those of what passes stay. */
function openAliases(requirements: readonly Requirement[]): ReadonlyMap<number, Ways> {
  const open = new Map<number, Ways>();
  for (const { side, pulls } of requirements.filter(isMissed)) {
    for (const { driver, factor } of pulls) {
      if (driver.kind !== 'alias') continue;
      const known = open.get(driver.at);
      const isUp = side * factor > 0;
      open.set(driver.at, { lighter: isUp || known?.lighter === true, darker: !isUp || known?.darker === true });
    }
  }
  return open;
}

function assignmentFrom(movable: Movable, { built, values }: Answer, before: Assignment): Assignment {
  const steps = new Map<number, Color>();
  for (const [at, variable] of built.stepAt) {
    const step = movable.steps[at];
    const log = values[variable];
    if (step === undefined || log === undefined || step.isPinned) continue;
    if (Math.abs(log - logLuminance(step.start)) <= STILL) continue;
    steps.set(at, colorAt(step.start, log));
  }
  const aliases = new Map(before.aliases);
  for (const [at, choices] of built.choices) {
    const chosen = choices.find(({ variable }) => (values[variable] ?? 0) > 0.5);
    if (chosen === undefined) continue;
    if (chosen.target === movable.aliases[at]?.target) aliases.delete(at);
    else aliases.set(at, chosen.target);
  }
  return { steps, aliases };
}
